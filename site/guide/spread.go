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
	text, spreads, ok := method.FromTo(b.method, p.values, r)
	if !ok {
		return ""
	}
	for _, s := range spreads {
		if s.Matters != "" && b.table.Matters == "" {
			b.table.Matters = words(s.Matters)
		}
		if s.Jumps && !slices.Contains(b.table.Jumps, r.Label()) {
			b.table.Jumps = append(b.table.Jumps, r.Label())
		}
	}
	return text
}

// keepLimits keeps the limits of a figure, for the blocks that take it.
func (b *block) keepLimits(f *Figure, r *method.Result, p *point) {
	if !b.limited || f.Value.State != formula.Known || f.Value.List != nil {
		return
	}
	if _, spreads, ok := method.FromTo(b.method, p.values, r); ok {
		f.limits = []method.Limits{{Member: -1, Low: spreads[0].Low, High: spreads[0].High}}
		f.jumps = spreads[0].Jumps
	}
}

// markLimited marks a cell whose values have limits: it is beyond a limit of
// the table where it is so everywhere, and cannot be told where it is so
// somewhere.
func (b *block) markLimited(c *Cell, r *method.Result, p *point) {
	box := b.sheet.Box(p.values)
	for _, l := range b.limits {
		if !slices.Contains(l.holds.Uses(), r.Name) {
			continue
		}
		switch {
		case method.Prove(b.method, l.holds, box).Outcome == method.Proved:
		case method.Prove(b.method, b.opposite(l.holds), box).Outcome == method.Proved:
			c.pass(l.beyond)
		default:
			c.Untold = append(c.Untold, partlyMet)
		}
	}
}

// opposite is the condition that another does not hold.
func (b *block) opposite(f *formula.Formula) *formula.Formula {
	not, _ := formula.Check(&formula.Not{At: formula.At{Source: f.Node().Place()}, Test: f.Node()}, b.scope())
	return not
}

const partlyMet = "it is met in a part of what the values may be, and not in all"

// keptLimits adds the limits of typed values to the box of a claim.
func keptLimits(sheet *method.Sheet, box method.Box) method.Box {
	for _, m := range sheet.Box(box.Values).Moving {
		if !slices.ContainsFunc(box.Moving, func(known method.Moving) bool { return known.Name == m.Name && known.Member == m.Member }) {
			box.Moving = append(slices.Clone(box.Moving), m)
		}
	}
	return box
}
