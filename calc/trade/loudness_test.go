package trade_test

import (
	"fmt"
	"testing"

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
			agrees(t, "level_at_seat", got["level_at_seat"], gnuUnits(t, volts+"*"+each, "dBSPL"))
			agrees(t, "watts_wanted", got["watts_wanted"], gnuUnits(t, fmt.Sprintf("(dBSPL(%v)/%s)^2/(%v ohm)", r.level+r.headroom, each, r.load), "W"))
			agrees(t, "headroom_left", got["headroom_left"], gnuUnits(t, fmt.Sprintf("(%s*%s/dBSPL(%v))^2", volts, each, r.level), "dB"))
			agrees(t, "watts_into_load", got["watts_into_load"], gnuUnits(t, fmt.Sprintf("(%s)^2/(%v ohm)", volts, r.load), "W"))
		})
	}
}
