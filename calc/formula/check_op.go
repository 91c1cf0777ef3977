package formula

import (
	"math"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// number reports whether a piece is a quantity, and tells it when it is a
// choice or a condition. A piece told before is passed over.
func (c *checker) number(n Node, t Type) bool {
	switch {
	case t.loose():
		return false
	case t.Words != nil:
		c.tell(fault.At(n.Place(), "%q is %s, and no number", quote(n), t).Want("a choice only in a condition").
			Fix("… when %s is %s, else …", quote(n), t.Words[0]))
		return false
	case t.Truth:
		c.tell(fault.At(n.Place(), "%q is a condition, and no number", quote(n)))
		return false
	}
	return true
}

// amount reports whether a piece is a quantity that may be multiplied, and
// tells it when it is a point on a scale.
func (c *checker) amount(n Node, t Type, done string) bool {
	if !c.number(n, t) {
		return false
	}
	if t.Kind.IsPoint() {
		c.tell(pointFault(n, t, done))
		return false
	}
	return true
}

// pointFault is the fault of a point on a scale where an amount is wanted.
func pointFault(n Node, t Type, done string) *fault.Fault {
	zero := "0 " + t.Kind.Base().Symbol()
	return fault.At(n.Place(), "%q is %s, a point on a scale, and cannot be %s", quote(n), t, done).
		Want("a difference of two points").Fix("(%s - %s)", quote(n), zero)
}

func (c *checker) negate(n *Negate) Type {
	t := c.of(n.Operand)
	if !c.amount(n.Operand, t, "turned round by a minus") {
		return Broken
	}
	return t
}

func (c *checker) binary(n *Binary) Type {
	l, r := c.of(n.Left), c.of(n.Right)
	if l.loose() || r.loose() {
		return c.half(n, l, r)
	}
	group := c.together(n.Right, l.Group, r)
	var t Type
	switch n.Op {
	case Add, Sub:
		t = c.sum(n, l, r)
	case Mul, Div:
		t = c.product(n, l, r)
	default:
		t = c.power(n, l, r)
	}
	if t.Broken {
		return Broken
	}
	t.Group = group
	if f := c.level(n); f != nil {
		c.tell(f)
	}
	return t
}

// half checks what can be said of an operation with one broken side.
func (c *checker) half(n *Binary, l, r Type) Type {
	check := c.number
	if n.Op != Add && n.Op != Sub {
		check = func(n Node, t Type) bool { return c.amount(n, t, "multiplied") }
	}
	check(n.Left, l)
	check(n.Right, r)
	return Broken
}

// sum types a sum or a difference. Amounts must be of one kind; a point takes
// its step and gives a point; two points of one scale have a step between
// them.
func (c *checker) sum(n *Binary, l, r Type) Type {
	if left, right := c.number(n.Left, l), c.number(n.Right, r); !left || !right {
		return Broken
	}
	switch lp, rp := l.Kind.IsPoint(), r.Kind.IsPoint(); {
	case !lp && !rp && l.Kind == r.Kind:
		return l
	case lp && !rp && r.Kind == l.Kind.Step():
		return l
	case rp && !lp && n.Op == Add && l.Kind == r.Kind.Step():
		return r
	case lp && rp && n.Op == Sub && l.Kind.Scale == r.Kind.Scale:
		return Of(l.Kind.Step())
	case lp && rp:
		return c.tell(c.points(n, l, r))
	case rp && n.Op == Sub && l.Kind == r.Kind.Step():
		return c.tell(fault.At(n.Right.Place(), "%q is %s, a point on a scale, and cannot be taken from %q, a step", quote(n.Right), r, quote(n.Left)).
			Want("point - point, or point - step").Fix("%s - %s", quote(n.Right), quote(n.Left)))
	}
	return c.tell(c.misadded(n, l, r))
}

// misadded is the fault of a sum of two kinds. It is told at the side that is
// a bare number, if one is, and else at the right one.
func (c *checker) misadded(n *Binary, l, r Type) *fault.Fault {
	if bare(n.Left) && !bare(n.Right) {
		return c.unlike(n.Left, l, n.Right, r)
	}
	want := Of(l.Kind.Step())
	if l.Kind.IsPoint() {
		if !bare(n.Right) {
			return fault.At(n.Right.Place(), "%q is %s, and %q before it is %s", quote(n.Right), r, quote(n.Left), l).
				Want("a step on its scale, such as %s", want.Kind.Example())
		}
	}
	if l.Kind.IsPoint() {
		return fault.At(n.Right.Place(), "%s is a plain number, and %q takes a step on its scale", quote(n.Right), quote(n.Left)).
			Want("%s, such as %s", want, want.Kind.Example()).Fix("%s %s", quote(n.Right), want.Kind.Base().Symbol())
	}
	return c.unlike(n.Right, r, n.Left, l)
}

// unlike is the fault of a piece whose kind is not that of its neighbour.
func (c *checker) unlike(n Node, t Type, by Node, want Type) *fault.Fault {
	if bare(n) && t.quantity() && want.quantity() {
		return fault.At(n.Place(), "%s is a plain number, and %q is %s", quote(n), quote(by), want).
			Want("%s, such as %s", want, want.Kind.Example()).Fix("give %s its unit: %s %s", quote(n), quote(n), want.Kind.Base().Symbol())
	}
	f := fault.At(n.Place(), "%q is %s, and %q is %s", quote(n), t, quote(by), want)
	if want.quantity() {
		f.Want("%s on both sides, such as %s", want, want.Kind.Example())
	}
	if v, ok := n.(*Number); ok && want.quantity() && want.Kind.IsPoint() && t.Kind == want.Kind.Step() {
		f.Fix("%s %s, a point on the scale", v.Text, want.Kind.Base().Symbol())
	}
	return f
}

// misfit is the fault of a whole formula whose value is not what is wanted.
func (c *checker) misfit(n Node, t, want Type) *fault.Fault {
	f := fault.At(n.Place(), "%q is %s, and %s is wanted", quote(n), t, want)
	if want.quantity() {
		f.Want("%s, such as %s", want, want.Kind.Example())
	}
	return f
}

// points is the fault of two points that are added, or taken from one another
// across scales.
func (c *checker) points(n *Binary, l, r Type) *fault.Fault {
	at := n.Place()
	if l.Kind.Scale != r.Kind.Scale {
		return fault.At(at, "%q is %s and %q is %s: two scales do not meet", quote(n.Left), l, quote(n.Right), r).
			Want("points of one scale")
	}
	f := fault.At(at, "%q and %q are both points on a scale (%s), and cannot be added", quote(n.Left), quote(n.Right), l).
		Want("a point and a step")
	if factor := levels()[l.Kind.Scale].factor; factor != 0 {
		return f.Fix("sources together: %s", combined(l.Kind, "L"))
	}
	return f.Fix("%s - %s for what lies between them", quote(n.Left), quote(n.Right))
}

// combined writes how levels of sources are put together.
func combined(k unit.Kind, name string) string {
	zero := "0 " + k.Base().Symbol()
	return zero + " + 10 dB*log10(sum(10^((" + name + " - " + zero + ")/10 dB)))"
}

// product types a product or a quotient.
func (c *checker) product(n *Binary, l, r Type) Type {
	done := "multiplied"
	if n.Op == Div {
		done = "divided"
	}
	left, right := c.amount(n.Left, l, done), c.amount(n.Right, r, done)
	if !left || !right {
		return Broken
	}
	k := l.Kind.Times(r.Kind)
	if n.Op == Div {
		k = l.Kind.Over(r.Kind)
	}
	return c.bounded(n, k)
}

// decibels is where a kind counts its decibels.
const decibels = 6

// bounded tells a kind that means nothing: decibels times decibels, or powers
// beyond what a unit can state.
func (c *checker) bounded(n Node, k unit.Kind) Type {
	if d := k.Dims[decibels]; d > 2 || d < -2 {
		return c.tell(fault.At(n.Place(), "%q multiplies decibels by decibels, which means nothing", quote(n)).
			Want("decibels multiplied by a plain number").Fix("10^(…/10 dB) turns decibels into a ratio first"))
	}
	if k.Runaway() {
		return c.tell(fault.At(n.Place(), "%q has a unit to a power that no quantity has", quote(n)))
	}
	return Of(k)
}

// power types a power. What has a unit takes a constant exponent, whole or
// half, so that its kind is known before any number is.
func (c *checker) power(n *Binary, l, r Type) Type {
	base, exponent := c.amount(n.Left, l, "raised to a power"), c.amount(n.Right, r, "an exponent")
	if !base || !exponent {
		return Broken
	}
	if !r.Kind.IsNumber() {
		return c.tell(fault.At(n.Right.Place(), "%q is %s, and an exponent is a plain number", quote(n.Right), r).
			Want("a plain number").Fix("%s/%s", quote(n.Right), "1 "+r.Kind.Base().Symbol()))
	}
	if l.Kind.IsNumber() {
		return Type{}
	}
	x, fixed := constant(n.Right)
	if !fixed || x*2 != math.Trunc(x*2) {
		fails := "neither whole nor a half"
		if !fixed {
			fails = "not a fixed number"
		}
		return c.tell(fault.At(n.Right.Place(), "%q is %s, and its power %q is %s", quote(n.Left), l, quote(n.Right), fails).
			Want("a whole number or a half, written as a number").
			Fix("%s/%s makes it a plain number, which takes any power", quote(n.Left), "1 "+l.Kind.Base().Symbol()))
	}
	k, ok := l.Kind.Power(int(max(-highest, min(highest, x*2))))
	if !ok {
		return c.tell(fault.At(n.Place(), "%q has a unit to a power that no quantity has", quote(n)))
	}
	return c.bounded(n, k)
}

// highest is a power, in halves, that no quantity comes near.
const highest = 1000

// constant returns the value of a piece made of numbers alone.
func constant(n Node) (float64, bool) {
	switch n := n.(type) {
	case *Number:
		return n.Value, true
	case *Group:
		return constant(n.Inner)
	case *Negate:
		x, ok := constant(n.Operand)
		return -x, ok
	case *Binary:
		l, lok := constant(n.Left)
		r, rok := constant(n.Right)
		if !lok || !rok || n.Op == PowerOf {
			return 0, false
		}
		switch n.Op {
		case Add:
			return l + r, true
		case Sub:
			return l - r, true
		case Mul:
			return l * r, true
		}
		return l / r, r != 0
	}
	return 0, false
}
