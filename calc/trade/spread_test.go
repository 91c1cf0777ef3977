package trade

import (
	"math"
	"math/rand/v2"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// spreadDraws is how many points are drawn inside the limits of all methods
// together, at least.
const spreadDraws = 100_000

// TestSpread draws limits about the cases of every method and 100,000 points
// inside them: no result falls outside its from-to, which is wider than the
// true extremes by at most 2 % of their width, or 10⁻⁹ of the value. The true
// extremes are looked for by the draws, by all corners, and by walking from
// the best of these to better ones nearby. Results that jump or are none
// somewhere inside need only be contained.
func TestSpread(t *testing.T) {
	drawn, tight, jumping := 0, 0, 0
	for _, name := range Library().Names() {
		d, ok := methodOf(t, name).(*method.Data)
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(15, uint64(len(name))))
		boxes(r, d, 3, func(b method.Box) {
			if len(b.Moving) == 0 {
				return
			}
			for _, res := range d.Sheet().Gives {
				for _, member := range membersOf(d, b, res.Name) {
					s := d.Spread(b, res.Name, member)
					e := &extremes{d: d, b: b, result: res.Name, member: member, lo: math.Inf(1), hi: math.Inf(-1)}
					drawn += e.search(r, 200)
					e.held(t, s)
					if s.Jumps {
						jumping++
						continue
					}
					tight++
					slack := math.Max(0.02*(e.hi-e.lo), 1e-9*math.Max(math.Abs(e.lo), math.Abs(e.hi)))
					if wider := (s.High - s.Low) - (e.hi - e.lo); wider > slack {
						t.Errorf("%s: %s goes from %.9g to %.9g over %+v, and only from %.9g to %.9g was met", name, res.Name, s.Low, s.High, b.Moving, e.lo, e.hi)
					}
				}
			}
		})
	}
	if drawn < spreadDraws || tight < 200 || jumping == 0 {
		t.Errorf("%d draws, %d from-to held tight, %d that jump", drawn, tight, jumping)
	}
}

// membersOf returns the members that a result has, -1 for one that is no list,
// none for a word.
func membersOf(d *method.Data, b method.Box, result string) []int {
	v := d.Run(b.Values, result).Results[result]
	switch {
	case v.Word != "":
		return nil
	case v.List == nil:
		return []int{-1}
	}
	var all []int
	for i := range v.List {
		all = append(all, i)
	}
	return all
}

// extremes are the furthest values of a result that were met.
type extremes struct {
	d           *method.Data
	b           method.Box
	result      string
	member      int
	lo, hi      float64
	least, most []float64 // where
}

func (e *extremes) at(x []float64) {
	i := -1
	v := e.d.Run(e.b.At(func(method.Moving) float64 { i++; return x[i] }), e.result).Results[e.result]
	if e.member >= 0 && e.member < len(v.List) {
		v = v.List[e.member]
	}
	if v.State != formula.Known || v.List != nil {
		return
	}
	if v.Number < e.lo {
		e.lo, e.least = v.Number, append([]float64(nil), x...)
	}
	if v.Number > e.hi {
		e.hi, e.most = v.Number, append([]float64(nil), x...)
	}
}

// search looks for the extremes, and returns how many points it drew.
func (e *extremes) search(r *rand.Rand, draws int) int {
	x := make([]float64, len(e.b.Moving))
	for corner := range 1 << len(x) {
		for i, m := range e.b.Moving {
			if x[i] = m.Lo; corner>>i&1 == 1 {
				x[i] = m.Hi
			}
		}
		e.at(x)
	}
	for range draws {
		for i, m := range e.b.Moving {
			x[i] = m.Lo + m.Width()*r.Float64()
		}
		e.at(x)
	}
	for step := 0.2; step > 1e-4; step *= 0.7 {
		for _, from := range [][]float64{e.least, e.most} {
			for i, m := range e.b.Moving {
				for _, by := range []float64{-step, step} {
					if from != nil {
						copy(x, from)
						x[i] = math.Max(m.Lo, math.Min(m.Hi, x[i]+by*m.Width()))
						e.at(x)
					}
				}
			}
		}
	}
	return draws
}

func (e *extremes) held(t *testing.T, s method.Spread) {
	t.Helper()
	if math.IsInf(e.lo, 0) {
		return
	}
	if !s.Known || e.lo < s.Low || e.hi > s.High {
		t.Errorf("%s: %s was met from %.17g to %.17g over %+v, and is said to go from %.17g to %.17g",
			e.d.Sheet().Name, e.result, e.lo, e.hi, e.b.Moving, s.Low, s.High)
	}
}

// TestSpreadMatters: the value that matters most is the one that moves the
// result most.
func TestSpreadMatters(t *testing.T) {
	d := methodOf(t, "speaker-wire").(*method.Data)
	v := valuesOf(t, d, "gauge=16 AWG", "run=9 m", "load=8 ohm")
	run, load := method.Moving{Name: "run", Member: -1, Lo: 8.9, Hi: 9.1}, method.Moving{Name: "load", Member: -1, Lo: 6, Hi: 10}
	if s := d.Spread(method.Box{Values: v, Moving: []method.Moving{run, load}}, "loss", -1); s.Matters != "load" {
		t.Errorf("%q is said to matter most", s.Matters)
	}
	load.Lo, load.Hi, run.Lo = 7.99, 8.01, 4
	if s := d.Spread(method.Box{Values: v, Moving: []method.Moving{run, load}}, "loss", -1); s.Matters != "run" {
		t.Errorf("%q is said to matter most", s.Matters)
	}
}
