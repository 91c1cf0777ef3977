package trade_test

import (
	"math"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// TestSabineMisleadsAboveAFifth: where the surfaces take more than a fifth on
// average the verdict says so, and Eyring's time is the shorter one everywhere.
func TestSabineMisleadsAboveAFifth(t *testing.T) {
	const misleads = "the surfaces take more than a fifth on average, where Sabine misleads; Eyring is nearer"
	for _, c := range []struct {
		absorbs string
		above   bool
	}{{"0.02", false}, {"0.1", false}, {"0.2", false}, {"0.21", true}, {"0.5", true}, {"0.99", true}} {
		t.Run(c.absorbs, func(t *testing.T) {
			o := worked(t, "reverberation", map[string]string{"volume": "500 m3", "surface": "400 m2", "absorbs": c.absorbs})
			v := o.Verdicts[0]
			if (v.Words == misleads) != c.above || (v.Grade == method.Fits) == c.above {
				t.Errorf("the verdict is %v: %s", v.Grade, v.Words)
			}
			if sabine, eyring := o.Results.Of("by_sabine").Number, o.Results.Of("by_eyring").Number; eyring >= sabine {
				t.Errorf("Sabine gives %g s, and Eyring %g s", sabine, eyring)
			}
		})
	}
}

// TestDeadAndBareRooms: a room that takes everything rings not at all by
// Eyring, and still does by Sabine; one that takes nothing has no time.
func TestDeadAndBareRooms(t *testing.T) {
	at := map[string]string{"volume": "50 m3", "surface": "60 and 20 m2", "absorbs": "1 and 1"}
	if o := worked(t, "reverberation", at); o.Results.Of("by_eyring").Number != 0 || o.Results.Of("by_sabine").Number <= 0 {
		t.Errorf("a dead room rings %v by Sabine and %v by Eyring", o.Results.Of("by_sabine"), o.Results.Of("by_eyring"))
	}
	at["absorbs"] = "0 and 0"
	if o := worked(t, "reverberation", at); o.Faults.Len() > 0 || o.Results.Of("by_eyring").State != formula.None || o.Results.Of("by_sabine").State != formula.None {
		t.Errorf("a bare room gives %+v: %s", o.Results, o.Faults)
	}
}

// TestLevelHardlyFallsPastTheReach: at the critical distance the direct sound
// is as loud as the room's, and it falls by 6.02 dB with each doubling while
// the room's stays.
func TestLevelHardlyFallsPastTheReach(t *testing.T) {
	at := map[string]string{"directivity": "2", "volume": "50 m3", "ring": "0.4 s", "distance": "1 m"}
	reach := given(t, "critical-distance", "reach", at)
	for times, want := range map[float64]float64{0.5: 6.0206, 1: 0, 2: -6.0206, 4: -12.0412} {
		at["distance"] = number(reach*times) + " m"
		if got := given(t, "critical-distance", "direct", at); math.Abs(got-want) > 1e-4 {
			t.Errorf("at %g times the reach the direct sound is %g dB", times, got)
		}
	}
}
