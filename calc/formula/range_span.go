package formula

import "math"

// A span is every number from lo to hi; there is none in it when lo > hi.
// Its arithmetic is directed: a lower bound is never above the true one, an
// upper never below.
//
// A sum, difference, product, quotient or root is off by at most half a unit
// in the last place, and the side on which it is off is found exactly (by
// the remainder that a fused multiplication leaves), so that a bound moves by
// one place only where it must and whole numbers stay whole. The functions of
// the library are off by more; slackOf says how much.
type span struct{ lo, hi float64 }

var (
	nowhere    = span{math.Inf(1), math.Inf(-1)}
	everywhere = span{math.Inf(-1), math.Inf(1)}
)

func pointSpan(x float64) span { return span{x, x} }

func (s span) empty() bool { return !(s.lo <= s.hi) }

func (s span) holds(x float64) bool { return s.lo <= x && x <= s.hi }

func (s span) bounded() bool { return !math.IsInf(s.lo, 0) && !math.IsInf(s.hi, 0) }

// hull is the smallest span round both.
func (s span) hull(o span) span { return span{math.Min(s.lo, o.lo), math.Max(s.hi, o.hi)} }

// meet is what both hold.
func (s span) meet(o span) span {
	m := span{math.Max(s.lo, o.lo), math.Min(s.hi, o.hi)}
	if m.empty() {
		return nowhere
	}
	return m
}

func (s span) negated() span { return span{-s.hi, -s.lo} }

// magnitude is the span of |x|.
func (s span) magnitude() span {
	switch {
	case s.empty() || s.lo >= 0:
		return s
	case s.hi <= 0:
		return s.negated()
	}
	return span{0, math.Max(-s.lo, s.hi)}
}

func (s span) plus(o span) span {
	if s.empty() || o.empty() {
		return nowhere
	}
	return span{sumDown(s.lo, o.lo), -sumDown(-s.hi, -o.hi)}
}

func (s span) minus(o span) span { return s.plus(o.negated()) }

func (s span) times(o span) span {
	if s.empty() || o.empty() {
		return nowhere
	}
	r := nowhere
	for _, x := range [2]float64{s.lo, s.hi} {
		for _, y := range [2]float64{o.lo, o.hi} {
			r = r.hull(span{productDown(x, y), -productDown(-x, y)})
		}
	}
	return r
}

// over divides by what o holds beside nothing.
func (s span) over(o span) span {
	switch {
	case s.empty() || o.empty() || o.lo == 0 && o.hi == 0:
		return nowhere
	case o.lo < 0 && o.hi > 0:
		return s.over(span{o.lo, 0}).hull(s.over(span{0, o.hi}))
	case o.hi <= 0:
		return s.negated().over(o.negated())
	}
	r := nowhere
	for _, x := range [2]float64{s.lo, s.hi} {
		for _, y := range [2]float64{o.lo, o.hi} {
			r = r.hull(span{quotientDown(x, y), -quotientDown(-x, y)})
		}
	}
	return r
}

// squared is tighter than the product of a span with itself: it knows that
// both factors are the same.
func (s span) squared() span {
	m := s.magnitude()
	if m.empty() {
		return nowhere
	}
	return span{math.Max(0, productDown(m.lo, m.lo)), -productDown(-m.hi, m.hi)}
}

// root is the square root of what of s is not below nothing.
func (s span) root() span {
	s = s.meet(span{0, math.Inf(1)})
	if s.empty() {
		return nowhere
	}
	lo, hi := math.Sqrt(s.lo), math.Sqrt(s.hi)
	if remainder := math.FMA(lo, lo, -s.lo); remainder > 0 || tiny(s.lo) {
		lo = math.Max(0, lower(lo))
	}
	if remainder := math.FMA(hi, hi, -s.hi); remainder < 0 || tiny(s.hi) {
		hi = higher(hi)
	}
	return span{lo, hi}
}

func lower(x float64) float64  { return math.Nextafter(x, math.Inf(-1)) }
func higher(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

// tiny numbers leave remainders too small to be seen.
func tiny(x float64) bool { return x != 0 && math.Abs(x) < 0x1p-900 }

// sumDown is the greatest number that is surely not above x + y.
func sumDown(x, y float64) float64 {
	if math.Abs(x) < math.Abs(y) {
		x, y = y, x
	}
	sum := x + y
	switch {
	case math.IsInf(x, 0) || math.IsInf(sum, -1):
		return sum
	case math.IsInf(sum, 1):
		return math.MaxFloat64
	case y-(sum-x) < 0: // what the rounding left over, exactly, as |x| >= |y|
		return lower(sum)
	}
	return sum
}

// productDown is the greatest number that is surely not above x*y. Nothing
// times what has no end is nothing, since the end itself is never a value.
func productDown(x, y float64) float64 {
	if x == 0 || y == 0 {
		return 0
	}
	product := x * y
	switch {
	case math.IsInf(x, 0) || math.IsInf(y, 0) || math.IsInf(product, -1):
		return product
	case math.IsInf(product, 1):
		return math.MaxFloat64
	case math.Abs(product) < 0x1p-900:
		return towardNothing(lower(product), (x > 0) == (y > 0))
	case math.FMA(x, y, -product) < 0:
		return lower(product)
	}
	return product
}

// quotientDown is the greatest number that is surely not above x/y for a y
// that is not below nothing; a y of nothing stands for one just above it.
func quotientDown(x, y float64) float64 {
	if x == 0 {
		return 0
	}
	quotient := x / y
	switch {
	case math.IsInf(y, 0):
		return 0
	case y == 0:
		return math.Copysign(math.Inf(1), x)
	case math.IsInf(x, 0) || math.IsInf(quotient, -1):
		return quotient
	case math.IsInf(quotient, 1):
		return math.MaxFloat64
	case tiny(quotient) || tiny(x) || quotient == 0:
		return towardNothing(lower(quotient), x > 0)
	case math.FMA(quotient, y, -x) > 0:
		return lower(quotient)
	}
	return quotient
}

// towardNothing keeps a lower bound of a result that is surely not below
// nothing from crossing it.
func towardNothing(x float64, positive bool) float64 {
	if positive {
		return math.Max(0, x)
	}
	return x
}
