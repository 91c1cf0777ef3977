package press_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

// TestSingleInTheBrowser opens the demonstration, pressed into one page, alone
// in a folder of its own.
func TestSingleInTheBrowser(t *testing.T) {
	browser := open(t)
	r := &reader{browser: browser.browser, folder: filepath.Join(t.TempDir(), "alone")}
	_, faults, err := press.Press(press.Order{
		Copy: content.Files, Into: r.folder, Library: trade.Library(), Templates: templates.Files, Program: "test", Single: true,
	})
	if err != nil || faults.Len() > 0 {
		t.Fatalf("the demonstration does not press silently: %v\n%v", err, faults)
	}
	if err := os.Remove(filepath.Join(r.folder, ".bindpost-stamp")); err != nil {
		t.Fatal(err)
	}
	const name = press.WholeEntry
	b := r.tab(t, name)
	t.Run("asks for nothing", func(t *testing.T) { r.asksForNothing(t, b, name) })
	t.Run("forms are opened when their tables are at hand", func(t *testing.T) { ownOpenedNear(t, b, r.address(name)) })
	t.Run("own numbers are answered", func(t *testing.T) { ownAnswered(t, b) })
	t.Run("words are found inside", func(t *testing.T) { foundInside(t, b) })
	t.Run("links lead inside", func(t *testing.T) { linksLeadInside(t, b) })
	t.Run("is complete without scripts", func(t *testing.T) { r.completeWithoutScripts(t, b, name) })
	t.Run("is valid", r.singleIsValid)
}

// asksForNothing sees that the page finds all it needs in itself: its style
// holds, its pictures show, and its policy is not violated.
func (r *reader) asksForNothing(t *testing.T, b *tab, name string) {
	requests, troubles := b.heard()
	for _, trouble := range troubles {
		t.Error(trouble)
	}
	for _, request := range requests {
		if request != r.address(name) && request != "about:blank" && !strings.HasPrefix(request, "data:image/") {
			t.Errorf("the page asks for %.100s", request)
		}
	}
	if !js[bool](b, "document.styleSheets.length === 1 && getComputedStyle(document.querySelector('.strip')).borderTopWidth === '2px'") {
		t.Error("the style does not hold")
	}
	if n := js[int](b, "Array.from(document.images).filter(i => !i.naturalWidth).length"); n > 0 || js[bool](b, "document.images.length < 5") {
		t.Errorf("%d pictures do not show", n)
	}
}

// ownAnswered works the form of a table of each of several pages.
func ownAnswered(t *testing.T, b *tab) {
	const work = `(() => {
		return Array.from(document.querySelectorAll(".own")).filter((own, i) => i % 20 === 0).map(own => {
			own.parentElement.dispatchEvent(new FocusEvent("focusin", { bubbles: true }));
			own.querySelector("button[type=submit]").click();
			return own.id + ": " + own.querySelector(".told").textContent + Array.from(own.querySelectorAll(".fault"), f => "fault: " + f.textContent).join("");
		});
	})()`
	told := js[[]string](b, work)
	for _, answer := range told {
		if id, said, _ := strings.Cut(answer, ": "); said == "" || strings.Contains(said, "fault: ") {
			t.Errorf("%s says %q", id, said)
		}
	}
	if len(told) < 5 {
		t.Errorf("only %d forms were found", len(told))
	}
	if _, troubles := b.heard(); len(troubles) > 0 {
		t.Errorf("troubles: %q", troubles)
	}
}

// linksLeadInside finds where every link leads, and follows some: each one
// that is followed lays the whole page out anew.
func linksLeadInside(t *testing.T, b *tab) {
	const follow = `Array.from(document.links).filter((a, i) => {
		const there = a.hash && document.getElementById(decodeURIComponent(a.hash.slice(1)));
		if (!there || i % 100) return !there;
		a.click();
		return location.hash !== a.hash || Math.abs(there.getBoundingClientRect().top) > innerHeight;
	}).map(a => a.outerHTML)`
	for _, link := range js[[]string](b, follow) {
		t.Errorf("leads nowhere: %s", link)
	}
	if js[bool](b, "document.links.length < 500") {
		t.Error("the page has hardly a link")
	}
}

func (r *reader) completeWithoutScripts(t *testing.T, b *tab, name string) {
	const text = "Array.from(document.querySelectorAll('article'), a => a.innerText).join('')"
	with := js[string](b, text)
	call(t, b.Context, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.visit(r.address(name))
	lines := map[string]bool{}
	for line := range strings.SplitSeq(with, "\n") {
		lines[line] = true
	}
	for line := range strings.SplitSeq(js[string](b, text), "\n") {
		if !lines[line] {
			t.Errorf("only without scripts the page says %q", line)
		}
	}
}

// singleIsValid asks the W3C checker, which knows neither newer properties of
// styles nor that a policy names hashes, and looks into scripts for odd signs.
func (r *reader) singleIsValid(t *testing.T) {
	jar := filepath.Join(tools, "vnu-jar/build/dist/vnu.jar")
	out, err := exec.Command("java", "-Xss4m", "-jar", jar, "--skip-non-html", "--Werror",
		"--filterpattern", ".*(Content Security Policy|CSS: |Private Use Area).*", r.folder).CombinedOutput()
	if err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}
