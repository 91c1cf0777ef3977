package formula

import "math"

// Two cases of a formula may meet where one gives way to the other: a
// sensitivity for 1 W is that for 2.83 V at 8 ohm, and a shift away from it
// elsewhere, and at 8 ohm the shift is none. Such a formula does not jump
// there, or by no more than the language takes for equal.

// leastJump is how far two cases may lie apart where they meet without the
// value being said to jump, as a share of the value; and leastStep the same as
// a share of its whole range.
const (
	leastJump = 1e-8
	leastStep = 1e-6
)

// turn is the one place at which a condition turns: where moving value i is v.
type turn struct {
	i     int
	v     float64
	equal bool // it holds there and on neither side
}

// turns finds where a condition turns that may be either: it has one part that
// is not settled, which compares a moving value with a number.
func (r *ranger) turns(n Node, f *ranged) (t turn, ok bool) {
	var parts []Node
	settled := Answers{True: true}
	switch n := n.(type) {
	case *Or:
		parts, settled = n.Tests, Answers{False: true}
	case *And:
		parts = n.Tests
	case *Is:
		return turnOf(r.of(n.Name, f), r.number(n.Value, f), true)
	case *Compare:
		l, right := r.of(n.Left, f), r.of(n.Right, f)
		if t, ok := turnOf(l, right, n.Relation == Equal); ok {
			return t, true
		}
		return turnOf(right, l, n.Relation == Equal)
	}
	var open Node
	for _, part := range parts {
		switch {
		case r.answers(part, f) == settled:
		case open != nil:
			return turn{}, false
		default:
			open = part
		}
	}
	if open == nil {
		return turn{}, false
	}
	return r.turns(open, f)
}

func (r *ranger) number(n Node, f *ranged) bent {
	if _, word := n.(*Word); word {
		return bent{Range: noRange}
	}
	return r.of(n, f)
}

func turnOf(x, v bent, equal bool) (turn, bool) {
	if x.form == nil || x.form.exp || x.form.c != (span{}) || x.form.off != 0 || v.slopes != nil || v.Empty() || v.Lo != v.Hi {
		return turn{}, false
	}
	i := x.form.only()
	if i < 0 || x.form.terms[i].line != pointSpan(1) || x.form.terms[i].log != (span{}) {
		return turn{}, false
	}
	return turn{i, v.Lo, equal}, true
}

// meeting joins the two outcomes of a condition that may be either, the first
// where it holds, if they meet where it turns.
func (r *ranger) meeting(when Node, a, b bent, f *ranged) (joined bent, ok bool) {
	if r.bends == nil || a.rough || b.rough || a.Empty() || b.Empty() {
		return bent{}, false
	}
	t, ok := r.turns(when, f)
	if !ok {
		return bent{}, false
	}
	y := a.span().hull(b.span())
	jump, ok := t.jump(a, b, y.magnitude().hi)
	if !ok || jump > math.Max(leastJump*y.magnitude().hi, leastStep*(y.hi-y.lo)) {
		return bent{}, false
	}
	joined = bent{Range: a.Join(b.Range), slopes: hulls(a.slopes, b.slopes)}
	stray := span{-jump, jump}
	if !t.equal {
		if n := len(joined.slopes) - 1; n >= 0 {
			joined.slopes[n] = joined.slopes[n].plus(stray)
		}
		return joined, joined.slopes != nil
	}
	if b.form == nil {
		return bent{}, false
	}
	g := *b.form
	if g.off += jump; g.exp {
		g.off = b.form.off + jump/b.Lo
	}
	joined.formed(&g)
	return joined, joined.form != nil
}

// jump is how far two outcomes may lie apart where a condition turns, of which
// the greater is no further from nothing than size.
func (t turn) jump(a, b bent, size float64) (float64, bool) {
	near := math.Abs(t.v) * closeness * 1.01
	slab := span{t.v - near, t.v + near}
	apart := func(f, g *form) (span, bool) {
		if f == nil || g == nil {
			return span{}, false
		}
		d := f.added(g.scaled(pointSpan(-1), 0), 0)
		if t.i < len(d.terms) {
			d.terms[t.i].x = d.terms[t.i].x.meet(slab)
		}
		return d.sum(), true
	}
	f, g := a.plain(), b.plain()
	if d, ok := apart(f, g); ok {
		return d.magnitude().hi + f.off + g.off, !d.empty()
	}
	f, g = a.power(), b.power()
	d, ok := apart(f, g)
	if !ok || d.empty() || d.magnitude().hi > 1e-3 {
		return 0, false
	}
	return (1.001*d.magnitude().hi + f.off + g.off) * size, true
}
