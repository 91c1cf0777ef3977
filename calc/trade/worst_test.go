package trade

import (
	"math/rand/v2"
	"slices"
	"testing"

	"bindpost/calc/method"
)

// TestAtWorstHolds draws limits about the values of every method that has
// cautions or verdicts, and points inside them: no point brings a caution that
// the limits did not, or is judged worse than they were; and that the limits
// bring a caution, or are judged worse than their middle, is not the rule.
func TestAtWorstHolds(t *testing.T) {
	added, left, worse, kept := 0, 0, 0, 0
	for _, name := range namesHeld() {
		d, ok := methodOf(t, name).(*method.Data)
		if !ok || len(d.Sheet().Cautions) == 0 {
			continue
		}
		h := &spreadHeld{d: d}
		h.limits(rand.New(rand.NewPCG(33, uint64(len(name)))), true, func(r *rand.Rand, b method.Box) {
			v := limitedBy(b)
			middle, o := d.Run(v), d.Run(v)
			o.AtWorst(d, v)
			added += len(o.Cautions) - len(middle.Cautions)
			left += len(d.Sheet().Cautions) - len(o.Cautions)
			for i, was := range middle.Verdicts {
				if kept++; was != o.Verdicts[i] {
					worse++
				}
			}
			for range 40 {
				at := drawnFrom(r, b)
				x := d.Run(at)
				for _, c := range x.Cautions {
					if !slices.Contains(o.Cautions, c) {
						t.Fatalf("%s: over %+v the caution %s is not brought, and it is at %v", name, b.Moving, c.ID, texts(at))
					}
				}
				for i, met := range x.Verdicts {
					if method.Worse(met.Grade, o.Verdicts[i].Grade) {
						t.Fatalf("%s: over %+v %s is %s, and it is %s at %v", name, b.Moving, met.Name, o.Verdicts[i].Grade, met.Grade, texts(at))
					}
				}
			}
		})
	}
	if !raced && (added < 5 || left < 50 || worse < 5 || kept < 2*worse) {
		t.Errorf("%d cautions were added and %d left out; of %d verdicts %d were made worse", added, left, kept, worse)
	}
}

// limitedBy returns the values of a box with its bounds for limits.
func limitedBy(b method.Box) method.Values {
	v := b.Values
	for _, m := range b.Moving {
		p := v[m.Name]
		p.Limits = append(slices.Clone(p.Limits), method.Limits{Member: m.Member, Low: m.Lo, High: m.Hi})
		v = v.With(m.Name, p)
	}
	return v
}
