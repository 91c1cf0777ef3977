package unit

import "strings"

// Dims are the exponents of a quantity's dimensions, in halves (an area has
// m: 4, the root of a hertz s: -1), in the order m kg s A K rad dB octave
// bit money. Angle, decibel, octave, bit and money are dimensions of their
// own, so that degrees cannot be added to a ratio, nor decibels to cents.
type Dims [10]int8

const (
	metre = iota
	kilogram
	second
	ampere
	kelvin
	radian
	decibel
	octave
	bit
	money
)

var dimSymbols = [len(Dims{})]string{"m", "kg", "s", "A", "K", "rad", "dB", "octave", "bit", "money"}

// An exponent at the limit has run past what a unit can state.
const limitHalves = 127

// plus returns the exponents of a product; an exponent that would run past
// ±127 halves stays there.
func (d Dims) plus(o Dims, times int) Dims {
	for i := range d {
		d[i] = int8(max(-limitHalves, min(limitHalves, int(d[i])+times*int(o[i]))))
	}
	return d
}

// String spells the dimensions in base units: "m² kg s⁻³"; "" for a plain
// number.
func (d Dims) String() string {
	var parts []string
	for i, halves := range d {
		if halves != 0 {
			parts = append(parts, dimSymbols[i]+powerText(int(halves)))
		}
	}
	return strings.Join(parts, " ")
}
