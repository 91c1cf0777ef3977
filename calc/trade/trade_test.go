package trade_test

import (
	"testing"

	"bindpost/calc/trade"
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
				got := m.Run(c.Values, w.Result).Results[w.Result]
				if !w.Met(got) {
					line, _ := c.Place.Text.Position(c.Place.Start)
					t.Errorf("%s:%d: %s is %s, and %s says %s", c.Place.Text.Name(), line, w.Result,
						s.Result(w.Result).Text(got), c.Reference.ID, w.Place)
				}
			}
		}
	}
}

// TestEntriesAreUsed fails on a reference or caution that no method names.
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
	for _, id := range append(library.References(), library.Cautions()...) {
		if !used[id] {
			t.Errorf("nothing names %q", id)
		}
	}
}

// TestCasesCanFail breaks what a case wants and sees that it is told.
func TestCasesCanFail(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	c := m.Sheet().Cases[0]
	w := c.Wants[0]
	w.Value.Number *= 1.01
	if w.Met(m.Run(c.Values).Results[w.Result]) {
		t.Error("a case one hundredth off still counts as met")
	}
}
