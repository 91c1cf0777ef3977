package trade

import (
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// claimOver is a claim about a method, for values of which some move, each
// "name from … to …" or "name member from … to …".
type claimOver struct {
	name, method, values string
	moving               []string
	claim                string
	want                 method.ProofOutcome
}

// claims are nineteen claims of differing hardness about the flagship methods.
// What each result comes to at the corner or the point that decides was worked
// with bc 1.07 from the rules as the references state them (resistance of wire
// from 58 MS/m and the rule of the gauge), but for those whose truth is
// algebra, which is said.
var claims = []claimOver{
	// 0.41886 dB at 15 m.
	{"true with room", "speaker-wire", "gauge=16 AWG;load=8 ohm", []string{"run from 3 m to 15 m"}, "loss at most 0.5 dB", method.Proved},
	{"false over half its range", "speaker-wire", "gauge=16 AWG;load=8 ohm", []string{"run from 3 m to 15 m"}, "loss at most 0.25 dB", method.Refuted},
	// 0.41885663695 dB at 15 m, 0.41882392347 dB at 14.9988 m, one ten-thousandth of the range before.
	{"tight at an end", "speaker-wire", "gauge=16 AWG;load=8 ohm", []string{"run from 3 m to 15 m"}, "loss at most 0.418856637 dB", method.Proved},
	{"false on the last ten-thousandth", "speaker-wire", "gauge=16 AWG;load=8 ohm", []string{"run from 3 m to 15 m"}, "loss at most 0.418823923 dB", method.Refuted},
	// 0.33298855823 dB at 15 m into 4 ohm.
	{"tight at a corner", "speaker-wire", "gauge=12 AWG", []string{"run from 3 m to 15 m", "load from 4 ohm to 16 ohm"}, "loss at most 0.33298856 dB", method.Proved},
	{"false at a corner", "speaker-wire", "gauge=12 AWG", []string{"run from 3 m to 15 m", "load from 4 ohm to 16 ohm"}, "loss at most 0.33298855 dB", method.Refuted},
	// x*(1 - x) is 1/4 at x = 1/2, which is where the wire equals the load, at 11.8148 m; it is above
	// 1/4 - 2.5185e-8 on 0.015 m about that, one ten-thousandth of the range.
	{"tight at one point inside", "speaker-wire", "gauge=30 AWG;load=8 ohm", []string{"run from 0.03 m to 150 m"}, "share*(1 - share) at most 25 %", method.Proved},
	{"false on a ten-thousandth inside", "speaker-wire", "gauge=30 AWG;load=8 ohm", []string{"run from 0.03 m to 150 m"}, "share*(1 - share) at most 24.99999748147 %", method.Refuted},
	// The drop is 1 - (1 - share)^2 = 2*share - share^2.
	{"one result below another", "speaker-wire", "gauge=16 AWG", []string{"run from 9 m to 15 m", "load from 4 ohm to 8 ohm"}, "drop at most 2*share", method.Proved},
	// 29.8966 at 9 m into 4 ohm with a factor of 100.
	{"three values move", "speaker-wire", "gauge=12 AWG", []string{"run from 1 m to 9 m", "load from 4 ohm to 16 ohm", "factor from 100 to 1000"}, "damping at least 29.8", method.Proved},
	{"three values move and touch", "speaker-wire", "gauge=12 AWG", []string{"run from 1 m to 9 m", "load from 4 ohm to 16 ohm", "factor from 100 to 1000"}, "damping at least 29.896586", method.Proved},
	// 0.82504 dB at 15 m, a factor of 50, 3 ohm and 60 ohm.
	{"four values move", "speaker-wire", "gauge=12 AWG;load=8 ohm", []string{"run from 1 m to 15 m", "factor from 50 to 500", "low from 3 ohm to 6 ohm", "high from 20 ohm to 60 ohm"}, "swing at most 0.826 dB", method.Proved},
	// 0.50396 ohm at 15 m and 90 °C.
	{"a warm wire", "speaker-wire", "gauge=16 AWG;load=8 ohm", []string{"run from 3 m to 15 m", "temperature from -20 °C to 90 °C"}, "wire below 0.504 ohm", method.Proved},
	// 9.9794001 dB at 20 W, 86 dB, 4 m and 80 dB.
	{"headroom that touches", "amplifier-speaker", "rating=continuous;load=8 ohm;basis=watt;headroom=12 dB", []string{"watts from 20 W to 100 W", "sensitivity from 86 dB SPL to 92 dB SPL", "distance from 2 m to 4 m", "level from 70 dB SPL to 80 dB SPL"}, "headroom_left at least 9.9794 dB", method.Proved},
	{"headroom false at a corner", "amplifier-speaker", "rating=continuous;load=8 ohm;basis=watt;headroom=12 dB", []string{"watts from 20 W to 100 W", "sensitivity from 86 dB SPL to 92 dB SPL", "distance from 2 m to 4 m", "level from 70 dB SPL to 80 dB SPL"}, "headroom_left at least 9.97941 dB", method.Refuted},
	// 63.54626 W at 80 dB, 15 dB, 86 dB and 4 m.
	{"watts wanted", "watts-wanted", "load=8 ohm;basis=watt", []string{"level from 70 dB SPL to 80 dB SPL", "headroom from 10 dB to 15 dB", "sensitivity from 86 dB SPL to 92 dB SPL", "distance from 2 m to 4 m"}, "watts_wanted below 63.6 W", method.Proved},
	// 100 W*8 ohm/load is above 199.98 W below 4.0004 ohm, one ten-thousandth of the range.
	{"false on the first ten-thousandth", "other-load", "rated=100 W;rated_load=8 ohm", []string{"load from 4 ohm to 8 ohm"}, "power at most 199.98 W", method.Refuted},
	// Two equal loads make half of one.
	{"members of a list move", "loads-parallel", "loads=8 and 8 ohm", []string{"loads 1 from 8 ohm to 16 ohm", "loads 2 from 8 ohm to 16 ohm"}, "total at least 4 ohm", method.Proved},
	// Volts times amperes are the watts: equal everywhere, through two roots, but for a millionth.
	{"equal through two workings", "sine-power", "", []string{"power from 1 W to 100 W", "load from 4 ohm to 8 ohm"}, "volts*amps at most 1.000001*power", method.Proved},
}

// box reads a claim.
func (c claimOver) box(t testing.TB) (method.Method, *formula.Formula, method.Box) {
	t.Helper()
	m := methodOf(t, c.method)
	b := method.Box{Values: method.Values{}}
	if c.values != "" {
		b.Values = valuesOf(t, m, strings.Split(c.values, ";")...)
	}
	for _, text := range c.moving {
		name, ends, _ := strings.Cut(text, " from ")
		name, member, isMember := strings.Cut(name, " ")
		from, to, _ := strings.Cut(ends, " to ")
		moving := method.Moving{Name: name, Member: -1, Lo: inBase(t, from), Hi: inBase(t, to)}
		if isMember {
			moving.Member = int(member[0] - '1')
		} else {
			b.Values[name] = method.Point{Value: formula.Quantity(moving.Lo), Unit: m.Sheet().Input(name).Unit, Text: from}
		}
		b.Moving = append(b.Moving, moving)
	}
	return m, ask(t, m, "most", b.Moving[0].Name+" where "+c.claim).Holds, b
}

func inBase(t testing.TB, text string) float64 {
	t.Helper()
	q, f := unit.Read(fault.NewText("test", text).All())
	if f != nil {
		t.Fatal(f)
	}
	return q.Value
}

// TestClaims proves or refutes each claim. One that is proved holds at points
// drawn from its range, one that is refuted does not hold where it is said not
// to.
func TestClaims(t *testing.T) {
	for _, c := range claims {
		t.Run(c.name, func(t *testing.T) {
			m, holds, b := c.box(t)
			p := method.Prove(m, holds, b)
			if p.Outcome != c.want {
				t.Fatalf("it ended as %d after %d parts at %v: %s", p.Outcome, p.Boxes, texts(p.At), p.Why)
			}
			t.Logf("%d parts", p.Boxes)
			at := func(v method.Values) method.ProofOutcome {
				return method.Prove(m, holds, method.Box{Values: v}).Outcome
			}
			if c.want == method.Refuted && at(p.At) != method.Refuted {
				t.Errorf("it holds at %v, where it is said not to", texts(p.At))
			}
			r := rand.New(rand.NewPCG(19, 4))
			for range 300 {
				if v := drawnFrom(r, b); c.want == method.Proved && at(v) != method.Proved {
					t.Fatalf("it is proved, and does not hold at %v", texts(v))
				}
			}
		})
	}
}

// BenchmarkClaims times the proof of each.
func BenchmarkClaims(b *testing.B) {
	for _, c := range claims {
		b.Run(strings.ReplaceAll(c.name, " ", "_"), func(b *testing.B) {
			m, holds, box := c.box(b)
			parts := 0
			for b.Loop() {
				parts = method.Prove(m, holds, box).Boxes
			}
			b.ReportMetric(float64(parts), "parts")
		})
	}
}
