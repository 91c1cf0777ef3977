package press_test

import (
	"os"
	"slices"
	"testing"
)

// TestInTheBrowser opens every page of the demonstration, and of a copy that
// has what the demonstration lacks, as a reader would.
func TestInTheBrowser(t *testing.T) {
	browser := open(t)
	t.Run("the demonstration", func(t *testing.T) {
		r := browser.withDemonstration(t)
		r.holds(t, ofEachKind...)
		t.Run("a cell tells its row, column and unit", r.cellTells)
		t.Run("a table that decides shows its answers", r.answersShow)
		t.Run("a table that decides is read downwards on a telephone", r.decidesNarrow)
		t.Run("prints on both papers", r.prints)
		t.Run("keeps the paper of its imprint", func(t *testing.T) { r.keepsPaper(t, "speaker-wire.html", "(A4)") })
		t.Run("a violation would be noticed", r.wouldNotice)
	})
	t.Run("every shape", func(t *testing.T) {
		r := browser.with(t, os.DirFS("testdata/shapes"))
		r.holds(t, shapesGuides...)
		t.Run("charts can be read", r.chartsRead)
		t.Run("hook-ups can be read", r.hookupsRead)
		t.Run("hook-ups are printed", r.hookupsPrint)
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
	"index.html", "reading-this-book.html", "workings.html", "tables.html", "references.html", "cautions.html", "glossary.html", "a-to-z.html",
	"speaker-wire.html", "record-player.html", "writing-a-guide.html", "two-pairs.html",
}

// shapesGuides are the pages of the other copy that are not lists at the back.
var shapesGuides = []string{"shapes.html", "charts.html", "hookups.html", "spoken.html", "reading.html"}

// holds tries what holds for every page of every manual; what takes long on
// those pages only that are named.
func (r *reader) holds(t *testing.T, long ...string) {
	b := r.tab(t, "index.html")
	for _, path := range r.pages(t) {
		t.Run(path, func(t *testing.T) {
			b := b.turnedTo(t, r.address(path))
			t.Run("keeps to its folder", func(t *testing.T) { r.keepsToItsFolder(t, b) })
			t.Run("links lead somewhere", func(t *testing.T) { r.linksLead(t, b, path) })
			t.Run("fits a narrow screen", func(t *testing.T) { fitsNarrow(t, b) })
			if !slices.Contains(long, path) && os.Getenv("BINDPOST_PAGES") != "all" {
				return
			}
			t.Run("fits every screen", func(t *testing.T) { readsOnEveryScreen(t, b) })
			t.Run("shows where the keyboard is", func(t *testing.T) { keyboardSeen(t, b) })
			t.Run("reads without scripts", func(t *testing.T) { r.readsWithoutScripts(t, b, path) })
			t.Run("is accessible", func(t *testing.T) { r.isAccessible(t, b) })
		})
	}
	t.Run("is valid", r.isValid)
}
