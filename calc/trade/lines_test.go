package trade_test

import (
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// given runs a method and returns one of its results, which must be known.
func given(t *testing.T, name, result string, typed map[string]string) float64 {
	t.Helper()
	m, ok := trade.Library().Method(name)
	if !ok {
		t.Fatalf("there is no %s", name)
	}
	v, ok := m.Run(read(t, m.Sheet(), typed)).Results.Find(result)
	if !ok || math.IsNaN(v.Number) {
		t.Fatalf("%s of %s is %v", result, name, v)
	}
	return v.Number
}

// TestLevelsAreNotMixed types levels in the wrong scale: a plain number of
// decibels says over what it is told no more than a sound level does.
func TestLevelsAreNotMixed(t *testing.T) {
	m, _ := trade.Library().Method("line-level")
	for _, typed := range []string{"4 dB", "4 dBf", "80 dB SPL", "4"} {
		t.Run(typed, func(t *testing.T) {
			if _, faults := m.Sheet().Input("level").Read(fault.NewText("level", typed).All()); !faults.Stopped() {
				t.Errorf("%q passes as a line level", typed)
			}
		})
	}
	dBu := given(t, "line-level", "rms_volts", map[string]string{"level": "0 dBu"})
	dBV := given(t, "line-level", "rms_volts", map[string]string{"level": "0 dBV"})
	if math.Abs(dBV/dBu-math.Sqrt(1/0.6)) > 1e-9 {
		t.Errorf("0 dBV is %g V and 0 dBu %g V", dBV, dBu)
	}
}

// TestNothingFitsAPhonoInput sees that a line source in a phono input is refused
// however weak it is and however much the input bears.
func TestNothingFitsAPhonoInput(t *testing.T) {
	m, _ := trade.Library().Method("line-into-phono")
	for _, source := range []string{"1 mV", "50 mV", "0.1 V", "2 V", "10 V"} {
		for _, overload := range []string{"10 mV", "100 mV", "1000 mV"} {
			t.Run(source+" on "+overload, func(t *testing.T) {
				o := m.Run(read(t, m.Sheet(), map[string]string{"source_volts": source, "overload": overload}))
				if o.Verdicts[0].Grade != method.DoNotConnect {
					t.Errorf("the verdict is %v", o.Verdicts[0].Grade)
				}
				var names []string
				for _, c := range o.Cautions {
					names = append(names, c.ID)
				}
				if got := strings.Join(names, " "); !strings.Contains(got, "phono-overload") || !strings.Contains(got, "mute-first") {
					t.Errorf("it brings %q only", got)
				}
			})
		}
	}
}

// TestCartridgePeaksAtItsResonance searches the response of an almost undamped
// cartridge for its peak, which must lie where the resonance is said to be. The
// two methods share no formula.
func TestCartridgePeaksAtItsResonance(t *testing.T) {
	for _, c := range []struct{ coil, capacitance string }{{"500 mH", "250 pF"}, {"300 mH", "400 pF"}, {"700 mH", "150 pF"}} {
		t.Run(c.coil+" and "+c.capacitance, func(t *testing.T) {
			level := func(hertz float64) float64 {
				return given(t, "cartridge-response", "level_change", map[string]string{
					"coil": c.coil, "coil_resistance": "0 ohm", "capacitance": c.capacitance, "phono_load": "1000000 ohm",
					"frequency": number(hertz) + " Hz",
				})
			}
			low, high := 2000.0, 40000.0
			for range 80 {
				a, b := low+(high-low)/3, high-(high-low)/3
				if level(a) < level(b) {
					low = a
				} else {
					high = b
				}
			}
			want := given(t, "cartridge-resonance", "peak", map[string]string{"coil": c.coil, "capacitance": c.capacitance})
			if math.Abs(low-want) > 0.002*want {
				t.Errorf("the response peaks at %.0f Hz, and the resonance lies at %.0f Hz", low, want)
			}
		})
	}
}

// TestReplayTurnsAtItsCorners sees the curve at the corners of its own time
// constants: three decibels from its straight parts, as a corner is drawn by
// hand, apart from what the other corners add there.
func TestReplayTurnsAtItsCorners(t *testing.T) {
	at := func(hertz float64) float64 {
		return given(t, "replay-curve", "replay_level", map[string]string{"frequency": number(hertz) + " Hz"})
	}
	corner := func(tau string) float64 {
		return given(t, "corner", "corner", map[string]string{"time_constant": tau})
	}
	pole := func(hertz float64, tau string) float64 {
		return given(t, "one-pole", "level_change", map[string]string{"frequency": number(hertz) + " Hz", "time_constant": tau})
	}
	for _, tau := range []string{"3180 us", "318 us", "75 us"} {
		t.Run(tau, func(t *testing.T) {
			f := corner(tau)
			want := pole(f, "3180 us") - pole(f, "318 us") + pole(f, "75 us") - (pole(1000, "3180 us") - pole(1000, "318 us") + pole(1000, "75 us"))
			if math.Abs(pole(f, tau)+10*math.Log10(2)) > 1e-9 {
				t.Errorf("a pole takes %g dB at its corner", pole(f, tau))
			}
			if got := at(f); math.Abs(got-want) > 1e-9 {
				t.Errorf("the curve is at %g dB there, and its poles make %g dB", got, want)
			}
		})
	}
}

// TestHalfTheCapacitanceTwiceTheLength holds what the guide to leads says of
// dearer leads.
func TestHalfTheCapacitanceTwiceTheLength(t *testing.T) {
	typed := func(each, length string) map[string]string {
		return map[string]string{"output_ohms": "10 kohm", "length": length, "per_metre": each, "frequency": "20 kHz"}
	}
	common := given(t, "line-lead", "treble_change", typed("100 pF/m", "6 m"))
	better := given(t, "line-lead", "treble_change", typed("50 pF/m", "12 m"))
	if math.Abs(common-better) > 1e-9 {
		t.Errorf("%g dB over the common lead, and %g dB over the better one", common, better)
	}
	lead := func(each string) float64 {
		return given(t, "phono-lead", "longest_lead", map[string]string{
			"arm_lead": "50 pF", "length": "1 m", "per_metre": each, "input_capacitance": "100 pF", "most_load": "300 pF",
		})
	}
	if math.Abs(lead("50 pF/m")-2*lead("100 pF/m")) > 1e-9 {
		t.Errorf("%g m and %g m", lead("50 pF/m"), lead("100 pF/m"))
	}
}
