package galley

import (
	"context"
	"fmt"
	"html"
	"io"
	"net/http"
	"os"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
)

// opened is a galley at work, and what was told of its presses.
type opened struct {
	*Galley
	t        testing.TB
	root     string
	pressing chan Pressing
	close    func()
}

// opening opens a galley on a folder and lets it work until the test ends.
func opening(t testing.TB, root string, files map[string]string) *opened {
	t.Helper()
	trade.Library() // is read once, and not by the first press
	must(t, lay(root, files))
	o := &opened{t: t, root: root, pressing: make(chan Pressing, 10000)}
	g, err := Open(orderOf(root), func(p Pressing) { o.pressing <- p })
	must(t, err)
	o.Galley = g
	o.run()
	return o
}

// run lets a galley work, and sees when the test ends that it ends cleanly.
func (o *opened) run() {
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- o.Run(ctx) }()
	o.close = sync.OnceFunc(func() {
		cancel()
		select {
		case err := <-ended:
			if err != nil {
				o.t.Error(err)
			}
		case <-time.After(guard):
			o.t.Error("the galley does not end")
		}
	})
	o.t.Cleanup(o.close)
}

// next waits for the next press.
func (o *opened) next() Pressing {
	o.t.Helper()
	select {
	case p := <-o.pressing:
		return p
	case <-time.After(guard):
		o.t.Fatal("nothing is pressed any more")
		return Pressing{}
	}
}

// write writes one file of the copy and waits until it is pressed.
func (o *opened) write(name, text string) Pressing {
	o.t.Helper()
	before := o.proof.Load().number
	must(o.t, lay(o.root, map[string]string{name: text}))
	for {
		if p := o.next(); p.Number > before {
			return p
		}
	}
}

// got is an answer of the galley.
type got struct {
	*http.Response
	body string
}

func (o *opened) get(path string) got {
	o.t.Helper()
	return o.ask(http.MethodGet, path, nil)
}

func (o *opened) ask(method, path string, set func(*http.Request)) got {
	o.t.Helper()
	r, err := http.NewRequest(method, strings.TrimSuffix(o.Address(), "/")+path, nil)
	must(o.t, err)
	if set != nil {
		set(r)
	}
	answer, err := noFollowing.Do(r)
	must(o.t, err)
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	must(o.t, err)
	return got{answer, string(body)}
}

// noFollowing shows where it is sent, and does not go there.
var noFollowing = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

var (
	slipMark = regexp.MustCompile(`(?s)<aside class="slip".*?</aside>\n`)
	headMark = regexp.MustCompile(`<link rel="stylesheet" href="/\.galley\.css">\n<script src="/\.galley\.js" data-press="(\d+)" data-page="[^"]*" defer></script>\n`)
	tags     = regexp.MustCompile(`<[^>]*>`)
)

// apart parts a page as the galley shows it into the page of the manual and what
// stands on the slip, without its own sentence; "" where it has none.
func apart(page string) (manual, faults string) {
	s := slipMark.FindString(page)
	page = strings.Replace(page, s, "", 1)
	page = headMark.ReplaceAllString(page, "")
	page = strings.Replace(page, "default-src 'none'; connect-src 'self';", "default-src 'none';", 1)
	_, list, _ := strings.Cut(s, "<ul>")
	return page, plain(tags.ReplaceAllString(list, ""))
}

// plain returns the lines of a text as a reader sees them, without what indents
// them, so that a slip and a terminal can be compared.
func plain(text string) string {
	var lines []string
	for line := range strings.Lines(html.UnescapeString(text)) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

// quoted is what a slip says of faults.
func quoted(faults *fault.List) string {
	all := gravestFirst(faults)
	var told []string
	for _, f := range all[:min(len(all), mostFaults)] {
		told = append(told, f.Error())
	}
	if more := len(all) - len(told); more > 0 {
		told = append(told, fmt.Sprintf("… and %d more.", more))
	}
	return plain(strings.Join(told, "\n"))
}

func TestMain(m *testing.M) {
	noFollowing.Transport = &http.Transport{MaxIdleConnsPerHost: 4, IdleConnTimeout: time.Minute}
	os.Exit(m.Run())
}
