package formula

import "math"

// worse returns the state that two values come to together: failed over
// unknown over none over known, the left one where both are alike.
func worse(l, r Value) Value {
	assumed := union(l.Assumed, r.Assumed)
	if r.State > l.State {
		l = r
	}
	l.Assumed = assumed
	return l
}

func (m *machine) binary(n *Binary, f *frame) Value {
	l, r := m.value(n.Left, f), m.value(n.Right, f)
	v := worse(l, r)
	if v.State != Known {
		return v
	}
	x, why := arithmetic(n.Op, l.Number, r.Number)
	switch {
	case why == "" && unworkable(x):
		return m.failed(n, "%q comes to a number too large to be worked with", quote(n)).with(v.Assumed)
	case why != "" && n.Op == Div:
		return m.failed(n.Right, "division by nothing: %q is 0", quote(n.Right)).with(v.Assumed)
	case why != "":
		return m.failed(n, "%q has no value: %q %s", quote(n), quote(n.Left), why).with(v.Assumed)
	}
	v = Quantity(x).with(v.Assumed)
	v.register = m.notes.binary(n.Op, l, r, v.Number)
	return v
}

func unworkable(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// arithmetic works one operation; why says what is wrong where there is no
// value.
func arithmetic(op Op, l, r float64) (x float64, why string) {
	switch op {
	case Add:
		return l + r, ""
	case Sub:
		return l - r, ""
	case Mul:
		return l * r, ""
	case Div:
		if r == 0 {
			return 0, "is divided by nothing"
		}
		return l / r, ""
	}
	return power(l, r)
}

// power raises l to r. A square is a product, here and in the script, so that
// both come to the same bits.
func power(l, r float64) (x float64, why string) {
	switch {
	case r == 2:
		return l * l, ""
	case l == 0 && r < 0:
		return 0, "is 0, and a negative power divides by it"
	case l < 0 && r != math.Trunc(r):
		return 0, "is below 0, and the power is not whole"
	}
	return math.Pow(l, r), ""
}

// closeness is how near two values must lie, relative to the larger, to count
// as equal in a comparison.
const closeness = 1e-9

// same reports whether two values count as equal in a comparison.
func same(a, b float64) bool {
	return a == b || math.Abs(a-b) <= closeness*math.Max(math.Abs(a), math.Abs(b))
}

// holds reports whether a relation holds between two values.
func (r Relation) holds(a, b float64) bool {
	switch r {
	case Less:
		return a < b && !same(a, b)
	case AtMost:
		return a < b || same(a, b)
	case Equal:
		return same(a, b)
	case AtLeast:
		return a > b || same(a, b)
	}
	return a > b && !same(a, b)
}
