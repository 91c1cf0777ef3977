package unit

import (
	"strings"
	"unique"
)

// Unit is what a number is counted in. The zero Unit is the plain number.
// Units are compared with ==; two that are written differently (ohm/km and
// mohm/m) are different units of one kind.
//
// Values are copied in great numbers, and each has its unit beside it. A unit is
// therefore no more than a handle to its shape, one and the same for equal ones.
type Unit struct {
	handle unique.Handle[shape] // the zero handle in a plain number
}

// shape is all that a unit says.
type shape struct {
	symbol    string
	one, many string
	kind      Kind
	mul, div  float64 // base = (x - zero)*mul/div; both 0 in a plain number
	zero      float64
}

// unit returns the unit of a shape.
func (s shape) unit() Unit {
	if s == (shape{}) {
		return Unit{}
	}
	return Unit{unique.Make(s)}
}

func (u Unit) shape() shape {
	if u == (Unit{}) {
		return shape{}
	}
	return u.handle.Value()
}

// Symbol returns the unit as it is printed: "ohm", "mm²", "°C", "dB SPL",
// "ohm/km", "dB/100 ft"; "" for a plain number.
func (u Unit) Symbol() string { return u.shape().symbol }

// Spoken returns the unit in words for a screen reader, as of many: "ohms",
// "metres", "ohms per kilometre", "percent"; "" for a plain number.
func (u Unit) Spoken() string { return u.shape().many }

// one returns the unit in words, as of one.
func (u Unit) one() string { return u.shape().one }

// Kind returns the kind of the quantities that the unit counts.
func (u Unit) Kind() Kind { return u.shape().kind }

// zero returns where the base's zero is, in the unit.
func (u Unit) zero() float64 { return u.shape().zero }

// isEven reports whether one of the unit is one of its base.
func (u Unit) isEven() bool { return u.shape().mul == u.shape().div }

// ToBase returns in base units what x of this unit is.
func (u Unit) ToBase(x float64) float64 {
	s := u.shape()
	if s.mul == 0 {
		return x + 0
	}
	return (x-s.zero)*s.mul/s.div + 0 // adding 0 makes 0 of -0
}

// FromBase returns in this unit what v of the base unit is.
func (u Unit) FromBase(v float64) float64 {
	s := u.shape()
	if s.mul == 0 {
		return v
	}
	return v*s.div/s.mul + s.zero
}

// Step returns the unit of a step on the unit's scale: K for °C, dB for the
// levels, the plain number for AWG. A step of 1 °F is 5/9 K; its unit is still
// printed "°F". A unit on no scale is its own step.
func (u Unit) Step() Unit {
	s := u.shape()
	if !s.kind.IsPoint() {
		return u
	}
	if base := s.kind.Step().Base(); s.mul == s.div {
		return base
	}
	s.kind, s.zero = s.kind.Step(), 0
	return s.unit()
}

// joined puts a number before a symbol: a plain space between, none before a
// degree sign or a stroke.
func joined(number, symbol string) string {
	if symbol == "" {
		return number
	}
	if under, ok := strings.CutPrefix(symbol, "1/"); ok {
		return number + "/" + under
	}
	if strings.HasPrefix(symbol, "°") && !strings.HasPrefix(symbol, "°C") && !strings.HasPrefix(symbol, "°F") {
		return number + symbol
	}
	return number + " " + symbol
}
