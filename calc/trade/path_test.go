package trade

import (
	"maps"
	"math/rand/v2"
	"reflect"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// TestPaths holds what a run gives that goes the way of an earlier one to what
// the same run gives step by step, to the bit: at points all over what each
// method takes and near to one another, at bounds, without what may be left
// out, with what nobody knows, for all results and for one.
func TestPaths(t *testing.T) {
	kinds := 150
	if raced {
		kinds = 15
	}
	eachData(t, func(t *testing.T, d *method.Data) {
		r := rand.New(rand.NewPCG(5, uint64(len(d.Sheet().Name))))
		draw := drawer{r, d.Sheet()}
		for _, c := range casesOf(d.Sheet()) {
			sameAnew(t, d, c.Values)
		}
		for range kinds {
			v, ok := draw.point()
			if !ok {
				continue
			}
			v = unknowing(r, d.Sheet(), v)
			for range 4 {
				sameAnew(t, d, v)
				if n := len(d.Sheet().Gives); n > 0 {
					sameAnew(t, d, v, d.Sheet().Gives[r.IntN(n)].Name)
				}
				v = moved(draw, v)
			}
			sweepAnew(t, draw, d, v)
		}
	})
}

// sweepAnew moves one value, or a few, and leaves them out now and then.
func sweepAnew(t *testing.T, draw drawer, d *method.Data, v method.Values) {
	t.Helper()
	var moving []string
	for _, in := range d.Sheet().Takes {
		if draw.r.IntN(3) == 0 {
			moving = append(moving, in.Name)
		}
	}
	var results []string
	for _, res := range d.Sheet().Gives {
		if len(results) == 0 || draw.r.IntN(2) == 0 {
			results = append(results, res.Name)
		}
	}
	sweep, one := method.NewSweep(d, v, moving, results...), method.NewSweep(d, v, moving, results[:min(1, len(results))]...)
	for range 8 {
		w := maps.Clone(v)
		for _, name := range moving {
			if p, ok := moved(draw, w)[name]; ok {
				w[name] = p
			}
			if draw.r.IntN(8) == 0 {
				delete(w, name)
			}
		}
		if d.Sheet().Check(w, fault.Place{}).Stopped() {
			continue
		}
		want := d.RunAnew(w, results...)
		sameOutcome(t, sweep.Run(w.Points(moving)...), want, w)
		if len(results) == 0 {
			continue
		}
		var x formula.Value
		ok := one.Value(&x, w.Points(moving)...)
		if y := d.RunAnew(w, results[0]).Results[0].Value; ok == (y.State == formula.Failed) || ok && !reflect.DeepEqual(x, y) {
			t.Errorf("%s at %v comes to %+v, %v, and step by step to %+v", results[0], typedTexts(w), x, ok, y)
		}
	}
}

// unknowing makes some values ones that nobody knows, where the method bears it.
func unknowing(r *rand.Rand, s *method.Sheet, v method.Values) method.Values {
	for _, in := range s.Takes {
		if _, typed := v[in.Name]; !typed || in.Group != "" || r.IntN(6) > 0 {
			continue
		}
		p := method.Point{Value: formula.CannotTell(in.Fact() + " is not known"), Text: method.DontKnow}
		if w := v.With(in.Name, p); !s.Check(w, fault.Place{}).Stopped() {
			v = w
		}
	}
	return v
}

// moved draws some of the numbers, and of the words, anew.
func moved(draw drawer, v method.Values) method.Values {
	for _, in := range draw.s.Takes {
		p, typed := v[in.Name]
		if !typed || !p.Known() || draw.r.IntN(2) == 0 {
			continue
		}
		w := v.With(in.Name, draw.typed(in, map[string]int{in.Group: len(p.Value.List)}))
		if !draw.s.Check(w, fault.Place{}).Stopped() {
			v = w
		}
	}
	return v
}

func sameAnew(t *testing.T, d *method.Data, v method.Values, results ...string) {
	t.Helper()
	sameOutcome(t, d.Run(v, results...), d.RunAnew(v, results...), v)
}

func sameOutcome(t *testing.T, got, want *method.Outcome, v method.Values) {
	t.Helper()
	if got.Faults.String() != want.Faults.String() {
		t.Errorf("at %v there are the faults\n%v\nand step by step\n%v", typedTexts(v), got.Faults, want.Faults)
	}
	for i, x := range want.Results { // a fault is made anew at each run
		if x.Value.State == formula.Failed && got.Results.Of(x.Name).State == formula.Failed {
			got.Results[i] = x
		}
	}
	for _, part := range [][2]any{
		{got.Results, want.Results}, {got.Verdicts, want.Verdicts}, {got.Cautions, want.Cautions},
		{got.References, want.References}, {got.Taken(), want.Taken()},
	} {
		if !reflect.DeepEqual(part[0], part[1]) {
			t.Errorf("at %v it comes to\n%+v\nand step by step to\n%+v", typedTexts(v), part[0], part[1])
		}
	}
}
