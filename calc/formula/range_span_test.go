package formula

import (
	"math"
	"math/big"
	"testing"
)

// drawn makes numbers of every size, often ones that are exact in few bits.
func (l lot) drawn() float64 {
	switch l.IntN(8) {
	case 0:
		return float64(l.IntN(40) - 20)
	case 1:
		return math.Ldexp(l.NormFloat64(), l.IntN(2080)-1070)
	case 2:
		return l.NormFloat64() * math.SmallestNonzeroFloat64 * 100
	case 3:
		return (l.Float64()*2 - 1) * math.MaxFloat64
	}
	return l.NormFloat64()
}

// TestSpansAreDirected holds sums, products, quotients, squares and roots of
// single numbers against exact ones: never wrong, and never further apart than
// two neighbours; where the result is a float64, exact.
func TestSpansAreDirected(t *testing.T) {
	l := newLot(21)
	exact := func(x float64) *big.Float { return new(big.Float).SetPrec(4000).SetFloat64(x) }
	work := func() *big.Float { return new(big.Float).SetPrec(4000) }
	for range 40000 {
		x, y := l.drawn(), l.drawn()
		if y == 0 {
			continue
		}
		cases := []struct {
			name string
			got  span
			want *big.Float
		}{
			{"sum", pointSpan(x).plus(pointSpan(y)), work().Add(exact(x), exact(y))},
			{"difference", pointSpan(x).minus(pointSpan(y)), work().Sub(exact(x), exact(y))},
			{"product", pointSpan(x).times(pointSpan(y)), work().Mul(exact(x), exact(y))},
			{"quotient", pointSpan(x).over(pointSpan(y)), work().Quo(exact(x), exact(y))},
			{"square", pointSpan(x).squared(), work().Mul(exact(x), exact(x))},
			{"root", pointSpan(math.Abs(x)).root(), work().Sqrt(exact(math.Abs(x)))},
		}
		for _, c := range cases {
			if below, above := bound(c.want, c.got.lo), bound(c.want, c.got.hi); below > 0 || above < 0 {
				t.Fatalf("the %s of %b and %b is not in %b to %b", c.name, x, y, c.got.lo, c.got.hi)
			}
			if next := higher(c.got.lo); c.got.hi > next && bound(work().Abs(c.want), 0x1p-890) < 0 && math.Abs(x) > 0x1p-890 {
				t.Fatalf("the %s of %b and %b is only known as %b to %b", c.name, x, y, c.got.lo, c.got.hi)
			}
			if near, acc := c.want.Float64(); acc == big.Exact && math.Abs(near) > 0x1p-890 && math.Abs(x) > 0x1p-890 && !math.IsInf(near, 0) && c.got != (span{near, near}) {
				t.Fatalf("the %s of %b and %b is %b, and not only %b to %b", c.name, x, y, near, c.got.lo, c.got.hi)
			}
		}
	}
}

// bound compares a bound, which may be infinite, with an exact number.
func bound(exact *big.Float, end float64) int {
	if math.IsInf(end, 0) {
		return int(math.Copysign(1, end))
	}
	return new(big.Float).SetFloat64(end).Cmp(exact)
}

// TestSpansHold draws numbers inside spans and sees that what is worked with
// them stays inside what is worked with the spans.
func TestSpansHold(t *testing.T) {
	l := newLot(22)
	for range 60000 {
		s, o := l.wide(), l.wide()
		x, y := l.inside(s.asRange()).Number, l.inside(o.asRange()).Number
		for _, op := range []Op{Add, Sub, Mul, Div, PowerOf} {
			got, fails := operated(op, s, o)
			z, why := arithmetic(op, x, y)
			switch {
			case why != "":
				if !fails {
					t.Fatalf("%g %c %g fails, and %v %c %v cannot", x, op, y, s, op, o)
				}
			case unworkable(z):
				if got.bounded() {
					t.Fatalf("%g %c %g is too large, and %v %c %v is %v", x, op, y, s, op, o, got)
				}
			case !got.holds(z):
				t.Fatalf("%g %c %g = %g is not in %v %c %v = %v", x, op, y, z, s, op, o, got)
			}
		}
	}
}

// wide draws a span: a point, one that ends at nothing, or any.
func (l lot) wide() span {
	small := func() float64 {
		if l.IntN(3) == 0 {
			return float64(l.IntN(13) - 6)
		}
		return l.NormFloat64() * 4
	}
	a, b := small(), small()
	switch l.IntN(6) {
	case 0:
		b = a
	case 1:
		b = 0
	case 2:
		a, b = l.drawn(), l.drawn()
	}
	return span{math.Min(a, b), math.Max(a, b)}
}

// TestSpanEnds holds what happens where an operation has no value or no end.
func TestSpanEnds(t *testing.T) {
	inf := math.Inf(1)
	cases := []struct {
		name      string
		got, want span
	}{
		{"over a span that begins at 0", span{1, 2}.over(span{0, 4}), span{0.25, inf}},
		{"over a span that ends at 0", span{1, 2}.over(span{-4, 0}), span{-inf, -0.25}},
		{"over a span across 0", span{1, 2}.over(span{-4, 4}), everywhere},
		{"nothing over a span across 0", span{0, 0}.over(span{-4, 4}), span{0, 0}},
		{"over 0 alone", span{1, 2}.over(span{0, 0}), nowhere},
		{"over without end", span{1, 2}.over(span{4, inf}), span{0, 0.5}},
		{"nothing times without end", span{0, 0}.times(everywhere), span{0, 0}},
		{"too large a product", span{1e200, 1e300}.times(span{1e200, 1e200}), span{math.MaxFloat64, inf}},
		{"too large a sum", span{-math.MaxFloat64, math.MaxFloat64}.plus(span{0, math.MaxFloat64}), span{-math.MaxFloat64, inf}},
		{"a square across 0", span{-3, 2}.squared(), span{0, 9}},
		{"a square below 0", span{-3, -2}.squared(), span{4, 9}},
		{"a root from below 0", span{-3, 4}.root(), span{0, 2}},
		{"a root below 0", span{-3, -2}.root(), nowhere},
		{"a sum with nothing", nowhere.plus(span{1, 2}), nowhere},
		{"a product with nothing", span{1, 2}.times(nowhere), nowhere},
		{"a quotient of nothing", nowhere.over(span{1, 2}), nowhere},
		{"a square of nothing", nowhere.squared(), nowhere},
	}
	for _, c := range cases {
		if c.got != c.want {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

// TestPowerSpans holds powers with turning points and poles.
func TestPowerSpans(t *testing.T) {
	inf := math.Inf(1)
	cases := []struct {
		base, exponent, want span
		fails                bool
	}{
		{span{-3, 2}, span{2, 2}, span{0, 9}, false},
		{span{-3, 2}, span{4, 4}, span{0, 81}, false},
		{span{-3, 2}, span{3, 3}, span{-27, 8}, false},
		{span{-3, 2}, span{1, 1}, span{-3, 2}, false},
		{span{-3, 2}, span{0, 0}, span{1, 1}, false},
		{span{2, 4}, span{-1, -1}, span{0.25, 0.5}, false},
		{span{-4, -2}, span{-3, -3}, span{-1. / 8, -1. / 64}, false},
		{span{-4, -2}, span{-2, -2}, span{1. / 16, 0.25}, false},
		{span{-2, 4}, span{-2, -2}, span{1. / 16, inf}, true},
		{span{-2, 4}, span{-1, -1}, everywhere, true},
		{span{0, 4}, span{-1, -1}, span{0.25, inf}, true},
		{span{-4, 0}, span{-1, -1}, span{-inf, -0.25}, true},
		{span{0, 0}, span{-1, -1}, nowhere, true},
		{span{4, 9}, span{0.5, 0.5}, span{2, 3}, false},
		{span{-4, 9}, span{0.5, 0.5}, span{0, 3}, true},
		{span{-4, -1}, span{0.5, 0.5}, nowhere, true},
		{span{0, 2}, span{-1, 1}, span{0, inf}, true},
		{span{2, 3}, span{-1, 2}, span{1. / 3, 9}, false},
		{span{0.5, 2}, span{-1, 2}, span{0.25, 4}, false},
		{span{-2, 3}, span{0.5, 3}, span{-8, 27}, true},
		{nowhere, span{2, 2}, nowhere, false},
	}
	for _, c := range cases {
		got, fails := c.base.raised(c.exponent)
		if !touches(got, c.want) || fails != c.fails {
			t.Errorf("%v to the power %v is %v, fails %t; want %v, %t", c.base, c.exponent, got, fails, c.want, c.fails)
		}
	}
}

// touches reports whether a span is another one, but for its last digits.
func touches(got, want span) bool {
	return got.empty() && want.empty() || closeBy(got.lo, want.lo) && closeBy(got.hi, want.hi) && got.lo <= want.lo && got.hi >= want.hi
}

func closeBy(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-13*(1+math.Abs(b)) }

// TestFunctionSpans holds each built-in function over spans where it turns,
// steps, ends or fails. The turning points of sinc are known: its first trough
// is -0.2172336282112216 at 4.493409457909064, its first crest behind it
// 0.1283745535258991 (Abramowitz and Stegun, table 4.19 and 10.1, from memory).
func TestFunctionSpans(t *testing.T) {
	inf, pi := math.Inf(1), math.Pi
	cases := []struct {
		function string
		x        span
		want     span
		fails    bool
	}{
		{"sqrt", span{4, 9}, span{2, 3}, false},
		{"sqrt", span{-1, 9}, span{0, 3}, true},
		{"log10", span{1, 100}, span{0, 2}, false},
		{"log10", span{0, 100}, span{-inf, 2}, true},
		{"log10", span{-5, 0}, nowhere, true},
		{"log2", span{0.25, 8}, span{-2, 3}, false},
		{"ln", span{1, 1}, span{0, 0}, false},
		{"exp", span{0, 1}, span{1, math.E}, false},
		{"exp", span{-2000, 2000}, span{0, inf}, false},
		{"sin", span{0, 1}, span{0, math.Sin(1)}, false},
		{"sin", span{0, 2}, span{0, 1}, false},
		{"sin", span{3, 5}, span{-1, math.Sin(3)}, false},
		{"sin", span{0, 100}, span{-1, 1}, false},
		{"sin", span{1e200, 1e200}, span{-1, 1}, false},
		{"cos", span{-1, 1}, span{math.Cos(1), 1}, false},
		{"cos", span{3, 4}, span{-1, math.Cos(4)}, false},
		{"tan", span{-1, 1}, span{-math.Tan(1), math.Tan(1)}, false},
		{"tan", span{1, 2}, everywhere, true},
		{"tan", span{1e200, 1e200}, everywhere, true},
		{"asin", span{-1, 1}, span{-pi / 2, pi / 2}, false},
		{"asin", span{0, 3}, span{0, pi / 2}, true},
		{"asin", span{2, 3}, nowhere, true},
		{"acos", span{-1, 1}, span{0, pi}, false},
		{"acos", span{-3, -2}, nowhere, true},
		{"atan", span{-1, 1}, span{-pi / 4, pi / 4}, false},
		{"abs", span{-3, 2}, span{0, 3}, false},
		{"abs", span{-3, -2}, span{2, 3}, false},
		{"sinc", span{0, 1}, span{math.Sin(1), 1}, false},
		{"sinc", span{-1, 2}, span{math.Sin(2) / 2, 1}, false},
		{"sinc", span{3, 6}, span{-0.2172336282112216, math.Sin(3) / 3}, false},
		{"sinc", span{5, 20}, span{math.Sin(5) / 5, 0.1283745535258991}, false},
		{"sinc", span{0, 1000}, span{-0.2172336282112216, 1}, false},
		{"sinc", span{1e200, 1e200}, span{-1, 1}, false},
		{"round", span{0.4, 2.5}, span{0, 3}, false},
		{"roundup", span{2 + 1e-10, 2.1}, span{2, 3}, false},
		{"rounddown", span{2.9, 3 - 1e-10}, span{2, 3}, false},
	}
	for _, c := range cases {
		got, fails := rangeFaces[c.function].over([]span{c.x})
		if !touches(got, c.want) || fails != c.fails {
			t.Errorf("%s over %v is %v, fails %t; want %v, %t", c.function, c.x, got, fails, c.want, c.fails)
		}
	}
	three := []span{{1, 5}, {2, 3}, {-1, 4}}
	for name, want := range map[string]span{"min": {-1, 3}, "max": {2, 5}, "sum": {2, 12}, "count": {3, 3}} {
		if got, _ := rangeFaces[name].over(three); got != want {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
}

// TestFunctionSpansHold draws points inside spans for each function of one
// argument; a span over a point alone is no wider than a few units.
func TestFunctionSpansHold(t *testing.T) {
	l := newLot(23)
	for i := range functions {
		b := &functions[i]
		if b.most != 1 || b.folds(1) {
			continue
		}
		for range 4000 {
			s := l.wide()
			x := l.inside(s.asRange()).Number
			got, fails := rangeFaces[b.name].over([]span{s})
			y, why := b.value([]float64{x})
			switch {
			case why != "" && !fails, why == "" && !unworkable(y) && !got.holds(y), unworkable(y) && got.bounded():
				t.Fatalf("%s(%b) is %b %s, and over %v it is %v, fails %t", b.name, x, y, why, s, got, fails)
			}
			point, _ := rangeFaces[b.name].over([]span{pointSpan(x)})
			if why != "" || unworkable(y) || (b.rule == angleRule || b.name == "sinc") && math.Abs(x) > 1e6 {
				continue
			}
			if units := (point.hi - point.lo) / lastPlace(y); units > 16 && math.Abs(y) > 1e-9 && point.bounded() {
				t.Fatalf("%s(%b) = %b is only known to %g units: %v", b.name, x, y, units, point)
			}
		}
	}
}
