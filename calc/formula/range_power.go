package formula

import "math"

// raised is the span of a power, and whether one of its values fails: a
// number below 0 to no whole power, or 0 to a power below 0.
func (s span) raised(exponent span) (y span, fails bool) {
	switch {
	case s.empty() || exponent.empty():
		return nowhere, false
	case exponent.lo == exponent.hi && exponent.lo == math.Trunc(exponent.lo):
		return s.toWhole(exponent.lo)
	}
	y, fails = s.meet(span{0, math.Inf(1)}).toAny(exponent)
	if s.lo >= 0 {
		return y, fails
	}
	if math.Floor(exponent.hi) >= exponent.lo {
		size, _ := s.meet(span{math.Inf(-1), 0}).negated().toAny(exponent)
		y = y.hull(size).hull(size.negated())
	}
	return y, true
}

// toWhole raises to one whole power, which knows its turning point at 0.
func (s span) toWhole(n float64) (span, bool) {
	switch {
	case n == 0:
		return pointSpan(1), false
	case n == 1:
		return s, false
	case n == 2:
		return s.squared(), false
	case n < 0 && s.lo <= 0 && s.hi >= 0:
		y, _ := s.besideZero(n)
		return y, true
	}
	even := math.Mod(n, 2) == 0
	if even {
		s = s.magnitude()
	}
	ends := span{math.Pow(s.lo, n), math.Pow(s.hi, n)}
	if n < 0 {
		ends = span{ends.hi, ends.lo}
	}
	y := ends.loosened(powerUnits(s, n), 0)
	if s.lo >= 0 || even {
		y = y.meet(span{0, math.Inf(1)})
	}
	return y, false
}

// besideZero raises a span that holds 0 to a whole power below 0.
func (s span) besideZero(n float64) (span, bool) {
	y := nowhere
	if s.hi > 0 {
		y = y.hull(span{math.Pow(s.hi, n), math.Inf(1)}.loosened(powerUnits(s, n), 0))
	}
	if s.lo < 0 && math.Mod(n, 2) == 0 {
		y = y.hull(span{math.Pow(s.lo, n), math.Inf(1)}.loosened(powerUnits(s, n), 0))
	} else if s.lo < 0 {
		y = y.hull(span{math.Inf(-1), math.Pow(s.lo, n)}.loosened(powerUnits(s, n), 0))
	}
	return y, true
}

// toAny raises a span that is not below 0. The power rises or falls all along
// both sides, so its ends lie at the corners.
func (s span) toAny(exponent span) (span, bool) {
	if s.empty() {
		return nowhere, false
	}
	s.lo += 0 // a -0 would turn round
	y := nowhere
	for _, x := range [2]float64{s.lo, s.hi} {
		for _, n := range [2]float64{exponent.lo, exponent.hi} {
			corner := math.Pow(x, n)
			y = y.hull(pointSpan(corner).loosened(powerUnits(pointSpan(x), n), 0))
		}
	}
	return y.meet(span{0, math.Inf(1)}), s.lo == 0 && exponent.lo < 0
}

// powerUnits is how far a bound of a power is moved outwards, in units in the
// last place. The library multiplies x by itself as often as the whole part
// of the exponent says, each time doubling the error so far, and takes the
// exponential of a logarithm for the rest: at worst |n| + |ln x| halves of a
// unit and a few. Measured, it stayed below 0.8 of |n| + |ln x| + 1 units, so
// twice that sum and more is out of reach, with the bound off one way and the
// value worked inside it the other way.
func powerUnits(x span, n float64) float64 {
	far := 0.0
	for _, end := range [2]float64{x.lo, x.hi} {
		if l := math.Abs(math.Log(math.Abs(end))); l < 800 {
			far = math.Max(far, l)
		}
	}
	return 2*(math.Abs(n)+far) + 4
}
