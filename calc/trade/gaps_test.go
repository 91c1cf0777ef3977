package trade

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// TestGapsHold draws boxes, conditions that set two results of a method
// against each other and come out near to equal in the box, and points in it:
// no answer at a point is one that was left out for the box.
func TestGapsHold(t *testing.T) {
	held, settled := 0, 0
	for _, name := range namesHeld() {
		d, ok := methodOf(t, name).(*method.Data)
		if !ok {
			continue
		}
		r := rand.New(rand.NewPCG(31, uint64(len(name))))
		boxes(r, d, 12, func(b method.Box) {
			for _, pair := range paired(d) {
				cond := nearlyEqual(r, d, b, pair)
				if cond == nil {
					continue
				}
				all := d.Holds(b, cond)
				if _, sure := all.Only(); sure {
					settled++
				}
				for range 6 {
					v := drawnFrom(r, b)
					at := method.Prove(d, cond, method.Box{Values: v})
					if at.Outcome == method.Proved && !all.True || at.Outcome == method.Refuted && at.Why == "" && !all.False {
						t.Fatalf("%s: %s ends as %d at %v, and over %+v is only %+v", name, cond.Place(), at.Outcome, texts(v), b.Moving, all)
					}
					held++
				}
			}
		})
	}
	if !raced && (held < 5000 || settled < 100) {
		t.Errorf("only %d answers were held, and %d boxes settled", held, settled)
	}
}

// paired are the pairs of results of a method that are plain numbers of one
// kind, each with itself too.
func paired(d *method.Data) (all [][2]*method.Result) {
	for i, a := range d.Sheet().Gives {
		for _, b := range d.Sheet().Gives[i:] {
			if a.Words == nil && a.Group == "" && b.Group == "" && a.Unit.Kind() == b.Unit.Kind() && !a.Unit.Kind().IsPoint() {
				all = append(all, [2]*method.Result{a, b})
			}
		}
	}
	return all
}

// nearlyEqual is a condition about two results that turns somewhere near a
// point of a box; nil where they have no value there.
func nearlyEqual(r *rand.Rand, d *method.Data, b method.Box, pair [2]*method.Result) *formula.Formula {
	if len(b.Moving) == 0 {
		return nil
	}
	o := d.Run(drawnFrom(r, b), pair[0].Name, pair[1].Name)
	x, y := o.Results.Of(pair[0].Name), o.Results.Of(pair[1].Name)
	if x.State != formula.Known || y.State != formula.Known || x.Number <= 0 || y.Number <= 0 {
		return nil
	}
	relation := []string{"at most", "at least", "below", "above"}[r.IntN(4)]
	text := fmt.Sprintf("%s where %s*%s*%.12f %s %s*%s", b.Moving[0].Name, pair[0].Name, pair[0].Name,
		y.Number/x.Number, relation, pair[0].Name, pair[1].Name)
	if b.Moving[0].Member >= 0 || d.Sheet().Input(b.Moving[0].Name).Group != "" {
		return nil
	}
	a, faults := d.Sheet().ReadAsk(fault.NewText("test", text).All(), false)
	if faults.Stopped() {
		return nil
	}
	return a.Holds
}
