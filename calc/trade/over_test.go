package trade

import (
	"math"
	"math/rand/v2"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// boxes draws boxes about the cases of a method: of the numbers that a case
// types, list members too, some move within the hard bounds.
func boxes(r *rand.Rand, m *method.Data, draws int, use func(method.Box)) {
	for _, c := range casesOf(m.Sheet()) {
		for range draws {
			b := method.Box{Values: c.Values}
			for _, in := range m.Sheet().Takes {
				p, typed := c.Values[in.Name]
				if !typed || in.Choice != nil || in.Whole || len(in.Among) > 0 || !p.Known() || in.From == nil || in.To == nil {
					continue
				}
				add := func(member int, v formula.Value) {
					if v.State == formula.Known && r.IntN(3) > 0 {
						lo, hi := about(r, v.Number, in.From.Value, in.To.Value)
						b.Moving = append(b.Moving, method.Moving{Name: in.Name, Member: member, Lo: lo, Hi: hi})
					}
				}
				if p.Value.List == nil {
					add(-1, p.Value)
				}
				for i, member := range p.Value.List {
					add(i, member)
				}
			}
			use(b)
		}
	}
}

// about draws bounds round a value, narrow ones and wide ones.
func about(r *rand.Rand, v, from, to float64) (lo, hi float64) {
	wide := math.Pow(10, -3*r.Float64())
	span := math.Max(math.Abs(v), (to-from)/1000) * wide
	return math.Max(from, v-span*r.Float64()), math.Min(to, v+span*r.Float64())
}

// drawnFrom draws a point of a box.
func drawnFrom(r *rand.Rand, b method.Box) method.Values {
	return b.At(func(m method.Moving) float64 {
		switch r.IntN(8) {
		case 0:
			return m.Lo
		case 1:
			return m.Hi
		}
		return m.Lo + m.Width()*r.Float64()
	})
}

// TestOverHolds draws boxes and points in them for every method, and sees
// that every result, and every condition about it, is among what the box may
// give.
func TestOverHolds(t *testing.T) {
	eachData(t, func(t *testing.T, d *method.Data) {
		held, name := 0, d.Sheet().Name
		r := rand.New(rand.NewPCG(8, uint64(len(name))))
		boxes(r, d, 12, func(b method.Box) {
			for _, res := range d.Sheet().Gives {
				bend := d.Over(b, res.Name)
				for range 8 {
					v := drawnFrom(r, b)
					got := d.Run(v, res.Name).Results.Of(res.Name)
					if !bend.Range.Holds(got) {
						t.Fatalf("%s: %s is %+v at %v, and over %+v only %+v", name, res.Name, got, texts(v), b.Moving, bend.Range)
					}
					held++
				}
			}
		})
		if held < 90 {
			t.Errorf("only %d results were held", held)
		}
	})
}

func texts(v method.Values) map[string]formula.Value {
	all := map[string]formula.Value{}
	for name, p := range v {
		all[name] = p.Value
	}
	return all
}

// TestOverIsTight: over a box of one point a result is hardly wider than its
// value, and over a box along which it rises its bounds are those of the ends.
func TestOverIsTight(t *testing.T) {
	d := methodOf(t, "speaker-wire").(*method.Data)
	v := valuesOf(t, d, "gauge=16 AWG", "run=9 m", "load=8 ohm")
	at := func(run, load float64) float64 {
		x := v.With("run", method.Point{Value: formula.Quantity(run)}).With("load", method.Point{Value: formula.Quantity(load)})
		return d.Run(x, "loss").Results.Of("loss").Number
	}
	got := d.Over(method.Box{Values: v, Moving: []method.Moving{
		{Name: "run", Member: -1, Lo: 3, Hi: 15}, {Name: "load", Member: -1, Lo: 7.99, Hi: 8},
	}}, "loss").Range
	for _, end := range []struct{ got, want float64 }{{got.Lo, at(3, 8)}, {got.Hi, at(15, 7.99)}} {
		if math.Abs(end.got-end.want) > 1e-12*end.want {
			t.Errorf("an end of the loss is %.17g, and at the corner it is %.17g", end.got, end.want)
		}
	}
}
