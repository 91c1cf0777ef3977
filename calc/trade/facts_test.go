package trade

import (
	"math/rand/v2"
	"slices"
	"sync/atomic"
	"testing"

	"bindpost/calc/method"
)

// TestFacts leaves out, at drawn points of every method, each input that a
// result is said not to turn on: the result, the verdicts and the cautions
// stay. It sees, too, that inputs are left out where they must be.
func TestFacts(t *testing.T) {
	var left atomic.Int64
	t.Run("methods", func(t *testing.T) {
		eachData(t, func(t *testing.T, d *method.Data) {
			r := rand.New(rand.NewPCG(6, uint64(len(d.Sheet().Name))))
			for range 40 {
				v, ok := drawer{r, d.Sheet()}.point()
				if !ok {
					continue
				}
				for _, res := range d.Sheet().Gives {
					left.Add(int64(staysWithout(t, d, v, res)))
				}
			}
		})
	})
	if !raced && left.Load() < 1000 { // under the race detector a fifth of the methods is drawn
		t.Errorf("only %d values were left out", left.Load())
	}
}

// staysWithout returns how many values could be left out.
func staysWithout(t *testing.T, d *method.Data, v method.Values, res *method.Result) int {
	few, facts := method.Values{}, d.Facts(res.Name)
	for name, p := range v {
		if slices.Contains(facts, name) {
			few[name] = p
		}
	}
	whole, less := d.Run(v, res.Name), d.Run(few, res.Name)
	if a, b := res.Text(whole.Results.Of(res.Name)), res.Text(less.Results.Of(res.Name)); a != b {
		t.Errorf("%s is %s with all of %v, and %s with %v", res.Name, a, typedTexts(v), b, facts)
	}
	if !slices.Equal(whole.Verdicts, less.Verdicts) || !slices.Equal(whole.Cautions, less.Cautions) {
		t.Errorf("with %v left out, the verdicts or the cautions are others: %v, %v", facts, whole.Verdicts, less.Verdicts)
	}
	return len(v) - len(few)
}

// TestFactsOfWire names them for a method that borrows most of its working.
func TestFactsOfWire(t *testing.T) {
	m, _ := Library().Method("speaker-wire")
	for _, c := range []struct {
		result string
		want   []string
	}{
		{"loss", []string{"run", "load", "gauge", "size", "class", "measured", "metal", "strands", "temperature", "cladding"}},
		{"damping", []string{"run", "load", "gauge", "size", "class", "measured", "metal", "strands", "temperature", "cladding", "factor"}},
	} {
		if got := m.(*method.Data).Facts(c.result); !slices.Equal(got, c.want) {
			t.Errorf("%s turns on %v, want %v", c.result, got, c.want)
		}
	}
}
