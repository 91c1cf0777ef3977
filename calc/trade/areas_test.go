package trade_test

import (
	"slices"
	"testing"

	"bindpost/calc/trade"
)

// held are the areas in which every method is held against something outside.
var held = []string{"wire", "loudness", "loads", "checks"}

// TestAreas wants every method in an area of the trade, every area to have
// methods, and at most one method in ten held against nothing outside: none
// where a wrong figure hurts people or gear.
func TestAreas(t *testing.T) {
	library, count, uncased := trade.Library(), map[string]int{}, 0
	for _, name := range library.Names() {
		m, _ := library.Method(name)
		s := m.Sheet()
		count[s.Area]++
		if !slices.Contains(trade.Areas, s.Area) {
			t.Errorf("%s is of no area of the trade: %q", name, s.Area)
		}
		if s.Uncased == "" {
			continue
		}
		uncased++
		if slices.Contains(held, s.Area) {
			t.Errorf("%s has no outside case, and every method of %s has: %s", name, s.Area, s.Uncased)
		}
	}
	for _, area := range trade.Areas {
		if count[area] == 0 {
			t.Errorf("%s has no methods", area)
		}
	}
	if total := len(library.Names()); uncased*10 > total {
		t.Errorf("%d of %d methods have no outside case", uncased, total)
	}
	t.Logf("%d methods, %d without an outside case: %v", len(library.Names()), uncased, count)
}
