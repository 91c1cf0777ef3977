package galley

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"bindpost/site/browser"
)

// tab is one open page of a galley.
type tab struct {
	context.Context
	t     *testing.T
	leave context.CancelFunc

	lock     sync.Mutex
	troubles []string
}

func openTab(t *testing.T, program context.Context, address string) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(program)
	t.Cleanup(cancel)
	b := &tab{Context: ctx, t: t, leave: cancel}
	must(t, chromedp.Listen(ctx, b.hear))
	call(t, ctx, log.Enable, cdp.Empty{})
	waiting, done := context.WithTimeout(ctx, guard) // a tab with one connection too many never loads
	defer done()
	browser.Visit(t, waiting, address)
	return b
}

// hear notes whatever goes wrong on a page, beyond that a page is not there yet.
func (b *tab) hear(event any) {
	b.lock.Lock()
	defer b.lock.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		b.troubles = append(b.troubles, fmt.Sprintf("console: %s", e.Type))
	case *runtime.EventExceptionThrown:
		b.troubles = append(b.troubles, "exception: "+e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		if !strings.Contains(e.Entry.Text, "404") && !strings.Contains(e.Entry.Text, "ERR_CONNECTION_REFUSED") {
			b.troubles = append(b.troubles, "browser: "+e.Entry.Text)
		}
	}
}

func call[P, R any](t *testing.T, ctx context.Context, cmd cdp.Command[P, R], params P) R {
	t.Helper()
	r, err := chromedp.Call(ctx, cmd, params)
	must(t, err)
	return r
}

// until waits until a page answers as wanted. It may be opened anew meanwhile, and
// then has no answer.
func (b *tab) until(expression, want string) {
	b.t.Helper()
	last := ""
	for deadline := time.Now().Add(guard); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
		got, err := chromedp.Run(b, chromedp.Evaluate[string]("String("+expression+")"))
		if last = got; err != nil {
			last = err.Error()
		} else if got == want {
			return
		}
	}
	b.t.Fatalf("%s stays %q, and %q was wanted", expression, last, want)
}

const (
	shownPress = `document.querySelector("script[data-press]").dataset.press`
	slipSays   = `document.querySelector(".slip [role=status]")?.textContent`
)

// Nine tabs of one browser all load, although it allows six connections to one
// place, and all of them follow: from press to press, to the slip and back, when
// the one that hears is closed, and to the end.
func TestNineTabsInTheBrowser(t *testing.T) {
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	program := browser.OpenServed(t)
	paths := []string{"", "lost.html", "?writing", "rooms/far.html", "lost.html", "a-to-z.html", "overview.html", "shelf.html", "rooms/upstairs/attic.html"}
	var tabs []*tab
	for _, p := range paths {
		tabs = append(tabs, openTab(t, program, o.Address()+p))
	}
	follow := func(p Pressing) {
		t.Helper()
		for _, b := range tabs {
			b.until(shownPress, fmt.Sprint(p.Number))
			b.until("document.readyState", "complete")
		}
		o.listening(1) // for all; while it is opened anew there may be none, or two
	}
	follow(Pressing{Number: 1})
	// A page that is none of the galley's own hears what the tabs tell one another.
	witness := openTab(t, program, o.Address()+".style.css")
	browser.Ask[string](t, witness, `window.told = ""; new BroadcastChannel("galley").onmessage = e => { told += e.data.closed ? " closed" : "" }; told`)
	lost, along := tabs[1], tabs[2]
	call(t, lost.Context, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: 800, Height: 300, DeviceScaleFactor: 1})
	browser.Ask[string](t, lost, "scrollTo(0, 250); String(scrollY)")
	follow(o.write("lost.md", lossGuide("L1", "lost", 21)))
	lost.until("document.body.textContent.includes('21')", "true")
	lost.until("scrollY", "250")
	along.until("location.pathname", "/lost.html")

	follow(o.write("rooms/far.md", strings.Replace(copyFiles()["rooms/far.md"], "load: 8 ohm", "load: 8 m", 1)))
	for _, b := range tabs {
		b.until(slipSays, "1 fault stops the press. The pages are those of the last good press.")
		b.until(`document.title.startsWith("Errata slip · ")`, "true")
		b.until(`document.querySelector("aside.slip").getBoundingClientRect().top >= 0`, "true") // also on the page that was moved
	}
	along.until("location.pathname", "/rooms/far.html")
	follow(o.write("rooms/far.md", copyFiles()["rooms/far.md"]))
	for _, b := range tabs {
		b.until(`document.querySelector(".slip")`, "null")
	}

	// Numbers of a reader's own stay as they were typed.
	const field = `document.querySelector("main input[id$=run]")`
	browser.Ask[string](t, lost, field+`.value = "20 ft"`)
	follow(o.write("rooms/far.md", copyFiles()["rooms/far.md"]+"\nOne more.\n"))
	lost.until(field+"?.value", "20 ft")

	witness.until("told", "")

	// None tells that the galley is closed where the one that hears goes to
	// another page, by itself or at a reader's word.
	for _, b := range tabs {
		browser.Visit(t, b, o.Address()+"overview.html")
	}
	follow(o.write("rooms/far.md", copyFiles()["rooms/far.md"]+"\nTwo more.\n"))
	witness.until("told", "")

	for _, b := range tabs[:4] { // whichever hears may be among them
		b.leave()
	}
	tabs = tabs[4:]
	follow(o.write("lost.md", lossGuide("L1", "lost", 12)))
	low := tabs[len(tabs)-1]
	browser.Visit(t, low, o.Address()+"lost.html")
	browser.Ask[string](t, low, "scrollTo(0, 200); String(scrollY)")
	o.close()
	for _, b := range tabs {
		b.until(`document.querySelector("p.slip")?.textContent`, "The galley is closed: this page does not follow its guide any more. Start bindpost galley again, and open the address that it prints.")
		b.until(`document.querySelector("p.slip").getBoundingClientRect().top >= 0`, "true")
		b.lock.Lock()
		if len(b.troubles) > 0 {
			t.Errorf("troubles: %v", b.troubles)
		}
		b.lock.Unlock()
	}
	low.until("scrollY >= 200", "true") // the words below may keep their place
	witness.until("told.includes('closed')", "true")
}

// longFault is a guide with a stop far to the right of a long line, and another in
// a short one.
var longFault = strings.Replace(lossGuide("L1", "lost", 12), "load: 8 ohm", "load: 8 m", 1) +
	"\n" + strings.Repeat("It is said to be so, and so on; ", 4) + "see [the other](none.md).\n"

// The slip fits a narrow screen, shows its marks, and holds for those who listen.
func TestSlipInTheBrowser(t *testing.T) {
	o := opening(t, filepath.Join(t.TempDir(), "copy"), copyFiles())
	o.write("lost.md", longFault)
	b := openTab(t, browser.OpenServed(t), o.Address()+"rooms/far.html")
	for _, width := range []int64{320, 1280} {
		must(t, chromedp.Do(b, chromedp.EmulateViewport(width, 900)))
		browser.Visit(t, b, o.Address()+"rooms/far.html")
		for asked, want := range map[string]string{
			"document.documentElement.scrollWidth <= innerWidth": "true",
			// each mark stands below its place: both lines begin at the same edge, in letters of one width
			`[...document.querySelectorAll(".slip pre")].every(p => getComputedStyle(p).whiteSpace === "pre" && getComputedStyle(p).fontFamily.includes("mono"))`: "true",
			`document.querySelectorAll(".slip pre").length`: "2",
			// and is in view
			`[...document.querySelectorAll(".slip .caret")].every(c => {
				const box = c.parentElement.getBoundingClientRect(), r = document.createRange(), at = c.textContent.indexOf("^")
				r.setStart(c.firstChild, at); r.setEnd(c.firstChild, at + 1)
				const mark = r.getBoundingClientRect()
				return mark.left >= box.left && mark.right <= box.right + 1
			})`: "true",
		} {
			b.until(asked, want)
		}
	}
	b.until(slipSays, Count(o.proof.Load().faults)+" The pages are those of the last good press.") // said once more
	engine, err := os.ReadFile("../../.tools/node_modules/axe-core/axe.min.js")
	if err != nil {
		t.Fatalf("the accessibility engine (npm package axe-core) is missing: %v", err)
	}
	for _, address := range []string{"rooms/far.html", "gone.html"} {
		browser.Visit(t, b, o.Address()+address)
		if _, err := chromedp.Run(b, chromedp.Evaluate[any](string(engine)+"; null")); err != nil && err != chromedp.ErrJSNull {
			t.Fatal(err)
		}
		for _, violation := range browser.Ask[[]string](t, b, "axe.run().then(r => r.violations.map(v => v.id + ': ' + v.help + ' at ' + v.nodes.map(n => n.target.join(' ')).join(', ')))") {
			t.Errorf("%s: %s", address, violation)
		}
	}
}
