package trade

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// pointDraws is how many points of each formula method are run.
func pointDraws() int {
	if raced {
		return 500
	}
	return 10_000
}

// TestPoints runs every formula method at ten thousand points inside its hard
// bounds and needs: each result is a finite number, a word, none or cannot
// tell, and never a fault. And with a fact taken away, no verdict becomes fits
// that was not.
func TestPoints(t *testing.T) {
	eachData(t, func(t *testing.T, d *method.Data) {
		r := rand.New(rand.NewPCG(31, uint64(len(d.Sheet().Name))))
		draw, held := drawer{r, d.Sheet()}, 0
		for n := 0; n < 40*pointDraws() && held < pointDraws(); n++ {
			v, ok := draw.point()
			if !ok {
				continue
			}
			o := d.Run(v)
			if slices.ContainsFunc(o.Faults.All(), method.NeedNotMet) {
				continue
			}
			held++
			if o.Faults.Len() > 0 {
				t.Fatalf("%v: %s", typedTexts(v), o.Faults)
			}
			for _, res := range o.Results {
				if !sound(res.Value) {
					t.Fatalf("%s is %+v at %v", res.Name, res.Value, typedTexts(v))
				}
			}
			if len(o.Verdicts) > 0 {
				fewerFacts(t, r, d, v, o)
			}
		}
		if held < pointDraws() {
			t.Errorf("only %d points met its needs", held)
		}
	})
}

// sound tells whether a value is a finite number, a word, none or cannot tell.
func sound(v formula.Value) bool {
	for _, m := range v.List {
		if !sound(m) {
			return false
		}
	}
	switch v.State {
	case formula.Known:
		return !math.IsNaN(v.Number) && !math.IsInf(v.Number, 0)
	case formula.None, formula.Unknown:
		return v.Why != ""
	}
	return false
}

// fewerFacts takes facts away and sees that no verdict becomes fits.
func fewerFacts(t *testing.T, r *rand.Rand, d *method.Data, v method.Values, before *method.Outcome) {
	t.Helper()
	fewer := maps.Clone(v)
	for _, name := range slices.Sorted(maps.Keys(v)) {
		in := d.Sheet().Input(name)
		if r.IntN(3) > 0 {
			continue
		}
		fewer[name] = method.Point{Value: formula.Value{State: formula.Unknown, Why: "not known"}, Text: method.DontKnow}
		if (in.Optional || in.Usually != nil) && r.IntN(2) > 0 {
			delete(fewer, name)
		}
	}
	after := d.Run(fewer)
	for i, verdict := range after.Verdicts {
		if verdict.Grade == method.Fits && before.Verdicts[i].Grade != method.Fits {
			t.Fatalf("%s is %s at %v, and %s with only %v", verdict.Name, before.Verdicts[i].Grade, typedTexts(v), verdict.Grade, typedTexts(fewer))
		}
	}
}

func typedTexts(v method.Values) map[string]string {
	all := map[string]string{}
	for name, p := range v {
		all[name] = p.Text
	}
	return all
}
