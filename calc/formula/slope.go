package formula

import "math"

// Bend is every value that a formula may take while the values it rests on
// move, as [Range] tells it, and how steep it may be on the way: for each
// moving value the range of its slope, which is by how much the formula
// changes for a small change of that value alone, in base units of both.
//
// Slopes are bounded outwards as ranges are, and hold between any two points
// of the box, kinks included, unless Rough is set: then the value may jump
// somewhere, and no slope says anything of the jump. Jumps too small to count
// as such are in Stray, which is how far the value may be off one that has
// the slopes.
type Bend struct {
	Range   Range
	Slopes  []Slope // by moving value; nil where none of them moves it
	Stray   float64
	Rough   bool
	Members []Bend // of a list

	form *form // nil where it has none
}

// Slope is the range of a slope.
type Slope struct{ Lo, Hi float64 }

// BendEnv answers for ranges, and for the slopes of the values that a formula
// names.
type BendEnv interface {
	RangeEnv
	// Bend returns the bend of a value. Of a list it is asked for a member,
	// counted from 0, and for -1 of everything else.
	Bend(name string, member int) Bend
}

// Bend returns every value that the formula may take within the ranges of an
// environment, with its slopes.
func (f *Formula) Bend(e BendEnv) Bend {
	return f.bend(&ranger{scope: f.scope, env: e, bends: e, member: whole})
}

func (f *Formula) bend(r *ranger) Bend {
	n := r.members(f)
	if n < 0 {
		return r.of(f.node, nil).asBend()
	}
	list := Bend{Range: noRange}
	list.Range.List = make([]Range, n)
	for i := range n {
		r.member = i
		member := r.of(f.node, nil).asBend()
		list.Range.List[i] = member.Range
		list.Members = append(list.Members, member)
	}
	return list
}

func (b bent) asBend() Bend {
	x := Bend{Range: b.Range, Rough: b.rough, form: b.form}
	if b.slopes == nil {
		return x
	}
	n := len(b.slopes) - 1
	x.Slopes, x.Stray = make([]Slope, n), b.slopes[n].magnitude().hi
	for i, s := range b.slopes[:n] {
		x.Slopes[i] = Slope{s.lo, s.hi}
	}
	return x
}

// bending sets what a bend says beside its range. Behind the slopes stands
// how far the value may stray from them, as if one more value moved it.
func (b *bent) bending(x Bend) {
	b.rough, b.form = x.Rough, x.form
	if x.Slopes == nil {
		return
	}
	b.slopes = make([]span, 0, len(x.Slopes)+1)
	for _, s := range x.Slopes {
		b.slopes = append(b.slopes, span{s.Lo, s.Hi})
	}
	b.slopes = append(b.slopes, span{-x.Stray, x.Stray})
}

// scaled multiplies slopes by a factor.
func scaled(slopes []span, factor span) []span {
	if slopes == nil {
		return nil
	}
	if factor.empty() {
		factor = everywhere
	}
	all := make([]span, len(slopes))
	for i, s := range slopes {
		if s != (span{}) {
			all[i] = s.times(factor)
		}
	}
	return all
}

// summed adds slopes, and hulls joins them; nil stands for slopes of 0.
func summed(a, b []span) []span { return paired(a, b, span.plus) }
func hulls(a, b []span) []span  { return paired(a, b, span.hull) }

func paired(a, b []span, join func(span, span) span) []span {
	if a == nil && b == nil {
		return nil
	}
	all := make([]span, max(len(a), len(b)))
	at := func(s []span, i int) span {
		if s == nil {
			return span{}
		}
		return s[i]
	}
	for i := range all {
		all[i] = join(at(a, i), at(b, i))
	}
	return all
}

// operatedSlopes are the slopes of one operation, y its range.
func operatedSlopes(op Op, l, r bent, y span) []span {
	switch op {
	case Add:
		return summed(l.slopes, r.slopes)
	case Sub:
		return summed(l.slopes, scaled(r.slopes, pointSpan(-1)))
	case Mul:
		return summed(scaled(l.slopes, r.span()), scaled(r.slopes, l.span()))
	case Div:
		by := reciprocal(r.span())
		return summed(scaled(l.slopes, by), scaled(scaled(r.slopes, y), by.negated()))
	}
	return powerSlopes(l, r, y)
}

// reciprocal of a span that holds 0 is everywhere: no slope can be told.
func reciprocal(x span) span {
	if x.holds(0) {
		return everywhere
	}
	return pointSpan(1).over(x)
}

// powerSlopes are those of x^n: n*x^(n-1) for a fixed exponent, otherwise by
// way of the logarithm.
func powerSlopes(x, n bent, y span) []span {
	if e := n.span(); n.slopes == nil && e.lo == e.hi {
		steep, fails := x.span().raised(e.minus(pointSpan(1)))
		if fails && steep.bounded() || steep.empty() {
			steep = everywhere
		}
		return scaled(x.slopes, steep.times(e))
	}
	log, fails := rangeFaces["ln"].over([]span{x.span()})
	if fails {
		return scaled(summed(x.slopes, n.slopes), everywhere)
	}
	return summed(scaled(scaled(n.slopes, log), y), scaled(scaled(scaled(x.slopes, n.span()), reciprocal(x.span())), y))
}

// bendBy sets the slopes of a built-in function of some arguments.
func (b *bent) bendBy(name string, args []bent, x []span, y span) {
	face := slopeFaces[name]
	if face.steps {
		if y.lo != y.hi {
			b.rough = true
		}
		return
	}
	if face.may == nil {
		for _, a := range args {
			b.slopes = summed(b.slopes, scaled(a.slopes, face.by(x, y)))
		}
		return
	}
	first := true
	for i, a := range args {
		switch {
		case !face.may(x[i], y):
		case first:
			b.slopes, first = a.slopes, false
		default:
			b.slopes = hulls(b.slopes, a.slopes)
		}
	}
}

// slopeFace is how steep a built-in function is in each of its arguments, over
// the spans x of these and y of its values.
type slopeFace struct {
	by    func(x []span, y span) span
	steps bool                 // it is level, but where it jumps
	may   func(x, y span) bool // it is one of its arguments, and may be this one
}

var stepFace = slopeFace{steps: true}

// slopeFaces are the slopes of the built-in functions.
var slopeFaces = map[string]slopeFace{
	"sqrt":      {by: func(_ []span, y span) span { return reciprocal(y.times(pointSpan(2))) }},
	"log10":     {by: func(x []span, _ span) span { return positive(x[0]).over(natural(math.Ln10)) }},
	"log2":      {by: func(x []span, _ span) span { return positive(x[0]).over(natural(math.Ln2)) }},
	"ln":        {by: func(x []span, _ span) span { return positive(x[0]) }},
	"exp":       {by: func(_ []span, y span) span { return y }},
	"sin":       {by: func(x []span, _ span) span { return waving(math.Cos, x[0], 0) }},
	"cos":       {by: func(x []span, _ span) span { return waving(math.Sin, x[0], math.Pi/2).negated() }},
	"tan":       {by: func(_ []span, y span) span { return y.squared().plus(pointSpan(1)) }},
	"asin":      {by: func(x []span, _ span) span { return arcSlope(x[0]) }},
	"acos":      {by: func(x []span, _ span) span { return arcSlope(x[0]).negated() }},
	"atan":      {by: func(x []span, _ span) span { return reciprocal(x[0].squared().plus(pointSpan(1))) }},
	"abs":       {by: func(x []span, _ span) span { return sideOf(x[0]) }},
	"sinc":      {by: sincSlope},
	"round":     stepFace,
	"roundup":   stepFace,
	"rounddown": stepFace,
	"tally":     stepFace,
	"count":     stepFace,
	"min":       {may: func(x, y span) bool { return x.lo <= y.hi }},
	"max":       {may: func(x, y span) bool { return x.hi >= y.lo }},
	"sum":       {by: func([]span, span) span { return pointSpan(1) }},
}

// natural is the span of a constant that a float64 cannot hold.
func natural(x float64) span { return span{lower(x), higher(x)} }

// positive is the reciprocal of what of x lies above 0.
func positive(x span) span {
	x = x.meet(span{0, math.Inf(1)})
	if x.empty() || x.hi == 0 {
		return everywhere
	}
	return pointSpan(1).over(x)
}

// arcSlope is 1/sqrt(1 - x^2), without end where x reaches 1.
func arcSlope(x span) span {
	under := pointSpan(1).minus(x.meet(unitSpan).squared()).root()
	if under.empty() || under.hi == 0 {
		return everywhere
	}
	return pointSpan(1).over(under)
}

func sideOf(x span) span {
	switch {
	case x.lo > 0:
		return pointSpan(1)
	case x.hi < 0:
		return pointSpan(-1)
	}
	return unitSpan
}

// sincSlope is (cos x - sinc x)/x, and nowhere steeper than 1/2: |x cos x -
// sin x| is the integral of t sin t from 0 to x, at most x^2/2.
func sincSlope(x []span, y span) span {
	bound := span{-0.5, 0.5}
	if x[0].holds(0) {
		return bound
	}
	return waving(math.Cos, x[0], 0).minus(y).over(x[0]).meet(bound)
}
