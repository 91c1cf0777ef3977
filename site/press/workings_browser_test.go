package press_test

import (
	"testing"
)

// TestWorkingsInTheBrowser opens the workings of a guide with methods, of one
// with a table that decides, and a rule, which lie in folders of the manual.
func TestWorkingsInTheBrowser(t *testing.T) {
	r := open(t).withDemonstration(t)
	for _, path := range []string{"workings/W1.html", "workings/C1.html", "rules/speaker-wire.html"} {
		t.Run(path, func(t *testing.T) {
			b := r.tab(t, path)
			t.Run("keeps to its folder", func(t *testing.T) { r.keepsToItsFolder(t, b) })
			t.Run("links lead somewhere", func(t *testing.T) { r.linksLead(t, b, path) })
			t.Run("fits a narrow screen", func(t *testing.T) { fitsNarrow(t, b) })
			t.Run("is accessible", func(t *testing.T) { r.isAccessible(t, b) })
		})
	}
}
