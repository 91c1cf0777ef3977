package method

import (
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// bumps rises, falls and rises again: (x - 1)(x - 2)(x - 4) over 0 to 5, and
// touches 1 from below in a peak far narrower than the grid.
const bumps = `
method: bumps
asks: Where is it above nothing?
area: test
takes:
  x: {unit: m, from: 0, to: 5}
  n: {whole: yes, from: 0, to: 5, usually: 1}
  idle: {unit: m, from: 0, to: 5, usually: 1 m}
working:
  - cubic = (x - 1 m)*(x - 2 m)*(x - 4 m)/1 m^3   [arithmetic]
  - peak = 1.01/(1 + ((x - 3.3333 m)/0.001 m)^2)   [arithmetic]
  - steps = (n - 1)*(n - 2)*(n - 4)   [arithmetic]
gives:
  cubic: {unit: number, places: 2, round: either}
  peak: {unit: number, places: 2, round: either}
  steps: {unit: number, places: 0, round: either}
no outside case: it tests the search
`

func bumpy(t *testing.T) Method {
	t.Helper()
	base, faults := Load(Sources{References: []*fault.Text{fault.NewText("references.yaml",
		"arithmetic: {title: Arithmetic, mark: computed, date: worked in 2026}\n")}}, nil)
	if faults.Stopped() {
		t.Fatal(faults)
	}
	l, faults := Load(Sources{Methods: []*fault.Text{fault.NewText("bumps.yaml", strings.TrimPrefix(bumps, "\n"))}}, base)
	if faults.Stopped() {
		t.Fatal(faults)
	}
	m, _ := l.Method("bumps")
	return m
}

func TestSolveStretches(t *testing.T) {
	m := bumpy(t)
	for _, c := range []struct {
		line  string
		least bool
		want  float64
		parts int
	}{
		{"x where cubic at least 0", false, 5, 2},
		{"x where cubic at least 0", true, 1, 2},
		{"x where cubic at most 0", false, 4, 2},
		{"x where cubic at most 0", true, 0, 2},
		{"x where cubic = 0", false, 4, 3},
		{"x where cubic at most 0 or x above 4.5 m", false, 5, 3},
		// the peak is above 1 within 0.1 mm of 3.3333 m
		{"x where peak at least 1", false, 3.3334, 0},
		{"x where peak at least 1", true, 3.3332, 0},
		{"x where peak at most 1", true, 0, 2},
		{"n where steps at least 0", false, 5, 2},
		{"n where steps at least 0", true, 1, 2},
		{"n where steps below 0", false, 3, 2},
	} {
		t.Run(c.line, func(t *testing.T) {
			a, faults := m.Sheet().ReadAsk(fault.NewText("test", c.line).All(), c.least)
			if faults.Stopped() {
				t.Fatal(faults)
			}
			x := Point{Value: formula.Quantity(2), Unit: m.Sheet().Input("x").Unit, Text: "2 m"}
			got := Solve(m, Values{"x": x}, a)
			if got.Value.State != formula.Known || math.Abs(got.Value.Number-c.want) > 1e-9 {
				t.Errorf("it is %v %s, wanted %v", got.Value.Number, got.Value.Why, c.want)
			}
			if len(got.Parts) != c.parts {
				t.Errorf("it is met in %v, wanted %d stretches", got.Parts, c.parts)
			}
		})
	}
}

func TestSolveDoesNotDepend(t *testing.T) {
	m := bumpy(t)
	a, _ := m.Sheet().ReadAsk(fault.NewText("test", "idle where cubic at least 0 and peak at most 2").All(), false)
	x := Point{Value: formula.Quantity(2), Unit: m.Sheet().Input("x").Unit, Text: "2 m"}
	if got := Solve(m, Values{"x": x}, a); got.Value.Why != "cubic and peak do not depend on idle here" {
		t.Errorf("it says %q", got.Value.Why)
	}
}
