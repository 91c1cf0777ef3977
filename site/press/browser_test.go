package press_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/browser"
	"bindpost/site/press"
	"bindpost/templates"
)

// reader is a browser with no network, in which a manual is opened from its
// folder as a reader would.
type reader struct {
	browser context.Context
	folder  string
}

// with returns the reader with another manual, pressed of a copy.
func (r *reader) with(t *testing.T, copied fs.FS) *reader {
	t.Helper()
	other := &reader{browser: r.browser, folder: filepath.Join(t.TempDir(), "manual")}
	_, faults, err := press.Press(press.Order{
		Copy: copied, Into: other.folder, Library: trade.Library(), Templates: templates.Files, Program: "test",
	})
	if err != nil || faults.Len() > 0 {
		t.Fatalf("the copy does not press silently: %v\n%v", err, faults)
	}
	return other
}

// demonstration is the folder of the demonstration's manual, pressed once for
// all tests that only read in it.
var demonstration = sync.OnceValues(func() (string, error) {
	folder, err := os.MkdirTemp("", "bindpost-demonstration-*")
	if err != nil {
		return "", err
	}
	pressedInto = folder
	into := filepath.Join(folder, "manual")
	_, faults, err := press.Press(press.Order{
		Copy: content.Files, Into: into, Library: trade.Library(), Templates: templates.Files, Program: "test",
	})
	if err == nil && faults.Len() > 0 {
		err = errors.New(faults.String())
	}
	return into, err
})

// pressedInto is the folder that demonstration made, "" where no test asked for it.
var pressedInto string

// TestMain takes the demonstration's manual away again.
func TestMain(m *testing.M) {
	code := m.Run()
	if pressedInto != "" {
		os.RemoveAll(pressedInto)
	}
	os.Exit(code)
}

// withDemonstration returns the reader with the demonstration's manual.
func (r *reader) withDemonstration(t *testing.T) *reader {
	t.Helper()
	folder, err := demonstration()
	must(t, err)
	return &reader{browser: r.browser, folder: folder}
}

// open starts the browser.
func open(t testing.TB) *reader {
	t.Helper()
	return &reader{browser: browser.Open(t)}
}

// pages returns the pages of the manual, by their paths in it.
func (r *reader) pages(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(r.folder, "*.html"))
	if err != nil || len(paths) < 2 {
		t.Fatalf("%d pages: %v", len(paths), err)
	}
	for i, p := range paths {
		paths[i] = filepath.Base(p)
	}
	return paths
}

// tab is one open page, with everything that went wrong on it.
type tab struct {
	context.Context
	t *testing.T

	lock     sync.Mutex
	requests []string
	troubles []string
}

// tab opens a page of the manual in a tab of its own.
func (r *reader) tab(t *testing.T, path string) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(r.browser)
	t.Cleanup(cancel)
	b := &tab{Context: ctx, t: t}
	must(t, chromedp.Listen(ctx, b.hear))
	call(t, ctx, network.Enable, network.EnableParams{})
	call(t, ctx, log.Enable, cdp.Empty{})
	b.visit(r.address(path))
	return b
}

func (r *reader) address(path string) string {
	return (&url.URL{Scheme: "file", Path: filepath.Join(r.folder, path)}).String()
}

func (b *tab) visit(address string) {
	b.t.Helper()
	must(b.t, chromedp.Do(b, chromedp.Navigate(address)))
}

// turnedTo returns the tab with another page in it, as a screen of the usual kind
// shows it, and with nothing noted of those before.
func (b *tab) turnedTo(t *testing.T, address string) *tab {
	t.Helper()
	b.t = t
	b.show(screen{1280, 100, light})
	b.visit("about:blank")
	b.lock.Lock()
	b.requests, b.troubles = nil, nil
	b.lock.Unlock()
	b.visit(address)
	return b
}

// heard returns what was noted so far. Nothing may be asked of the page while
// the lock is held: the answer would wait for the events before it.
func (b *tab) heard() (requests, troubles []string) {
	b.lock.Lock()
	defer b.lock.Unlock()
	return slices.Clone(b.requests), slices.Clone(b.troubles)
}

// hear notes requests, console messages, exceptions and what the browser
// itself reports, violations of the content security policy among it.
func (b *tab) hear(event any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		b.troubles = append(b.troubles, fmt.Sprintf("console: %s", e.Type))
	case *runtime.EventExceptionThrown:
		b.troubles = append(b.troubles, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		b.troubles = append(b.troubles, "browser: "+e.Entry.Text)
	}
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func call[P, R any](t *testing.T, ctx context.Context, cmd cdp.Command[P, R], params P) R {
	t.Helper()
	r, err := chromedp.Call(ctx, cmd, params)
	must(t, err)
	return r
}

// js asks the page something.
func js[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	must(b.t, err)
	return v
}

// tools is where the checkers lie that are installed beside the repository.
const tools = "../../.tools/node_modules"

func unquoted(v *accessibility.Value) string {
	var s string
	if json.Unmarshal(v.Value, &s) != nil {
		return string(v.Value)
	}
	return s
}
