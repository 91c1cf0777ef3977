package trade

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// valuesOf reads typed values, which must be sound.
func valuesOf(t testing.TB, m method.Method, typed ...string) method.Values {
	t.Helper()
	v := method.Values{}
	for _, line := range typed {
		name, text, _ := strings.Cut(line, "=")
		p, faults := m.Sheet().Input(name).Read(fault.NewText("test", text).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		v[name] = p
	}
	return v
}

func ask(t testing.TB, m method.Method, word, line string) *method.Ask {
	t.Helper()
	a, faults := m.Sheet().ReadAsk(fault.NewText("test", line).All(), word == "least")
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return a
}

func methodOf(t testing.TB, name string) method.Method {
	t.Helper()
	m, ok := Library().Method(name)
	if !ok {
		t.Fatalf("no method %s", name)
	}
	return m
}

// TestSolve asks questions whose answers are worked by hand beside them.
func TestSolve(t *testing.T) {
	for _, c := range []struct{ method, values, word, line, want string }{
		// 8 ohm*(10^(0.5/20) - 1)/(2*13.17 ohm/km) = 17.99 m, with the gauge's own resistance
		{"speaker-wire", "gauge=16 AWG;load=8 ohm", "most", "run where loss at most 0.5 dB", "17.9 m"},
		// 9 m of 20 AWG (33.309 ohm/km by GNU units) lose 0.628 dB, of 19 AWG 0.501 dB, of 18 AWG 0.401 dB
		{"speaker-wire", "run=9 m;load=8 ohm", "most", "gauge where loss at most 0.5 dB", "18 AWG"},
		{"speaker-wire", "run=9 m;load=8 ohm", "least", "gauge where loss at least 0.5 dB", "19 AWG"},
		{"speaker-wire", "gauge=16 AWG;load=8 ohm", "most", "run where loss at most 20 dB", "150 m"},
		{"speaker-wire", "gauge=16 AWG;load=8 ohm", "most", "run where loss at most 0.0001 dB",
			"none: no run from 0.03 m to 150 m meets it: loss at most 0.0001 dB"},
		{"speaker-wire", "gauge=16 AWG;load=8 ohm;run=9 m", "most", "factor where loss at most 0.5 dB", "none: loss does not depend on factor here"},
		{"speaker-wire", "gauge=16 AWG;load=8 ohm", "most", "run where damping at least 20", "cannot tell: the amplifier's damping factor is not known"},
		// 1/(1/4 - 1/8) = 8 ohm; with 8 ohm beside 6 ohm the total is 3.43 ohm already
		{"loads-parallel", "loads=8 and ? ohm", "least", "loads where total at least 4 ohm", "8 ohm"},
		{"loads-parallel", "loads=? and 6 ohm", "least", "loads where total at least 4 ohm", "12 ohm"},
		{"loads-parallel", "loads=4 and ? ohm", "least", "loads where total at least 4 ohm",
			"none: no value of loads from 1 ohm to 64 ohm meets it: total at least 4 ohm"},
		// IEC 60228 class 5: 2.5 mm2 has 7.98 ohm/km, 1.5 mm2 13.3 ohm/km
		{"iec-size", "class=c5", "least", "size where each at most 10 ohm/km", "2.5 mm²"},
	} {
		t.Run(c.method+" "+c.word+" "+c.line, func(t *testing.T) {
			m := methodOf(t, c.method)
			a := ask(t, m, c.word, c.line)
			v := valuesOf(t, m, strings.Split(c.values, ";")...)
			a.Member = v[a.Input.Name].Asked
			got := method.Solve(m, v, a)
			text := got.Point.Text
			switch got.Value.State {
			case formula.None:
				text = "none: " + got.Value.Why
			case formula.Unknown:
				text = "cannot tell: " + got.Value.Why
			}
			if text != c.want {
				t.Errorf("it is %q, wanted %q", text, c.want)
			}
		})
	}
}

// TestSolveMeetsTarget runs every method forwards at seeded points, asks for
// the value that gives the result found there, and wants the exact answer to
// meet it to one part in 10⁹: over every method, every value that is no list
// or word, and every result that it moves.
func TestSolveMeetsTarget(t *testing.T) {
	eachData(t, func(t *testing.T, m *method.Data) {
		asked, r := map[string]bool{}, rand.New(rand.NewPCG(4, uint64(len(m.Sheet().Name))))
		for _, c := range casesOf(m.Sheet()) {
			for _, in := range m.Sheet().Takes {
				p, typed := c.Values[in.Name]
				if !typed || in.Choice != nil || in.Group != "" || in.Whole || len(in.Among) > 0 || in.From == nil || in.To == nil || !p.Known() {
					continue
				}
				p.Value.Number = drawn(r, in.From.Value, in.To.Value)
				v := c.Values.With(in.Name, p)
				for _, res := range m.Sheet().Gives {
					target := m.Run(v, res.Name).Results.Of(res.Name)
					pair := in.Name + " " + res.Name
					if asked[pair] || target.State != formula.Known || target.List != nil || target.Word != "" {
						continue
					}
					asked[pair] = true
					meets(t, m, v, in, res, target.Number)
				}
			}
		}
	})
}

func drawn(r *rand.Rand, from, to float64) float64 {
	if from > 0 {
		return from * math.Pow(to/from, r.Float64())
	}
	return from + (to-from)*r.Float64()
}

// meets asks for the most of a value at which a result is on either side of a
// target, and wants one of the two answers to meet it; a result that the value
// does not move must be told.
func meets(t *testing.T, m method.Method, v method.Values, in *method.Input, res *method.Result, target float64) {
	t.Helper()
	var said []string
	for _, relation := range []string{"at most", "at least"} {
		line := fmt.Sprintf("%s where %s %s %s", in.Name, res.Name, relation, targetText(res, target))
		a := ask(t, m, "most", line)
		got := method.Solve(m, v, a)
		if got.Value.State == formula.None && strings.Contains(got.Value.Why, "not depend") {
			return
		}
		said = append(said, fmt.Sprint(line, ": ", got.Value.Why, got.Exact))
		if got.Value.State != formula.Known {
			continue
		}
		p := v[in.Name]
		p.Value.Number = got.Exact
		if x := m.Run(v.With(in.Name, p), res.Name).Results.Of(res.Name); x.State == formula.Known &&
			math.Abs(x.Number-target) <= 1e-9*math.Max(math.Abs(target), tiny(res)) {
			return
		}
	}
	t.Errorf("%s: neither side meets the target %v: %s", m.Sheet().Name, target, strings.Join(said, "; "))
}

// tiny is one of the result's unit, so that a level of about 0 dB is held to
// parts of a decibel.
func tiny(res *method.Result) float64 {
	if res.Unit.Kind().Scale != 0 || res.Unit.Symbol() == "dB" {
		return 1
	}
	return 0
}

// targetText writes a target with all the digits that a number has.
func targetText(res *method.Result, target float64) string {
	text := fmt.Sprintf("%.17g", target)
	if base := res.Unit.Kind().Base(); base.Symbol() != "" {
		text = fmt.Sprintf("%.17g %s", base.FromBase(target), base.Symbol())
	}
	return text
}
