package formula

import "math"

// Answers is every answer that a condition may have: true, false, or untold
// because a fact is missing or because something could not be worked.
type Answers struct {
	True, False     bool
	Unknown, Failed bool
}

// Only reports whether a condition is surely true or surely false, and which.
func (a Answers) Only() (truth, sure bool) {
	return a.True, a.True != a.False && !a.Unknown && !a.Failed
}

// Hold reports whether an answer is among those possible.
func (a Answers) Hold(one Answer) bool {
	switch {
	case one.Truth == True:
		return a.True
	case one.Truth == False:
		return a.False
	case one.Fault != nil:
		return a.Failed
	}
	return a.Unknown
}

func (a Answers) not() Answers {
	a.True, a.False = a.False, a.True
	return a
}

// and is what may be answered where both conditions must hold: false is
// stronger than untold.
func (a Answers) and(b Answers) Answers {
	aFalse, bFalse := a == Answers{False: true}, b == Answers{False: true}
	return Answers{
		True: a.True && b.True, False: a.False || b.False,
		Unknown: a.Unknown && !bFalse || b.Unknown && !aFalse,
		Failed:  a.Failed && !bFalse || b.Failed && !aFalse,
	}
}

// asRange is the answers as a number: 1 for true, 0 for false.
func (a Answers) asRange() Range {
	r := noRange
	if a.False {
		r = r.Join(Between(0, 0))
	}
	if a.True {
		r = r.Join(Between(1, 1))
	}
	r.Unknown, r.Failed = a.Unknown, a.Failed
	return r
}

// untold starts the answers of a test of some ranges: where one of them may
// be no value, the test may be untold.
func untold(ranges ...Range) Answers {
	a := Answers{}
	for _, r := range ranges {
		a.Unknown = a.Unknown || r.Unknown || r.None
		a.Failed = a.Failed || r.Failed
	}
	return a
}

func (r *ranger) answers(n Node, f *ranged) Answers {
	switch n := n.(type) {
	case *And:
		all := Answers{True: true}
		for _, t := range n.Tests {
			all = all.and(r.answers(t, f))
		}
		return all
	case *Or:
		none := Answers{True: true}
		for _, t := range n.Tests {
			none = none.and(r.answers(t, f).not())
		}
		return none.not()
	case *Not:
		return r.answers(n.Test, f).not()
	case *Given:
		return r.given(n.Name.Text)
	case *Is:
		return r.is(n, f)
	case *Compare:
		l, right := r.of(n.Left, f).Range, r.of(n.Right, f).Range
		a := untold(l, right)
		if !l.Empty() && !right.Empty() {
			a.True, a.False = n.Relation.possible(l.span(), right.span())
			a = r.byGap(a, n, l.span(), right.span())
		}
		return a
	}
	panic("formula: a node that is no condition")
}

func (r *ranger) given(name string) Answers {
	if r.member != whole {
		if list := r.env.Range(name).List; r.member < len(list) {
			member := list[r.member]
			if member.Unknown {
				return Answers{False: true, True: !member.Empty() || member.Words != nil}
			}
		}
	}
	switch r.env.Given(name) {
	case True:
		return Answers{True: true}
	case False:
		return Answers{False: true}
	}
	return Answers{True: true, False: true}
}

func (r *ranger) is(n *Is, f *ranged) Answers {
	x := r.of(n.Name, f).Range
	a := untold(x)
	if w, ok := n.Value.(*Word); ok {
		for _, word := range x.Words {
			a.True = a.True || word == w.Text
			a.False = a.False || word != w.Text
		}
		return a
	}
	if x.Empty() {
		return a
	}
	number := n.Value.(*Number).Value
	k := Key{Number: number}
	a.True = k.possible(x)
	a.False = !(same(x.Lo, number) && same(x.Hi, number))
	return a
}

// possible reports whether a relation may hold, and whether it may not, for
// numbers of two spans. Every relation but equality turns at most once while
// one side grows, so that the corners tell all.
func (r Relation) possible(l, right span) (yes, no bool) {
	l, right = l.finite(), right.finite()
	switch r {
	case Less, AtMost:
		return r.holds(l.lo, right.hi), !r.holds(l.hi, right.lo)
	case AtLeast, Greater:
		return r.holds(l.hi, right.lo), !r.holds(l.lo, right.hi)
	}
	apart := l.hi < right.lo && !same(l.hi, right.lo) || right.hi < l.lo && !same(right.hi, l.lo)
	return !apart, !(same(l.lo, right.hi) && same(l.hi, right.lo))
}

// finite brings ends that have none back to the greatest number, which no
// comparison can take for equal to a smaller one.
func (s span) finite() span {
	return span{math.Max(s.lo, -math.MaxFloat64), math.Min(s.hi, math.MaxFloat64)}
}
