package unit

import (
	"math"
	"strconv"
)

// Format says how a value is printed. Figures above 0 count significant
// figures; otherwise Places count the figures after the point. Places below
// 0 count as 0, and more than 15 of either as 15.
type Format struct {
	Unit    Unit
	Places  int
	Figures int
	Round   Rounding
}

const (
	mostPlaces = 15
	// With a figure before this place, or figures that start after that one,
	// a number is printed as a power of ten.
	largestPlain  = 12
	smallestPlain = -5
	// A value that is less than this power of ten of the last place printed
	// is the noise of a difference, and printed as 0 whatever the direction.
	noise = -9
)

// Number prints v, in base units, as a number of the format's unit, with "−"
// for a minus and never as "−0". Whole gauges from 0 down are printed as the
// trade writes them: 1/0, 2/0. Numbers from 10¹² on, and with Figures those
// under 10⁻⁶, are printed as "1.2 × 10⁻⁹". v must be finite.
func (f Format) Number(v float64) string { return f.written(f.rounded(v)) }

// written writes what is printed.
func (f Format) written(d decimal) string {
	if f.Unit.Kind().Scale == Gauge && f.places(d) == 0 && (d.isZero() || d.negative) {
		if n := d.float(); n >= -3 {
			return strconv.Itoa(1-int(n)) + "/0"
		}
	}
	switch {
	case d.point > largestPlain:
		return d.tenPower(max(d.count, min(f.figures(), kept)))
	case f.Figures > 0 && !d.isZero() && d.point < smallestPlain:
		return d.tenPower(f.figures())
	}
	return d.plain(f.places(d))
}

// Text prints v, in base units, as a number and its unit: "9 m", "5 %",
// "16 AWG", "1/0 AWG", "0.004/K". v must be finite.
func (f Format) Text(v float64) string { return joined(f.Number(v), f.Unit.Symbol()) }

// Printed returns, in base units, the value that the printed text stands
// for. [Read] gives the same value back from the text.
func (f Format) Printed(v float64) float64 { return f.Unit.ToBase(f.rounded(v).float() + 0) }

// Shortest prints v, in base units, with as few places as it takes, up to so many,
// for what is printed to be near enough. It is not ok where none are enough.
func (u Unit) Shortest(v float64, most int, near func(printed, v float64) bool) (text string, ok bool) {
	exact := Format{Unit: u}.exact(v)
	for places := range most + 1 {
		f := Format{Unit: u, Places: places}
		if d := f.round(exact); near(u.ToBase(d.float()+0), v) {
			return joined(f.written(d), u.Symbol()), true
		}
	}
	return "", false
}

func (f Format) figures() int { return min(f.Figures, mostPlaces) }

// places returns how many figures stand after the point.
func (f Format) places(d decimal) int {
	if f.Figures <= 0 {
		return max(0, min(f.Places, mostPlaces))
	}
	if d.isZero() {
		return 0
	}
	return max(0, f.figures()-d.point)
}

// rounded returns what is printed of v.
func (f Format) rounded(v float64) decimal { return f.round(f.exact(v)) }

// exact returns v in the format's unit, before it is rounded.
func (f Format) exact(v float64) decimal {
	x := f.Unit.FromBase(v)
	if math.IsInf(x, 0) && !math.IsInf(v, 0) {
		x = math.Copysign(math.MaxFloat64, x)
	}
	d := cut(x)
	if from := f.Unit.zero(); from != 0 {
		if zero := cut(from); zero.point > d.point {
			d = d.round(kept-zero.point+d.point, Either) // moving the zero leaves its own noise
		}
	}
	return d
}

func (f Format) round(d decimal) decimal {
	if f.Figures > 0 {
		return d.round(f.figures(), f.Round)
	}
	places := f.places(d)
	if d.point+places <= noise {
		return decimal{}
	}
	return d.round(d.point+places, f.Round)
}
