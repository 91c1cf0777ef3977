package press_test

import (
	"bytes"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"testing/fstest"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/site/publish"
	"bindpost/templates"
)

// TestEdits edits a copy at random and presses it after each edit: at every
// tenth the pages of the forme, and what is told, are those of a press from
// nothing. BINDPOST_EDITS says how many edits; ten thousand take minutes.
func TestEdits(t *testing.T) {
	edits := 400
	if n, err := strconv.Atoi(os.Getenv("BINDPOST_EDITS")); err == nil {
		edits = n
	}
	const every = 10
	c := newEdited(rand.New(rand.NewPCG(7, 11)))
	order := press.Order{Copy: c.files, Library: trade.Library(), Templates: templates.Files, Program: "test"}
	w := &watchedForme{forme: press.NewForme(order), order: order}
	w.forme.Press(press.Changes{Any: true})
	good := w.cold(t)
	if good == nil {
		t.Fatal("the copy does not press to begin with")
	}
	stopped := 0
	for n := 1; n <= edits; n++ {
		changed := c.edit()
		faults := w.forme.Press(changed)
		if n%every != 0 {
			continue
		}
		cold, want := press.Make(order)
		if got := faults.String(); got != want.String() {
			t.Fatalf("after %d edits, the last of them %s, it tells\n%s\nand a press from nothing\n%s", n, c.last, got, want)
		}
		if want.Stopped() {
			stopped++
			continue
		}
		w.compare(t, cold.Files, n, c.last)
	}
	t.Logf("%d edits, a stop stood at %d of %d", edits, stopped, edits/every)
	if stopped == 0 || stopped > edits/every*2/3 {
		t.Errorf("a stop stood at %d of %d: the edits try too little", stopped, edits/every)
	}
}

// watchedForme is a forme with the paths that its manuals have had.
type watchedForme struct {
	forme *press.Forme
	order press.Order
	known map[string]bool
}

func (w *watchedForme) cold(t *testing.T) []publish.File {
	t.Helper()
	m, faults := press.Make(w.order)
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return m.Files
}

// compare holds every page of the forme to that of a manual, and pages that are
// in it no more to be gone.
func (w *watchedForme) compare(t *testing.T, files []publish.File, n int, last string) {
	t.Helper()
	there := map[string]bool{}
	for _, f := range files {
		there[f.Path] = true
		got, ok := w.forme.Page(f.Path)
		if !ok {
			t.Fatalf("after %d edits, the last of them %s, the page %s is not there", n, last, f.Path)
		}
		if !bytes.Equal(got, f.Data) {
			t.Fatalf("after %d edits, the last of them %s, the page %s is another\n%s", n, last, f.Path, firstDifference(got, f.Data))
		}
	}
	if w.known == nil {
		w.known = map[string]bool{}
	}
	for p := range w.known {
		if _, ok := w.forme.Page(p); ok && !there[p] && bytes.HasSuffix([]byte(p), []byte(".html")) {
			t.Fatalf("after %d edits, the last of them %s, the page %s is still there", n, last, p)
		}
	}
	for p := range there {
		w.known[p] = true
	}
}

// firstDifference shows where two pages part.
func firstDifference(got, want []byte) string {
	i := 0
	for i < len(got) && i < len(want) && got[i] == want[i] {
		i++
	}
	show := func(b []byte) string { return string(b[max(0, i-80):min(len(b), i+80)]) }
	return "got  …" + show(got) + "…\nwant …" + show(want) + "…"
}

// TestOneGuideAlone holds a press after a change of one guide to bind only that
// guide and those that quote it: the others' pages are not made again.
func TestOneGuideAlone(t *testing.T) {
	c := newEdited(rand.New(rand.NewPCG(1, 2)))
	order := press.Order{Copy: c.files, Library: trade.Library(), Templates: templates.Files, Program: "test"}
	f := press.NewForme(order)
	if faults := f.Press(press.Changes{Any: true}); faults.Len() > 0 {
		t.Fatal(faults)
	}
	before := map[string][]byte{}
	for _, file := range []string{"a.md", "b.md", "c.md"} {
		before[file], _ = f.Page(pageOf(file))
	}
	at := c.files["a.md"]
	c.files["a.md"] = &fstest.MapFile{Data: bytes.Replace(at.Data, []byte("run: 3 m"), []byte("run: 4 m"), 1)}
	if bytes.Equal(at.Data, c.files["a.md"].Data) {
		t.Fatal("the guide was not changed")
	}
	made := press.MadeBy(f, func() { f.Press(press.Changes{Paths: []string{"a.md"}}) })
	if made != 1 {
		t.Errorf("%d guides were made anew, want 1", made)
	}
	for file, page := range before {
		now, _ := f.Page(pageOf(file))
		if moved := file != "c.md"; bytes.Equal(now, page) == moved { // b quotes a, and c does not
			t.Errorf("the page of %s moved: %t, want %t", file, !moved, moved)
		}
	}
}

func pageOf(file string) string { return file[:len(file)-len(".md")] + ".html" }
