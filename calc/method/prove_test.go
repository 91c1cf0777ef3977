package method

import (
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// Made-up rules whose truth over a range is worked by hand beside each claim.
const provedMethods = `method: made-up
asks: Which shapes has a curve?
takes:
  x: {unit: number, from: 0, to: 100}
  y: {unit: number, from: 0, to: 100}
  w: {choice: [flat, steep], usually: flat}
working:
  - dip = 1 - 2*exp(-((x - 36.6137)/0.006)^2)   [rule]
  - hill = x*(10 - x)   [rule]
  - saddle = (x - 3)^2 - (y - 4)^2   [rule]
  - same = (x + y)/x   [rule]
  - stairs = rounddown(x)   [rule]
  - sloped = 2*x when w is steep, else x   [rule]
  - log = none "there is none" when x = 0, else log10(x)   [rule]
  - wave = sin(x*1 rad)*cos(y*1 rad)   [rule]
gives:
  dip: {unit: number, places: 2, round: either}
  hill: {unit: number, places: 2, round: either}
  saddle: {unit: number, places: 2, round: either}
  same: {unit: number, places: 2, round: either}
  stairs: {unit: number, places: 2, round: either}
  sloped: {unit: number, places: 2, round: either}
  log: {unit: number, places: 2, round: either}
  wave: {unit: number, places: 2, round: either}
no outside case: made up
`

func provedMethod(t testing.TB) *Data {
	t.Helper()
	l, faults := Load(Sources{
		Methods:    []*fault.Text{fault.NewText("made-up.yaml", provedMethods)},
		References: []*fault.Text{fault.NewText("references.yaml", "rule: {title: A rule, mark: practice}\n")},
	}, nil)
	if faults.Stopped() {
		t.Fatal(faults)
	}
	m, _ := l.Method("made-up")
	return m.(*Data)
}

// TestProve proves and refutes claims.
func TestProve(t *testing.T) {
	d := provedMethod(t)
	for _, c := range []struct {
		claim          string
		x0, x1, y0, y1 float64
		want           ProofOutcome
	}{
		// Below 0 where |x - 36.6137| < 0.006*sqrt(ln 2) = 0.004995: 0.00999 of the 100 that x runs through.
		{"dip at least 0", 0, 100, 1, 1, Refuted},
		{"dip at least -1", 0, 100, 1, 1, Proved}, // the bottom is -1 itself
		{"dip at least -0.9999", 0, 100, 1, 1, Refuted},
		{"hill at most 25", 0, 10, 1, 1, Proved}, // met at 5 alone, without room
		{"hill at most 24.99999", 0, 10, 1, 1, Refuted},
		{"hill below 25", 0, 10, 1, 1, Refuted},
		{"saddle at least -16", 0, 10, 0, 8, Proved},
		{"saddle at most 49", 0, 10, 0, 8, Proved},
		{"saddle at most 48.9", 0, 10, 0, 8, Refuted},
		{"same at most 9 and same at least 1.5", 1, 2, 1, 8, Proved}, // 1 + y/x, though x stands twice
		{"same at most 8.99", 1, 2, 1, 8, Refuted},
		{"stairs at most 4", 0, 4.999999, 1, 1, Proved},
		{"stairs at most 4", 0, 5, 1, 1, Refuted},
		{"stairs at least 1", 1, 5, 1, 1, Proved},
		{"sloped at most 7", 0, 7, 1, 1, Proved},
		{"log at most 2", 1, 100, 1, 1, Proved},
		{"log at most 2", 0, 100, 1, 1, Refuted}, // there is none at 0, and none is never met
		{"wave at most 1", 0, 100, 0, 100, Proved},
		{"wave at most 0.9999", 0, 100, 0, 100, Refuted},
		{"wave at least -1 or x at most 5", 0, 10, 0, 10, Proved},
		{"not hill above 25", 0, 10, 1, 1, Proved},
	} {
		t.Run(c.claim, func(t *testing.T) {
			p := Prove(d, claimed(t, d, c.claim), Box{Values: Values{"x": {}, "y": {}}, Moving: []Moving{
				{"x", -1, c.x0, c.x1}, {"y", -1, c.y0, c.y1},
			}})
			if p.Outcome != c.want {
				t.Fatalf("it ended as %d after %d parts at %v: %s", p.Outcome, p.Boxes, p.At, p.Why)
			}
			if p.Outcome == Refuted {
				e := &forwards{inputs: newInputs(d.sheet, p.At), outcome: d.Run(p.At)}
				if truth, _ := claimed(t, d, c.claim).Truth(e); truth == formula.True {
					t.Errorf("it holds at %v, where it is said not to", p.At)
				}
			}
			t.Logf("%d parts", p.Boxes)
		})
	}
}

// TestProveGivesUp: what cannot be settled within the budget is not proved.
func TestProveGivesUp(t *testing.T) {
	d := provedMethod(t)
	x := []Moving{{"x", -1, 0, 100}, {"y", -1, 0, 100}}
	// Equal everywhere, but through two workings: no part of the range is ever narrow enough.
	p := Prove(d, claimed(t, d, "saddle + 1e-13*x >= (x - 3)^2 - (y - 4)^2 + 1e-13*x"), Box{Values: Values{"x": {}, "y": {}}, Moving: x})
	if p.Outcome != NotProved || p.Why == "" || p.Boxes < mostBoxes {
		t.Errorf("it ended as %d after %d parts: %q", p.Outcome, p.Boxes, p.Why)
	}
}

func claimed(t testing.TB, d *Data, claim string) *formula.Formula {
	t.Helper()
	faults := &fault.List{}
	f := d.sheet.condition(fault.NewText("claim", claim).All(), faults)
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return f
}
