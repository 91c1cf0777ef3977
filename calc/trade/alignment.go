package trade

import (
	"math"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// grooves are the grooves of a record under one arm, in base units. Every
// error in them is worked by the method arm-geometry, so that its text stays
// the only one.
type grooves struct {
	geometry                  method.Method
	arm, innermost, outermost float64
}

// setting is how a cartridge sits in its arm, in metres and radians.
type setting struct{ overhang, offset float64 }

// Steps of the searches, in metres and radians.
const (
	nudge   = 1e-6  // for slopes
	enough  = 1e-12 // a step as small as this ends a search
	mostTry = 60
	parts   = 16 // into which the grooves are cut for a mean
)

// run works arm-geometry at one radius.
func (g grooves) run(s setting, radius float64, results ...string) *method.Outcome {
	return g.geometry.Run(method.Values{
		"arm": metres(g.arm), "overhang": metres(s.overhang), "groove_radius": metres(radius),
		"offset": {Value: formula.Quantity(s.offset)},
	}, results...)
}

func metres(x float64) method.Point { return method.Point{Value: formula.Quantity(x)} }

// weight is the error over the radius.
func (g grooves) weight(s setting, radius float64) float64 {
	return g.run(s, radius, "weight").Results.Of("weight").Number
}

// lowest is the radius at which the weight is least: between the null points
// it falls below nothing, and has one bottom.
func (g grooves) lowest(s setting) float64 {
	low, high := g.innermost, g.outermost
	part := (math.Sqrt(5) - 1) / 2
	for high-low > 1e-8 {
		a, b := high-part*(high-low), low+part*(high-low)
		if g.weight(s, a) < g.weight(s, b) {
			high = b
		} else {
			low = a
		}
	}
	return (low + high) / 2
}

// leastPeak returns the setting whose greatest weight, to either side, is
// least: that at both edges and, turned over, at the bottom between them, all
// three as great.
func (g grooves) leastPeak(s setting) (setting, bool) {
	return descend(s, func(s setting) (step setting) {
		bottom := g.lowest(s)
		uneven := func(s setting) (float64, float64) {
			in, out, mid := g.weight(s, g.innermost), g.weight(s, g.outermost), g.weight(s, bottom)
			return in - out, in + mid
		}
		p, q := uneven(s)
		pd, qd := uneven(setting{s.overhang + nudge, s.offset})
		po, qo := uneven(setting{s.overhang, s.offset + nudge})
		return solved([2][2]float64{{(pd - p) / nudge, (po - p) / nudge}, {(qd - q) / nudge, (qo - q) / nudge}}, [2]float64{p, q})
	})
}

// leastSquares returns the setting whose mean square of the weight is least.
func (g grooves) leastSquares(s setting) (setting, bool) {
	return descend(s, func(s setting) setting {
		var of [2][2]float64
		var against [2]float64
		g.each(func(radius, share float64) {
			w := g.weight(s, radius)
			slope := [2]float64{
				(g.weight(setting{s.overhang + nudge, s.offset}, radius) - w) / nudge,
				(g.weight(setting{s.overhang, s.offset + nudge}, radius) - w) / nudge,
			}
			for i := range slope {
				against[i] += share * slope[i] * w
				for k := range slope {
					of[i][k] += share * slope[i] * slope[k]
				}
			}
		})
		return solved(of, against)
	})
}

// each cuts the grooves into parts of equal width and hands Gauss's three
// radii of each, with their shares of the whole.
func (g grooves) each(use func(radius, share float64)) {
	half := (g.outermost - g.innermost) / (2 * parts)
	for i := range parts {
		middle := g.innermost + half*float64(2*i+1)
		use(middle-half*math.Sqrt(0.6), 5.0/(18*parts))
		use(middle, 8.0/(18*parts))
		use(middle+half*math.Sqrt(0.6), 5.0/(18*parts))
	}
}

// descend takes steps until one is as small as nothing.
func descend(s setting, step func(setting) setting) (setting, bool) {
	for range mostTry {
		d := step(s)
		s.overhang -= d.overhang
		s.offset -= d.offset
		if math.Abs(d.overhang) < enough && math.Abs(d.offset) < enough {
			return s, true
		}
		if math.IsNaN(s.overhang) || math.IsNaN(s.offset) {
			return s, false
		}
	}
	return s, false
}

// solved solves two equations of two unknowns.
func solved(of [2][2]float64, against [2]float64) setting {
	whole := of[0][0]*of[1][1] - of[0][1]*of[1][0]
	return setting{
		overhang: (against[0]*of[1][1] - of[0][1]*against[1]) / whole,
		offset:   (of[0][0]*against[1] - against[0]*of[1][0]) / whole,
	}
}

// peak is the greatest weight to either side.
func (g grooves) peak(s setting) float64 {
	return max(math.Abs(g.weight(s, g.innermost)), math.Abs(g.weight(s, g.outermost)), math.Abs(g.weight(s, g.lowest(s))))
}

// mean is the root of the mean square of the weight.
func (g grooves) mean(s setting) float64 {
	sum := 0.0
	g.each(func(radius, share float64) {
		w := g.weight(s, radius)
		sum += share * w * w
	})
	return math.Sqrt(sum)
}
