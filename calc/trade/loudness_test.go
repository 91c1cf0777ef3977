package trade_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/trade"
)

// rooms are amplifiers, speakers and seats. GNU units is asked in pascals and
// volts, with the decibel only at the end, and so shares no formula with us.
var rooms = []struct {
	name                      string
	watts, ratedLoad          float64 // of one channel
	sensitivity, load         float64
	watt                      bool // the sensitivity is for 1 W; else for 2.83 V
	distance, level, headroom float64
	playing                   string
}{
	{"parlour", 60, 8, 88, 8, true, 3, 80, 15, "unlike"},
	{"four ohms", 50, 8, 90, 4, false, 2.5, 85, 12, "unlike"},
	{"tap of four", 30, 4, 84, 8, true, 4, 75, 20, "bass"},
	{"desk", 15, 8, 86, 6, false, 0.8, 70, 18, "single"},
	{"hall", 400, 4, 97, 6, true, 12, 95, 10, "unlike"},
}

// sum is how much more pressure the speakers make than one of them alone.
var sum = map[string]string{"single": "1", "unlike": "sqrt(2)", "bass": "2"}

// TestLoudnessAgainstGNUUnits compares level, watts wanted and headroom left
// with GNU units.
func TestLoudnessAgainstGNUUnits(t *testing.T) {
	m, _ := trade.Library().Method("amplifier-speaker")
	for _, r := range rooms {
		t.Run(r.name, func(t *testing.T) {
			basis, drive := "volts", "sqrt(8 V^2)"
			if r.watt {
				basis, drive = "watt", fmt.Sprintf("sqrt(1 W %v ohm)", r.load)
			}
			values := read(t, m.Sheet(), map[string]string{
				"watts": number(r.watts) + " W", "rating": "continuous", "rated_load": ohms(r.ratedLoad),
				"sensitivity": number(r.sensitivity) + " dB SPL", "basis": basis, "load": ohms(r.load),
				"distance": number(r.distance) + " m", "level": number(r.level) + " dB SPL",
				"headroom": number(r.headroom) + " dB", "playing": r.playing,
			})
			got := m.Run(values).Results
			// Pascals at the seat for each volt on the terminals.
			each := fmt.Sprintf("(dBSPL(%v)/%s*%s/%v)", r.sensitivity, drive, sum[r.playing], r.distance)
			volts := fmt.Sprintf("sqrt(%v W %v ohm)", r.watts, r.ratedLoad)
			agrees(t, "level_at_seat", got.Of("level_at_seat"), gnuUnits(t, volts+"*"+each, "dBSPL"))
			agrees(t, "watts_wanted", got.Of("watts_wanted"), gnuUnits(t, fmt.Sprintf("(dBSPL(%v)/%s)^2/(%v ohm)", r.level+r.headroom, each, r.load), "W"))
			agrees(t, "headroom_left", got.Of("headroom_left"), gnuUnits(t, fmt.Sprintf("(%s*%s/dBSPL(%v))^2", volts, each, r.level), "dB"))
			agrees(t, "watts_into_load", got.Of("watts_into_load"), gnuUnits(t, fmt.Sprintf("(%s)^2/(%v ohm)", volts, r.load), "W"))
		})
	}
}

// TestOneWattIsNotTheVolts: 2.83 V into 4 ohm is two watts, so the two figures
// are 3 dB apart, and one whose basis is not known is no figure.
func TestOneWattIsNotTheVolts(t *testing.T) {
	typed := map[string]string{"sensitivity": "90 dB SPL", "basis": "volts", "load": "4 ohm"}
	volts, _ := result(t, "sensitivity", "one_watt", typed)
	watt, _ := result(t, "sensitivity", "one_watt", with(typed, map[string]string{"basis": "watt"}))
	if math.Abs(watt.Number-volts.Number-10*math.Log10(2)) > 1e-9 {
		t.Errorf("for 1 W it is %v where 1 W is stated and %v where 2.83 V is", watt.Number, volts.Number)
	}
	for _, name := range []string{"seat-level", "room-level"} {
		all := with(typed, map[string]string{"basis": "don't know", "power": "40 W", "distance": "3 m", "critical_distance": "1 m"})
		if name == "seat-level" {
			delete(all, "critical_distance")
		}
		if v, _ := result(t, name, "level_at_seat", all); v.State == formula.Known {
			t.Errorf("%s takes a sensitivity of an unknown basis: %v", name, v.Number)
		}
	}
}

// TestTheGuidelineIsSaid: one level has another time under each guideline, by
// the day or by the week and never both, and no time where none is named.
func TestTheGuidelineIsSaid(t *testing.T) {
	seen := map[float64]string{}
	for guideline, per := range map[string]string{"niosh": "a_day", "canada": "a_day", "adult": "a_week", "sensitive": "a_week", "don't know": ""} {
		known := 0
		for _, span := range []string{"a_day", "a_week"} {
			v, text := result(t, "listening-time", span, with(map[string]string{"average_level": "90 dBA", "guideline": guideline}, nil))
			if v.State != formula.Known {
				continue
			}
			known++
			if other := seen[v.Number]; span != per || other != "" {
				t.Errorf("%s gives %s of 90 dBA as %s, as %s does", guideline, span, text, other)
			}
			seen[v.Number] = guideline
		}
		if (known == 1) != (per != "") {
			t.Errorf("the guideline %q gives %d times", guideline, known)
		}
	}
	m, _ := trade.Library().Method("listening-time")
	faults := m.Sheet().Check(points(t, m.Sheet(), map[string]string{"average_level": "90 dBA"}), fault.Place{})
	if !faults.Stopped() || !strings.Contains(faults.String(), "guideline is missing") {
		t.Errorf("no guideline is named, and that is told: %q", faults)
	}
}

// TestRoundingErrsOnTheHarmlessSide: a time is never printed longer than it
// is, a dose never smaller, and watts wanted never fewer.
func TestRoundingErrsOnTheHarmlessSide(t *testing.T) {
	for _, level := range []string{"86", "87.3", "92", "98.6", "101"} {
		v, text := result(t, "listening-time", "a_day", map[string]string{"average_level": level + " dBA", "guideline": "niosh"})
		if printed := leading(t, text) * 3600; printed > v.Number {
			t.Errorf("%s dBA: %v s is printed as %s", level, v.Number, text)
		}
		v, text = result(t, "noise-dose", "dose", map[string]string{"average_level": level + " and 80 dBA", "time": "1 and 3 h", "guideline": "niosh"})
		if printed := leading(t, text) / 100; printed < v.Number {
			t.Errorf("%s dBA: a dose of %v is printed as %s", level, v.Number, text)
		}
		v, text = result(t, "watts-wanted", "watts_wanted", map[string]string{
			"level": "75 dB SPL", "headroom": "15 dB", "sensitivity": level + " dB SPL", "basis": "watt", "load": "8 ohm", "distance": "3 m"})
		if printed := leading(t, text); printed < v.Number {
			t.Errorf("%s dB SPL: %v W is printed as %s", level, v.Number, text)
		}
	}
}

// TestADayIsNotAWeek: spells that make more than a day are not held against a
// guideline that counts by the day.
func TestADayIsNotAWeek(t *testing.T) {
	typed := map[string]string{"average_level": "70 and 72 dBA", "time": "20 and 20 h", "guideline": "niosh"}
	if v := verdict(t, "noise-dose", typed, "spells"); v.Grade != "ask first" {
		t.Errorf("40 hours in a day: %s, %s", v.Grade, v.Words)
	}
	if v := verdict(t, "noise-dose", with(typed, map[string]string{"guideline": "adult"}), "spells"); v.Grade != "fits" {
		t.Errorf("40 hours in a week: %s, %s", v.Grade, v.Words)
	}
}
