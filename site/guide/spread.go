package guide

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// A value may have limits: 87 dB ± 1.5 dB. Every figure that rests on it is
// then printed from where to where it may go, and what is said of it must be
// so at both ends.

// checkLimited sees that the block can do with values that have limits.
func (b *block) checkLimited() {
	for _, points := range b.cases {
		for _, p := range points {
			b.limited = b.limited || len(p.Limits) > 0
		}
	}
	if _, data := b.method.(*method.Data); b.limited && !data {
		b.fault(fault.At(b.info, "%s has no formula that could be worked over limits", b.sheet.Name).Fix("take the ± out of its values"))
	}
	if b.limited && len(b.asks) > 0 {
		b.fault(fault.At(b.asks[0].Place, "a most or least line cannot do with values that have limits").
			Want("values without ±; take the end that is worst for the answer"))
	}
}

// fromTo is a result over the limits of the values at a point, as it is
// printed; "" where none of them has limits, or it is no number there.
func (b *block) fromTo(r *method.Result, p *point) string {
	if !b.limited {
		return ""
	}
	text, spreads, ok := method.FromTo(b.method, p.Values(), r)
	if !ok {
		return ""
	}
	for _, s := range spreads {
		if s.Matters != "" && slices.Contains(b.results, r) {
			b.matters = append(b.matters, mattering{r, s.Matters})
		}
		if s.Jumps && !slices.Contains(b.table.Jumps, r.Label()) {
			b.table.Jumps = append(b.table.Jumps, r.Label())
		}
	}
	return text
}

// mattering is a value whose limits matter most to one figure.
type mattering struct {
	result *method.Result
	value  string
}

// fillMatters says which limits matter most to the table as a whole: those of
// one value to all figures, or of one to each result, or else to how many.
func (b *block) fillMatters() {
	count, of := map[string]int{}, map[*method.Result]map[string]int{}
	for _, m := range b.matters {
		if of[m.result] == nil {
			of[m.result] = map[string]int{}
		}
		count[m.value]++
		of[m.result][m.value]++
	}
	parted := slices.ContainsFunc(b.results, func(r *method.Result) bool { return len(of[r]) > 1 })
	for _, in := range b.sheet.Takes {
		m := Matter{Value: in.Label()}
		switch n := count[in.Name]; {
		case n == 0:
			continue
		case len(count) == 1:
		case parted:
			m.Figures, m.Of = n, len(b.matters)
		default:
			for _, r := range b.results {
				if of[r][in.Name] > 0 {
					m.Results = append(m.Results, r.Label())
				}
			}
		}
		b.table.Matters = append(b.table.Matters, m)
	}
	slices.SortStableFunc(b.table.Matters, func(x, y Matter) int { return y.Figures - x.Figures })
}

// keepLimits keeps the limits of a figure, for the blocks that take it.
func (b *block) keepLimits(f *Figure, r *method.Result, p *point) {
	if !b.limited || f.Value.State != formula.Known || f.Value.List != nil {
		return
	}
	if _, spreads, ok := method.FromTo(b.method, p.Values(), r); ok {
		f.limits = []method.Limits{{Member: -1, Low: spreads[0].Low, High: spreads[0].High}}
		f.jumps = spreads[0].Jumps
	}
}

// markLimited marks a cell whose values have limits: it is beyond a limit of
// the table where it is so everywhere, and cannot be told where it is so
// somewhere.
func (b *block) markLimited(c *Cell, r *method.Result, p *point) {
	box := b.sheet.Box(p.Values())
	for _, l := range b.limits {
		if !slices.Contains(l.holds.Uses(), r.Name) {
			continue
		}
		everywhere := method.Prove(b.method, l.holds, box)
		if everywhere.Outcome == method.Proved {
			continue
		}
		nowhere := method.Prove(b.method, b.opposite(l.holds), box)
		if nowhere.Outcome == method.Proved {
			c.pass(l.beyond)
			continue
		}
		c.Untold = append(c.Untold, inPart(everywhere, nowhere))
	}
}

// inPart says why a limit is neither met everywhere nor nowhere within the
// limits of the values.
func inPart(everywhere, nowhere method.Proof) string {
	switch {
	case everywhere.Why != "" && everywhere.Outcome == method.Refuted:
		return "somewhere in what the values may be it cannot be told: " + everywhere.Why
	case everywhere.Outcome == method.NotProved:
		return "whether it is met in all of what the values may be could not be settled: " + everywhere.Why
	case nowhere.Outcome == method.NotProved:
		return "it is not met in a part of what the values may be, and whether it is in another could not be settled: " + nowhere.Why
	}
	return "it is met in a part of what the values may be, and not in all"
}

// opposite is the condition that another does not hold.
func (b *block) opposite(f *formula.Formula) *formula.Formula {
	not, _ := formula.Check(&formula.Not{At: formula.At{Source: f.Node().Place()}, Test: f.Node()}, b.scope())
	return not
}

// keptLimits adds the limits of typed values to the box of a claim.
func keptLimits(sheet *method.Sheet, box method.Box) method.Box {
	for _, m := range sheet.Box(box.Values).Moving {
		if !slices.ContainsFunc(box.Moving, func(known method.Moving) bool { return known.Name == m.Name && known.Member == m.Member }) {
			box.Moving = append(slices.Clone(box.Moving), m)
		}
	}
	return box
}
