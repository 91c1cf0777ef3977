package trade_test

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"testing"

	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// checkCases are verdicts of the checks at their edges, and with facts left
// out. The edges of the lead are those of 10 A on 230 V: 1840 W are four
// fifths of them, and 2300 W are all.
var checkCases = []struct {
	name, method string
	typed        map[string]string
	verdict      string
	grade, words string
}{
	{"four fifths of the lead", "mains-current", map[string]string{"plates": "1800 and 40 W", "mains": "230 V", "lead": "10 A"}, "on_the_lead", method.Fits, "no sum can tell"},
	{"more than four fifths", "mains-current", map[string]string{"plates": "1800 and 41 W", "mains": "230 V", "lead": "10 A"}, "on_the_lead", method.Doubtful, "close"},
	{"all of the lead", "mains-current", map[string]string{"plates": "2300 W", "mains": "230 V", "lead": "10 A"}, "on_the_lead", method.Doubtful, "close"},
	{"more than the lead", "mains-current", map[string]string{"plates": "2301 W", "mains": "230 V", "lead": "10 A"}, "on_the_lead", method.DoNotConnect, "more than is printed"},
	{"a lead without print", "mains-current", map[string]string{"plates": "40 W", "mains": "230 V"}, "on_the_lead", method.CannotTell, "printed on the lead"},
	{"two worlds apart", "wrong-voltage", map[string]string{"made_for": "120 V", "here": "230 V"}, "voltage", method.DoNotConnect, "can burn"},
	{"too little", "wrong-voltage", map[string]string{"made_for": "230 V", "here": "120 V"}, "voltage", method.DoNotConnect, "stall"},
	{"a hundred on more", "wrong-voltage", map[string]string{"made_for": "100 V", "here": "120 V"}, "voltage", method.DoNotConnect, "can burn"},
	{"neighbours", "wrong-voltage", map[string]string{"made_for": "220 V", "here": "240 V"}, "voltage", method.AskFirst, "a twentieth"},
	{"old and new", "wrong-voltage", map[string]string{"made_for": "220 V", "here": "230 V"}, "voltage", method.Fits, "the frequency"},
	{"a usual fuse", "fuse-sense", map[string]string{"printed": "4 A", "taken": "2.5 A"}, "usual_range", method.Fits, "one that is printed"},
	{"a low fuse", "fuse-sense", map[string]string{"printed": "3 A", "taken": "2.5 A"}, "usual_range", method.AskFirst, "change nothing"},
	{"a high fuse", "fuse-sense", map[string]string{"printed": "6.3 A", "taken": "2.5 A"}, "usual_range", method.AskFirst, "change nothing"},
	{"above the limit", "leakage", map[string]string{"volts": "0.76 V", "mains_frequency": "50 Hz"}, "report", method.DoNotConnect, "unplug"},
	{"at the limit", "leakage", map[string]string{"volts": "0.75 V", "mains_frequency": "50 Hz"}, "report", method.AskFirst, "strictest"},
	{"below both", "leakage", map[string]string{"volts": "0.35 V", "mains_frequency": "50 Hz"}, "report", method.AskFirst, "for the person who tested it"},
	{"at the guideline", "lifting", map[string]string{"mass": "23 kg"}, "alone", method.Doubtful, "second person"},
	{"above the guideline", "lifting", map[string]string{"mass": "51 lb"}, "alone", method.AskFirst, "two people"},
	{"a light box", "lifting", map[string]string{"mass": "15 kg"}, "alone", method.Fits, "below what calls for two"},
	{"no weight", "lifting", map[string]string{"mass": "don't know"}, "alone", method.CannotTell, "is not known"},
	{"no air known", "shelf", onShelf("430 mm", ""), "air", method.CannotTell, "the air that the maker asks for"},
	{"too wide by itself", "shelf", onShelf("601 mm", ""), "air", method.DoNotConnect, "alone"},
	{"air kept", "shelf", onShelf("500 mm", "50 mm"), "air", method.Fits, "doors"},
	{"air missing", "shelf", onShelf("501 mm", "50 mm"), "air", method.DoNotConnect, "more room"},
	{"a weak shelf", "shelf", with(onShelf("430 mm", "50 mm"), map[string]string{"weight": "21 kg", "bears": "20 kg"}), "load", method.DoNotConnect, "heavier"},
	{"a shelf without print", "shelf", with(onShelf("430 mm", "50 mm"), map[string]string{"weight": "21 kg"}), "load", method.CannotTell, "made to bear"},
}

// onShelf is a box of some width, with as much air round it, on a shelf of
// 600 mm by 450 by 300.
func onShelf(width, air string) map[string]string {
	typed := map[string]string{
		"box_width": width, "box_depth": "340 mm", "box_height": "150 mm", "plugs": "60 mm",
		"shelf_width": "600 mm", "shelf_depth": "450 mm", "shelf_height": "300 mm",
	}
	if air == "" {
		return typed
	}
	return with(typed, map[string]string{"air_beside": air, "air_behind": air, "air_above": air})
}

func TestCheckVerdicts(t *testing.T) {
	for _, c := range checkCases {
		t.Run(c.name, func(t *testing.T) {
			got := verdict(t, c.method, c.typed, c.verdict)
			if got.Grade != c.grade || !regexp.MustCompile(c.words).MatchString(got.Words) {
				t.Errorf("%s %q, and %s with %q is wanted", got.Grade, got.Words, c.grade, c.words)
			}
		})
	}
}

// TestNoReportPermits: whatever a report of leakage says, the program never
// says that a box fits; that is for the person who measured.
func TestNoReportPermits(t *testing.T) {
	for millivolts := 0; millivolts <= 10000; millivolts += 50 {
		typed := map[string]string{"volts": fmt.Sprintf("%d mV", millivolts), "mains_frequency": "60 Hz"}
		if v := verdict(t, "leakage", typed, "report"); v.Grade != method.AskFirst && v.Grade != method.DoNotConnect {
			t.Fatalf("%d mV: %s", millivolts, v.Grade)
		}
	}
}

// TestChecksGiveNoTimeAndNoFuse: no check has a result in seconds, for a time
// to discharge would be read as leave to touch; and of fuses the program gives
// the amperes of the plate and a ratio, and no rating to put in.
func TestChecksGiveNoTimeAndNoFuse(t *testing.T) {
	seen := 0
	for _, name := range trade.Library().Names() {
		m, _ := trade.Library().Method(name)
		s := m.Sheet()
		if s.Area != "checks" {
			continue
		}
		seen++
		for _, r := range s.Gives {
			if slices.Contains([]string{"s", "ms", "min", "h"}, r.Unit.Symbol()) {
				t.Errorf("%s gives %s in %s", name, r.Name, r.Unit.Symbol())
			}
		}
	}
	if seen < 8 {
		t.Fatalf("%d methods are of the checks", seen)
	}
	m, _ := trade.Library().Method("fuse-sense")
	var names []string
	for _, r := range m.Sheet().Gives {
		names = append(names, r.Name)
	}
	if !slices.Equal(names, []string{"fuse_ratio"}) {
		t.Errorf("of fuses it gives %v", names)
	}
}

// TestShelfByCounting sets boxes on shelves a millimetre further each time and
// counts where the air stays kept; the room left is one less than the places.
func TestShelfByCounting(t *testing.T) {
	dice := rand.New(rand.NewPCG(5, 17))
	for range 60 {
		box, shelf, air := 100+dice.IntN(500), 200+dice.IntN(600), dice.IntN(120)
		places := 0
		for left := air; left+box+air <= shelf; left++ {
			places++
		}
		typed := with(onShelf(fmt.Sprintf("%d mm", box), fmt.Sprintf("%d mm", air)),
			map[string]string{"shelf_width": fmt.Sprintf("%d mm", shelf), "shelf_depth": "1500 mm", "shelf_height": "2500 mm"})
		v, _ := result(t, "shelf", "width_left", typed)
		fits := verdict(t, "shelf", typed, "air").Grade == method.Fits
		if fits != (places > 0) {
			t.Errorf("%d mm on %d mm with %d mm of air: %d places, and it fits: %v", box, shelf, air, places, fits)
		}
		if mm := v.Number * 1000; places > 0 && (mm < float64(places)-1.001 || mm > float64(places)-0.999) {
			t.Errorf("%d mm on %d mm with %d mm of air: %d places, and %v mm are left", box, shelf, air, places, mm)
		}
	}
}
