package press_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"bindpost/calc/trade"
	"bindpost/content"
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

// open starts the browser.
func open(t *testing.T) *reader {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-background-networking", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"), chromedp.Flag("proxy-server", "http://127.0.0.1:9"),
	)
	allocator, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	browser, stop := chromedp.NewContext(allocator)
	t.Cleanup(stop)
	if err := chromedp.Do(browser, chromedp.Navigate("about:blank")); err != nil {
		t.Fatalf("chromium (Debian package chromium) does not start: %v", err)
	}
	return &reader{browser: browser}
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

func must(t *testing.T, err error) {
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

// TestInTheBrowser opens every page of the demonstration, and of a copy that
// has what the demonstration lacks, as a reader would.
func TestInTheBrowser(t *testing.T) {
	browser := open(t)
	t.Run("the demonstration", func(t *testing.T) {
		r := browser.with(t, content.Files)
		r.holds(t, ofEachKind...)
		t.Run("a cell tells its row, column and unit", r.cellTells)
		t.Run("a table that decides shows its answers", r.answersShow)
		t.Run("prints on both papers", r.prints)
		t.Run("keeps the paper of its imprint", func(t *testing.T) { r.keepsPaper(t, "speaker-wire.html", "(A4)") })
		t.Run("a violation would be noticed", r.wouldNotice)
	})
	t.Run("every shape", func(t *testing.T) {
		r := browser.with(t, os.DirFS("testdata/shapes"))
		r.holds(t)
		t.Run("charts can be read", r.chartsRead)
		t.Run("a wide table moves and says so", r.wideMoves)
		t.Run("ten cells tell where they stand, in words", r.tenCellsTell)
		t.Run("a long table is printed with its heads on each side", r.breaksWell)
		t.Run("keeps the paper of its imprint", func(t *testing.T) { r.keepsPaper(t, "shapes.html", "(letter)") })
	})
}

// ofEachKind are pages of the demonstration of which each shows what others do
// not: lists, a chart, a table that decides, typed blocks, a drawing. What takes
// seconds a page is tried on these, and on all where BINDPOST_PAGES is "all".
var ofEachKind = []string{
	"index.html", "tables.html", "references.html", "cautions.html",
	"speaker-wire.html", "record-player.html", "writing-a-guide.html", "two-pairs.html",
}

// holds tries what holds for every page of every manual; what takes long on
// those pages only that are named, unless none is.
func (r *reader) holds(t *testing.T, long ...string) {
	for _, path := range r.pages(t) {
		t.Run(path, func(t *testing.T) {
			b := r.tab(t, path)
			t.Run("keeps to its folder", func(t *testing.T) { r.keepsToItsFolder(t, b) })
			t.Run("links lead somewhere", func(t *testing.T) { r.linksLead(t, b, path) })
			t.Run("fits a narrow screen", func(t *testing.T) { fitsNarrow(t, b) })
			if len(long) > 0 && !slices.Contains(long, path) && os.Getenv("BINDPOST_PAGES") != "all" {
				return
			}
			t.Run("reads without scripts", func(t *testing.T) { r.readsWithoutScripts(t, path) })
			t.Run("is accessible", func(t *testing.T) { r.isAccessible(t, path) })
		})
	}
	t.Run("is valid", r.isValid)
}

func (r *reader) keepsToItsFolder(t *testing.T, b *tab) {
	time.Sleep(100 * time.Millisecond) // whatever starts late has started then
	requests, troubles := b.heard()
	for _, trouble := range troubles {
		t.Error(trouble)
	}
	home := "file://" + r.folder + "/"
	if !slices.Contains(requests, home+"style.css") {
		t.Errorf("the style sheet was not asked for: %q", requests)
	}
	for _, request := range requests {
		if !strings.HasPrefix(request, home) && request != "about:blank" {
			t.Errorf("the page asks for %s, outside its folder", request)
		}
	}
	if js[string](b, "getComputedStyle(document.body).fontFamily") == "" || js[bool](b, "document.styleSheets.length !== 1") {
		t.Error("the style sheet does not hold")
	}
}

func (r *reader) readsWithoutScripts(t *testing.T, path string) {
	const text = "document.body.innerText"
	with := js[string](r.tab(t, path), text)
	b := r.tab(t, "index.html")
	call(t, b.Context, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.visit(r.address(path))
	without := js[string](b, text)
	for range 50 { // the line that a table goes on sideways comes with a later frame
		if without == with {
			break
		}
		time.Sleep(100 * time.Millisecond)
		with, without = js[string](r.tab(t, path), text), js[string](b, text)
	}
	if without != with || len(with) < 50 {
		t.Errorf("without scripts the page reads\n%s\nand with them\n%s", without, with)
	}
}

func fitsNarrow(t *testing.T, b *tab) {
	for _, width := range []int64{320, 400, 768, 1280} {
		must(t, chromedp.Do(b, chromedp.EmulateViewport(width, 800)))
		if wide := js[int64](b, "document.documentElement.scrollWidth"); wide > width {
			t.Errorf("on a screen of %d the page is %d wide", width, wide)
		}
	}
}

func (r *reader) linksLead(t *testing.T, b *tab, path string) {
	for _, link := range js[[]string](b, "Array.from(document.links, a => a.getAttribute('href'))") {
		file, fragment, _ := strings.Cut(link, "#")
		if file == "" {
			file = path
		}
		data, err := os.ReadFile(filepath.Join(r.folder, file))
		if err != nil {
			t.Errorf("the link %q leads nowhere", link)
		} else if fragment != "" && !strings.Contains(string(data), `id="`+fragment+`"`) {
			t.Errorf("the link %q leads to no place on its page", link)
		}
	}
}

// tools is where the checkers lie that are installed beside the repository.
const tools = "../../.tools/node_modules"

func (r *reader) isAccessible(t *testing.T, path string) {
	engine, err := os.ReadFile(filepath.Join(tools, "axe-core/axe.min.js"))
	if err != nil {
		t.Fatalf("the accessibility engine (npm package axe-core) is missing: %v", err)
	}
	b := r.tab(t, path)
	_, err = chromedp.Run(b, chromedp.Evaluate[any](string(engine)+"; null"))
	if err != nil && err != chromedp.ErrJSNull {
		t.Fatal(err)
	}
	for _, violation := range js[[]string](b,
		"axe.run().then(r => r.violations.map(v => v.id + ': ' + v.help + ' at ' + v.nodes.map(n => n.target.join(' ')).join(', ')))") {
		t.Error(violation)
	}
}

// cellTells sees what a screen reader is given for one cell of a table.
func (r *reader) cellTells(t *testing.T) {
	b := r.tab(t, "speaker-wire.html")
	tree := call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	var heads, cells []string
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil || n.Name == nil {
			continue
		}
		switch role, name := unquoted(n.Role), strings.Join(strings.Fields(unquoted(n.Name)), " "); role {
		case "rowheader", "columnheader":
			heads = append(heads, name)
		case "cell", "gridcell":
			cells = append(cells, name)
		}
	}
	for _, want := range []string{"16 gauge", "Run 9 metres"} {
		if !slices.Contains(heads, want) {
			t.Errorf("no head says %q: %q", want, heads)
		}
	}
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.HasPrefix(c, "0.26 decibels") }) {
		t.Errorf("no cell says 0.26 decibels: %q", cells)
	}
}

// answersShow sees that a wide screen cuts no answer of a table that decides off.
func (r *reader) answersShow(t *testing.T) {
	b := r.tab(t, "record-player.html")
	must(t, chromedp.Do(b, chromedp.EmulateViewport(1280, 800)))
	const table = `document.querySelector(".decision")`
	if wide := js[bool](b, table+".scrollWidth > "+table+".clientWidth"); wide {
		t.Error("on a screen of 1280 the table is wider than its place")
	}
}

// wideMoves opens a table of many columns on a small screen: the page stays,
// the table moves in its own region, which the keyboard reaches, and says that
// more columns stand beyond the edge; on a wide screen it does not.
func (r *reader) wideMoves(t *testing.T) {
	b := r.tab(t, "shapes.html")
	for _, screen := range []struct {
		table string
		width int64
		wide  bool
	}{{"S2-T1", 1280, false}, {"S2-T2", 320, true}} {
		region := `document.getElementById("` + screen.table + `")`
		must(t, chromedp.Do(b, chromedp.EmulateViewport(screen.width, 800)))
		time.Sleep(100 * time.Millisecond) // the style waits for the next frame
		if wide := js[bool](b, region+".scrollWidth > "+region+".clientWidth"); wide != screen.wide {
			t.Errorf("on a screen of %d, %s is wider than its place: %v", screen.width, screen.table, wide)
		}
		if said := js[bool](b, region+`.querySelector(".more").checkVisibility()`); said != screen.wide {
			t.Errorf("on a screen of %d, %s says that it goes on: %v", screen.width, screen.table, said)
		}
	}
	if reached := js[bool](b, `document.getElementById("S2-T2").focus(), document.activeElement.id === "S2-T2"`); !reached {
		t.Error("the keyboard does not reach the table")
	}
}

func unquoted(v *accessibility.Value) string {
	var s string
	if json.Unmarshal(v.Value, &s) != nil {
		return string(v.Value)
	}
	return s
}

// prints sees that both papers carry the strip on every side and lose nothing.
func (r *reader) prints(t *testing.T) {
	for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
		sides := r.sides(t, "speaker-wire.html", func(p *page.PrintToPDFParams) { p.PaperWidth, p.PaperHeight = size[0], size[1] })
		for i, side := range sides {
			strip := fmt.Sprintf("Side %d of %d", i+1, len(sides))
			if !strings.Contains(side, strip) || !strings.Contains(side, "W1") {
				t.Errorf("%s, side %d has no strip:\n%s", paper, i+1, side)
			}
		}
		for _, want := range []string{"WARNING", "CAUTION", "0.26", "too thin", "Does not cover", "Run"} {
			if !strings.Contains(strings.Join(sides, ""), want) {
				t.Errorf("%s: %q is not on paper", paper, want)
			}
		}
	}
}

// pdf prints a page.
func (r *reader) pdf(t *testing.T, path string, set chromedp.PDFOption) []byte {
	t.Helper()
	pdf, err := chromedp.Run(r.tab(t, path), chromedp.PrintToPDF(set))
	must(t, err)
	return pdf
}

// sides prints a page and returns the text of each side.
func (r *reader) sides(t *testing.T, path string, set chromedp.PDFOption) []string {
	t.Helper()
	out := poppler(t, r.pdf(t, path, set), "pdftotext", "-layout", "-", "-")
	return strings.Split(strings.TrimSuffix(out, "\f"), "\f")
}

// poppler hands a print to a tool of Debian's package poppler-utils.
func poppler(t *testing.T, pdf []byte, tool string, arguments ...string) string {
	t.Helper()
	cmd := exec.Command(tool, arguments...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s (Debian package poppler-utils): %v", tool, err)
	}
	return string(out)
}

// keepsPaper sees that a print has the paper that the imprint names.
func (r *reader) keepsPaper(t *testing.T, path, size string) {
	asNamed := func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }
	if info := poppler(t, r.pdf(t, path, asNamed), "pdfinfo", "-"); !strings.Contains(info, size) {
		t.Errorf("the print is not on paper of %s:\n%s", size, info)
	}
}

// breaksWell prints a table that no side can hold: its heads stand again at
// the head of each side, and no row is split.
func (r *reader) breaksWell(t *testing.T) {
	row := regexp.MustCompile(`(?m)^ *(\d+(?:\.\d)?) *m  +\d\.\d+  +\d\.\d+$`)
	rows, with := 0, 0
	for i, side := range r.sides(t, "shapes.html", func(*page.PrintToPDFParams) {}) {
		found := row.FindAllString(side, -1)
		rows += len(found)
		if len(found) == 0 {
			continue
		}
		with++
		head := strings.Index(side, "12 AWG")
		if head < 0 || head > strings.Index(side, strings.TrimSpace(found[0])) {
			t.Errorf("side %d has rows without their heads:\n%s", i+1, side)
		}
	}
	if rows != 59 || with < 2 {
		t.Errorf("%d rows on %d sides, want 59 on at least 2", rows, with)
	}
}

// isValid holds every page against the W3C checker. The checker does not take
// 'self' to mean a neighbour on disk, hence the messages passed over.
func (r *reader) isValid(t *testing.T) {
	jar := filepath.Join(tools, "vnu-jar/build/dist/vnu.jar")
	if _, err := os.Stat(jar); err != nil {
		t.Fatalf("the W3C checker (npm package vnu-jar) is missing: %v", err)
	}
	out, err := exec.Command("java", "-Xss4m", "-jar", jar, "--skip-non-html", "--Werror",
		"--filterpattern", "Resource violates Content Security Policy.*(stylesheet|image “drawings/).*", r.folder).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// wouldNotice plants what must not be and sees that the tests above would see
// it: a page that loads from outside, styles itself and runs a script of its
// own.
func (r *reader) wouldNotice(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(r.folder, "speaker-wire.html"))
	must(t, err)
	planted := strings.Replace(string(data), "</body>",
		`<p style="color:red">x</p><script>1</script><img alt="" src="http://192.0.2.1/x.png"></body>`, 1)
	must(t, os.WriteFile(filepath.Join(r.folder, "planted.html"), []byte(planted), 0o644))
	defer os.Remove(filepath.Join(r.folder, "planted.html"))
	b := r.tab(t, "planted.html")
	time.Sleep(100 * time.Millisecond)
	if _, troubles := b.heard(); len(troubles) < 3 {
		t.Errorf("three violations were planted, and the browser told of %q", troubles)
	}
}
