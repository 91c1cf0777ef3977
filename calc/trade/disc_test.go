package trade_test

import (
	"math"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/trade"
)

// TestDiscRoundsToTheHarmlessSide: what a disc bears, the time on a tape and
// the way to the noise down, a loss of treble to the larger one. The figures
// behind are Python's, before they are rounded.
func TestDiscRoundsToTheHarmlessSide(t *testing.T) {
	tilted := map[string]string{"tilt": "2 arcmin", "track": "0.6 mm", "tone": "1 kHz", "apart": "0.9 mm"}
	for _, c := range []struct {
		method, result, want string
		typed                map[string]string
	}{
		{"disc-size", "data", "650.3 MiB", map[string]string{"time": "74 min"}},  // 650.39
		{"quantising", "range", "98.0 dB", map[string]string{"depth": "16 bit"}}, // 98.09
		{"tape-time", "time", "18.2 min", map[string]string{"tape": "171.5 ft"}}, // 18.293
		{"azimuth", "change", "−0.1 dB", tilted},                                 // -0.0008
		{"azimuth", "phase", "4°", tilted},                                       // 3.96
		{"images", "lower", "24.1 kHz", map[string]string{"tone": "19.94 kHz"}},  // 24.16
		{"images", "upper", "64.1 kHz", map[string]string{"tone": "19.94 kHz"}},  // 64.04
	} {
		t.Run(c.method+" "+c.result, func(t *testing.T) {
			if got := printedAs(t, c.method, c.result, c.typed); got != c.want {
				t.Errorf("%s, and not %s", got, c.want)
			}
		})
	}
}

// TestBothSidesAreNotOne: the minutes on a cassette's label are those of both
// sides, and its tape runs by in half of them.
func TestBothSidesAreNotOne(t *testing.T) {
	for _, label := range []string{"46 min", "60 min", "90 min", "120 min"} {
		length := given(t, "tape-length", "length", map[string]string{"both_sides": label})
		one := given(t, "tape-time", "time", map[string]string{"tape": number(length) + " m"})
		if both := leading(t, label) * 60; math.Abs(2*one-both) > 1e-6 {
			t.Errorf("%s on the label, and a side plays %g s", label, one)
		}
	}
}

// TestCodesAreNotTheRange: the ratio of the codes is 1.76 dB less than a full
// sine over the noise of the steps, whatever the bits.
func TestCodesAreNotTheRange(t *testing.T) {
	for _, depth := range []string{"1 bit", "8 bit", "16 bit", "24 bit", "32 bit"} {
		at := map[string]string{"depth": depth}
		if apart := given(t, "quantising", "range", at) - given(t, "quantising", "codes", at); math.Abs(apart-10*math.Log10(1.5)) > 1e-9 {
			t.Errorf("%s: they are %g dB apart", depth, apart)
		}
	}
}

// TestDataTakeRoomForMending: a disc of data holds 2048 of each 2352 bytes,
// and both are less than what the laser reads.
func TestDataTakeRoomForMending(t *testing.T) {
	for _, time := range []string{"10 min", "74 min", "80 min"} {
		at := map[string]string{"time": time}
		music, data := given(t, "disc-size", "music", at), given(t, "disc-size", "data", at)
		if math.Abs(data/music-2048.0/2352) > 1e-12 {
			t.Errorf("%s: data are %g of music", time, data/music)
		}
		if flow, read := given(t, "disc-size", "flow", at), given(t, "disc-size", "channel", at); math.Abs(music/(leading(t, time)*60)-flow) > 1e-6*flow || read < 3*flow {
			t.Errorf("%s: %g bits a second of music, and %g are read", time, flow, read)
		}
	}
}

// TestUprightHeadLosesNothing: at no tilt and at no gap to speak of the sine
// over its angle is nothing over nothing, and the loss is none; where the wave
// fills the track the tone is gone, and that is no fault.
func TestUprightHeadLosesNothing(t *testing.T) {
	at := map[string]string{"tilt": "0 arcmin", "track": "0.6 mm", "tone": "10 kHz", "apart": "0.9 mm"}
	if change, phase := given(t, "azimuth", "change", at), given(t, "azimuth", "phase", at); change != 0 || phase != 0 {
		t.Errorf("an upright head loses %g dB and turns %g", change, phase)
	}
	// A tilt whose tangent is 1/60 lays one wave of 10 kHz, 50 µm long at 0.5 m
	// a second, across 3 mm of track.
	at = map[string]string{"tilt": number(math.Atan(1.0/60)*180/math.Pi*60) + " arcmin", "track": "3 mm", "tone": "10 kHz", "tape_speed": "50 cm/s", "apart": "don't know"}
	if o := worked(t, "azimuth", at); o.Faults.Len() > 0 || o.Results.Of("change").State != formula.None {
		t.Errorf("a tone that fills the track gives %+v: %s", o.Results.Of("change"), o.Faults)
	}
}

// TestGapStopsAtItsFirstNull: a wave no longer than 1.11 gaps is refused, since
// beyond its first null the formula tells nothing of a real head.
func TestGapStopsAtItsFirstNull(t *testing.T) {
	m, _ := trade.Library().Method("gap-loss")
	for typed, stops := range map[string]bool{"2 um": true, "2.22 um": true, "2.23 um": false} {
		values := read(t, m.Sheet(), map[string]string{"gap": "2 um", "wavelength": "3 um"})
		p, faults := m.Sheet().Input("wavelength").Read(fault.NewText("wavelength", typed).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		values["wavelength"] = p
		if got := m.Run(values).Faults.Stopped(); got != stops {
			t.Errorf("a wave of %s over a gap of 2 µm: it stops is %t", typed, got)
		}
	}
}

// TestEmphasisAndItsMending: what the player takes is at most the ratio of the
// two time constants, and nothing in the bass.
func TestEmphasisAndItsMending(t *testing.T) {
	least := -20 * math.Log10(50.0/15)
	for tone, span := range map[string][2]float64{"10 Hz": {-0.0001, 0}, "1 kHz": {-0.4, -0.3}, "22 kHz": {least, -9}} {
		if got := given(t, "disc-deemphasis", "change", map[string]string{"tone": tone}); got < span[0] || got > span[1] {
			t.Errorf("%s: %g dB, and not between %g and %g", tone, got, span[0], span[1])
		}
	}
}
