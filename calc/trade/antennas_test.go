package trade_test

import (
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
)

// antenna runs a method on values as they are typed at the counter.
func antenna(t *testing.T, name string, typed map[string]string) *method.Outcome {
	t.Helper()
	m, ok := trade.Library().Method(name)
	if !ok {
		t.Fatalf("there is no method %s", name)
	}
	return m.Run(read(t, m.Sheet(), typed))
}

// TestDipoleByBruteForce sums the field of a thin half-wave dipole, with the
// current of a sine on it, over ten thousand directions. It shares nothing
// with the method, which holds the resistance as a number.
func TestDipoleByBruteForce(t *testing.T) {
	const strips = 10000
	total, most := 0.0, 0.0
	for i := range strips {
		theta := math.Pi * (float64(i) + 0.5) / strips
		u := math.Pow(math.Cos(math.Pi/2*math.Cos(theta))/math.Sin(theta), 2)
		total += u * math.Sin(theta) * math.Pi / strips
		most = max(most, u)
	}
	// The waves of 1 A carry eta/(4 pi²) u into each steradian, at its peak.
	const space = 4e-7 * math.Pi * 299792458
	resistance := space / (2 * math.Pi) * total
	gain := 10 * math.Log10(2*most/total)
	plain := antenna(t, "dipole-impedance", map[string]string{"element": "plain"}).Results
	folded := antenna(t, "dipole-impedance", map[string]string{"element": "folded"}).Results
	agrees(t, "impedance of a plain dipole", plain.Of("impedance"), resistance)
	agrees(t, "impedance of a folded dipole", folded.Of("impedance"), 4*resistance)
	agrees(t, "gain", plain.Of("gain_over_even"), gain)
}

// TestDBfConventions holds apart what the trade mixes up: the microvolts
// across a loaded socket, and those of a generator with nothing on it.
func TestDBfConventions(t *testing.T) {
	at := func(name, set string) *method.Outcome {
		return antenna(t, "tuner-sensitivity", map[string]string{"stated_level": name, "tuner_ohms": set})
	}
	t.Run("both are given, and twofold apart", func(t *testing.T) {
		r := at("0 dBf", "75 ohm").Results
		// 0.2738612788 uV from GNU units: sqrt(1e-15 W 75 ohm); 0.55 uV from a
		// published table whose microvolts are open-circuit ones.
		agrees(t, "loaded", r.Of("loaded"), 0.2738612788e-6)
		if emf := r.Of("emf").Number; math.Abs(emf-0.55e-6) > 0.007e-6 || emf != 2*r.Of("loaded").Number {
			t.Errorf("0 dBf at 75 ohm is %v V open circuit, and the table has 0.55 microvolts", emf)
		}
	})
	t.Run("0.55 microvolts are 0 dBf in two ways, and 6 dB off in two", func(t *testing.T) {
		for _, c := range []struct {
			convention, set string
			dBf             float64
		}{{"emf", "75 ohm", 0}, {"loaded", "300 ohm", 0}, {"loaded", "75 ohm", 6}, {"emf", "300 ohm", -6}} {
			r := antenna(t, "tuner-sensitivity", map[string]string{"stated_volts": "0.55 uV", "convention": c.convention, "tuner_ohms": c.set}).Results
			if got := r.Of("in_dBf").Number + 150; math.Abs(got-c.dBf) > 0.1 {
				t.Errorf("%s at %s: %v dBf, and %v are right", c.convention, c.set, got, c.dBf)
			}
		}
	})
	t.Run("microvolts of no convention tell nothing", func(t *testing.T) {
		r := antenna(t, "tuner-sensitivity", map[string]string{"stated_volts": "2 uV", "convention": "don't know", "tuner_ohms": "75 ohm"}).Results
		for _, name := range []string{"in_dBf", "loaded", "emf"} {
			if r.Of(name).State != formula.Unknown {
				t.Errorf("%s is %+v with no convention named", name, r.Of(name))
			}
		}
	})
	t.Run("the sense stands beside the figure", func(t *testing.T) {
		m, _ := trade.Library().Method("tuner-sensitivity")
		if l, e := m.Sheet().Result("loaded").Sense, m.Sheet().Result("emf").Sense; l != "loaded" || e != "emf" {
			t.Errorf("the senses are %q and %q", l, e)
		}
	})
}

// TestLegAndWhole holds apart the dipole from end to end and one leg of it.
func TestLegAndWhole(t *testing.T) {
	for _, name := range []string{"dipole", "folded-dipole"} {
		t.Run(name, func(t *testing.T) {
			r := antenna(t, name, map[string]string{"station": "98 MHz"}).Results
			agrees(t, "whole", r.Of("whole"), 468.0/98*0.3048) // 468 ft over the megahertz
			agrees(t, "leg", r.Of("leg"), 468.0/98*0.3048/2)
			m, _ := trade.Library().Method(name)
			for _, res := range m.Sheet().Gives {
				inMetres := res.Unit.Symbol() == "m" && (res.Name == "whole" || res.Name == "leg")
				if inMetres && res.Sense != res.Name {
					t.Errorf("%s has the sense %q", res.Name, res.Sense)
				}
			}
		})
	}
}

// TestLineLossStaysBetween refuses a frequency beyond the published points.
func TestLineLossStaysBetween(t *testing.T) {
	m, _ := trade.Library().Method("line-loss")
	for _, c := range []struct {
		lead, carrier string
		stopped       bool
	}{
		{"rg59", "30 MHz", false}, {"rg59", "150 MHz", false}, {"rg59", "151 MHz", true}, {"rg59", "29 MHz", true},
		{"series6", "57 MHz", false}, {"series6", "213 MHz", false}, {"series6", "56 MHz", true}, {"series6", "214 MHz", true},
	} {
		t.Run(c.lead+" at "+c.carrier, func(t *testing.T) {
			faults := typedFaults(t, m, map[string]string{"lead": c.lead, "carrier": c.carrier, "lead_length": "10 m"})
			if faults.Stopped() != c.stopped {
				t.Errorf("stopped: %v, and %v is right\n%s", faults.Stopped(), c.stopped, faults)
			}
		})
	}
}

// typedFaults reads typed values and tells what is wrong with them.
func typedFaults(t *testing.T, m method.Method, typed map[string]string) *fault.List {
	t.Helper()
	values, all := method.Values{}, &fault.List{}
	for name, text := range typed {
		p, faults := m.Sheet().Input(name).Read(fault.NewText(name, text).All())
		if faults.Stopped() {
			return faults
		}
		values[name] = p
	}
	if faults := m.Sheet().Check(values, fault.Place{}); faults != nil {
		all = faults
	}
	if !all.Stopped() {
		return m.Run(values).Faults
	}
	return all
}

// harmless is the side to which each antenna result rounds: a loss up, what
// is left to spare or comes through down.
var harmless = map[string]string{
	"mismatch.mismatch_loss": "up", "mismatch.return_loss": "down", "balun.with_it": "up", "balun.spared": "down",
	"field-strength.received": "down", "field-strength.margin": "down", "line-loss.lost": "up", "twin-lead.lost_most": "up",
	"radio-horizon.horizon": "down", "return-loss.mismatch_loss": "up", "folded-dipole.ribbon": "up",
	"grounding-wire.diameter": "down", "grounding-wire.least_diameter": "up",
}

// TestAntennasRoundHarmlessly prints figures that lie between two others, and
// sees to which of them they go.
func TestAntennasRoundHarmlessly(t *testing.T) {
	typed := map[string]map[string]string{
		"mismatch": {"termination": "300 ohm", "line": "75 ohm"}, "balun": {"aerial_ohms": "292 ohm", "tuner_ohms": "75 ohm"},
		"field-strength": {"field": "54 dBuV/m", "station": "98 MHz", "wanted_level": "45 dBf"},
		"line-loss":      {"lead": "series6", "lead_length": "15 m", "carrier": "98 MHz"}, "twin-lead": {"lead_length": "15 m"},
		"radio-horizon": {"mast": "300 m", "own_height": "10 m"}, "return-loss": {"stated_return": "14 dB"},
		"folded-dipole": {"station": "98 MHz"}, "grounding-wire": {"gauge": "12 AWG"},
	}
	for name, side := range harmless {
		t.Run(name, func(t *testing.T) {
			of, result, _ := strings.Cut(name, ".")
			m, _ := trade.Library().Method(of)
			res := m.Sheet().Result(result)
			v := antenna(t, of, typed[of]).Results.Of(result)
			printed := reread(t, res, v)
			if side == "up" && printed < v.Number || side == "down" && printed > v.Number || printed == v.Number {
				t.Errorf("%v is printed as %s", v.Number, res.Text(v))
			}
		})
	}
}

// reread reads a printed figure again, as a number in base units.
func reread(t *testing.T, r *method.Result, v formula.Value) float64 {
	t.Helper()
	text, _, _ := strings.Cut(r.Text(v), ",")
	q, f := unit.ReadAs(fault.NewText(r.Name, text).All(), r.Unit)
	if f != nil {
		t.Fatal(f)
	}
	return q.Value
}
