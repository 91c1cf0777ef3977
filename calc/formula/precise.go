package formula

import "math"

// The library works these three with an error that grows without bound, in
// units in the last place, toward 1. Here each keeps the difference from 1
// that it is after, so that value, range and script agree there too.

// logTwo is the base 2 logarithm. Between ½ and 2 the library subtracts a
// logarithm from 1.
func logTwo(x float64) float64 {
	if x > 0.5 && x < 2 {
		return math.Log(x) * (1 / math.Ln2)
	}
	return math.Log2(x)
}

// arcsine is the angle, from -pi/2 to pi/2, whose sine is x.
func arcsine(x float64) float64 {
	return math.Atan(x / math.Sqrt(float64(1-x)*float64(1+x)))
}

// arccosine is the angle, from 0 to pi, whose cosine is x.
func arccosine(x float64) float64 {
	return 2 * math.Atan(math.Sqrt((1-x)/(1+x)))
}
