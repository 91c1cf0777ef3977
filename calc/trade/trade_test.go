package trade_test

import (
	"io/fs"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/content"
)

// TestCases runs every case that the method files state.
func TestCases(t *testing.T) {
	library := trade.Library()
	for _, name := range library.Names() {
		m, _ := library.Method(name)
		s := m.Sheet()
		if n := len(s.Cases); n < 3 && s.Uncased == "" {
			t.Errorf("%s has %d cases worked outside the program; three are wanted", name, n)
		}
		for _, c := range s.Cases {
			for _, w := range c.Wants {
				got := m.Run(c.Values, w.Result).Results.Of(w.Result)
				if !w.Met(got) {
					line, _ := c.Place.Text.Position(c.Place.Start)
					t.Errorf("%s:%d: %s is %s, and %s says %s", c.Place.Text.Name(), line, w.Result,
						s.Result(w.Result).Text(got), c.Reference.ID, w.Place)
				}
			}
		}
	}
}

// TestEntriesAreUsed fails on a reference that neither a method nor the kinds of
// boxes name, and on a caution that neither a method nor a docket of the
// demonstration names, and that no words pull in.
func TestEntriesAreUsed(t *testing.T) {
	library := trade.Library()
	used := map[string]bool{}
	for _, name := range library.Names() {
		m, _ := library.Method(name)
		s := m.Sheet()
		for _, id := range append(s.References, s.Cautions...) {
			used[id] = true
		}
		for _, c := range s.Cases {
			used[c.Reference.ID] = true
		}
	}
	for _, id := range append(docketCautions(t), trade.RearsReferences()...) {
		used[id] = true
	}
	for _, id := range library.Cautions() {
		if c, _ := library.Caution(id); len(c.Words) > 0 {
			used[id] = true
		}
	}
	for _, id := range append(library.References(), library.Cautions()...) {
		if !used[id] {
			t.Errorf("nothing names %q", id)
		}
	}
}

// docketCautions returns the cautions that guides of the demonstration put at
// their head.
func docketCautions(t *testing.T) []string {
	t.Helper()
	guides, err := fs.Glob(content.Files, "*.md")
	if err != nil || len(guides) == 0 {
		t.Fatalf("no guides: %v", err)
	}
	var all []string
	for _, name := range guides {
		text, err := fs.ReadFile(content.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(text)) {
			if named, ok := strings.CutPrefix(line, "cautions: "); ok {
				all = append(all, strings.Split(strings.TrimSpace(named), ", ")...)
			}
		}
	}
	return all
}

// TestCasesCanFail breaks what a case wants and sees that it is told.
func TestCasesCanFail(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	c := m.Sheet().Cases[0]
	w := c.Wants[0]
	w.Value.Number *= 1.01
	if w.Met(m.Run(c.Values).Results.Of(w.Result)) {
		t.Error("a case one hundredth off still counts as met")
	}
}
