package press_test

import (
	"os"
	"path/filepath"
	"testing"
)

// TestWorkingsInTheBrowser opens the workings of a guide with methods, of one
// with a table that decides, and a rule, which lie in folders of the manual; all
// of them where BINDPOST_PAGES is "all".
func TestWorkingsInTheBrowser(t *testing.T) {
	r := open(t).withDemonstration(t)
	pages := []string{"workings/W1.html", "workings/C1.html", "rules/speaker-wire.html"}
	if os.Getenv("BINDPOST_PAGES") == "all" {
		pages = r.inFolders(t)
	}
	for _, path := range pages {
		t.Run(path, func(t *testing.T) {
			b := r.tab(t, path)
			t.Run("keeps to its folder", func(t *testing.T) { r.keepsToItsFolder(t, b) })
			t.Run("links lead somewhere", func(t *testing.T) { r.linksLead(t, b, path) })
			t.Run("fits a narrow screen", func(t *testing.T) { fitsNarrow(t, b) })
			t.Run("fits every screen", func(t *testing.T) { readsOnEveryScreen(t, b) })
			t.Run("is accessible", func(t *testing.T) { r.isAccessible(t, b) })
		})
	}
}

// inFolders returns the pages that lie in folders of the manual.
func (r *reader) inFolders(t *testing.T) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(r.folder, "*", "*.html"))
	must(t, err)
	if len(found) < 100 {
		t.Fatalf("only %d pages lie in folders", len(found))
	}
	for i, path := range found {
		found[i], err = filepath.Rel(r.folder, path)
		must(t, err)
	}
	return found
}
