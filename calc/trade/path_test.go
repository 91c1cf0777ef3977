package trade

import (
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
		}
	})
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
	got, want := d.Run(v, results...), d.RunAnew(v, results...)
	if got.Faults.String() != want.Faults.String() {
		t.Errorf("%v at %v has the faults\n%v\nand step by step\n%v", results, typedTexts(v), got.Faults, want.Faults)
	}
	got.Faults, want.Faults = nil, nil
	for name, x := range want.Results { // a fault is made anew at each run
		if x.State == formula.Failed && got.Results[name].State == formula.Failed {
			got.Results[name] = x
		}
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%v at %v comes to\n%+v\nand step by step to\n%+v", results, typedTexts(v), got, want)
	}
}
