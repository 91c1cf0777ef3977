package method

import "bindpost/calc/formula"

// gapBox answers to a condition over values and results as a condBox does,
// and tells how far the sides of its comparisons lie apart.
type gapBox struct {
	*condBox
	cond *formula.Formula
}

var _ formula.GapEnv = (*gapBox)(nil)

// Gap implements [formula.GapEnv]. Of one name and a number the range of the
// name says as much.
func (g *gapBox) Gap(n *formula.Compare) (formula.Range, bool) {
	if alone(n.Left, n.Right) || alone(n.Right, n.Left) {
		return formula.Range{}, false
	}
	over := func(b Box) formula.Bend { return g.cond.Gap(n, &resultBends{newCondBox(g.data, b)}) }
	return g.box.tightened(g.data, over(g.box), over).Range, true
}

// alone reports whether one side is a name, and the other no more than numbers.
func alone(side, other formula.Node) bool {
	_, name := side.(*formula.Name)
	return name && len(formula.Names(other)) == 0
}

// resultBends answers for the bends of values and results over a box, as they
// are worked and before anything narrows them.
type resultBends struct{ *condBox }

var _ formula.BendEnv = (*resultBends)(nil)

// Range implements [formula.RangeEnv].
func (r *resultBends) Range(name string) formula.Range { return r.raw(name).Range }

// Bend implements [formula.BendEnv].
func (r *resultBends) Bend(name string, member int) formula.Bend {
	b := r.raw(name)
	if member >= 0 && member < len(b.Members) {
		b = b.Members[member]
	}
	return b
}

func (r *resultBends) raw(name string) formula.Bend {
	if result := r.data.sheet.Result(name); result != nil {
		name = result.Of
	}
	return r.over.bend(name)
}
