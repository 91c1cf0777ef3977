package formula

import "math"

// GapEnv is a [RangeEnv] that can tell how far the two sides of a comparison
// lie apart better than from the range of each: as values move both may move,
// and what lies between them hardly.
type GapEnv interface {
	RangeEnv
	// Gap returns the range of the left side less the right; false where it
	// can tell no better.
	Gap(n *Compare) (Range, bool)
}

// Gap returns the left side of a comparison of the formula less its right,
// with its slopes.
func (f *Formula) Gap(n *Compare, e BendEnv) Bend {
	r := &ranger{scope: f.scope, env: e, bends: e, member: whole}
	return r.binary(&Binary{At: n.At, Op: Sub, Mark: n.Mark, Left: n.Left, Right: n.Right}, nil).asBend()
}

// byGap settles a comparison that may go either way by how far its sides lie
// apart.
func (r *ranger) byGap(a Answers, n *Compare, l, right span) Answers {
	env, ok := r.env.(GapEnv)
	if !ok || r.member != whole || !a.True || !a.False {
		return a
	}
	gap, ok := env.Gap(n)
	if !ok || gap.Empty() || !gap.span().bounded() {
		return a
	}
	// What counts as equal, at least and at most, with room for what rounding
	// moves a point by.
	least := closeness * 0.99 * math.Max(l.magnitude().lo, right.magnitude().lo)
	most := closeness * 1.01 * math.Max(l.magnitude().hi, right.magnitude().hi)
	pad := most / 1000
	a.True, a.False = n.Relation.apart(span{gap.Lo - pad, gap.Hi + pad}, least, most)
	return a
}

// apart reports whether a relation may hold, and whether it may not, between
// two values whose difference lies in a span. Those nearer to each other than
// least are equal, those farther apart than most are not.
func (r Relation) apart(gap span, least, most float64) (yes, no bool) {
	switch r {
	case AtMost, Greater:
		yes, no = gap.lo <= most, gap.hi > least
	case AtLeast, Less:
		yes, no = gap.hi >= -most, gap.lo < -least
	default:
		return gap.lo <= most && gap.hi >= -most, gap.lo < -least || gap.hi > least
	}
	if r == Greater || r == Less {
		return no, yes
	}
	return yes, no
}
