package press_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
)

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

func (r *reader) readsWithoutScripts(t *testing.T, b *tab, path string) {
	// what a reader's own numbers ask, and the field to find words, are there for a
	// script to work with, and not else
	const text = `document.querySelectorAll(".own, .find").forEach(e => { e.hidden = true }), document.body.innerText`
	read := func(scripts bool) string {
		call(t, b.Context, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
		b.visit(r.address(path))
		return js[string](b, text)
	}
	without, with := read(false), read(true)
	for range 20 { // the line that a table goes on sideways comes with a later frame
		if without == with {
			break
		}
		time.Sleep(100 * time.Millisecond)
		with = js[string](b, text)
	}
	for n := 0; n < 3 && without != with; n++ {
		without, with = read(false), read(true)
	}
	if without != with || len(with) < 50 {
		t.Errorf("without scripts the page reads\n%s\nand with them\n%s", without, with)
	}
}

func (r *reader) linksLead(t *testing.T, b *tab, path string) {
	for _, link := range js[[]string](b, "Array.from(document.links, a => a.getAttribute('href'))") {
		file, fragment, _ := strings.Cut(link, "#")
		file = filepath.Join(filepath.Dir(path), file)
		if strings.HasPrefix(link, "#") {
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
