package unit

import "strings"

// Unit is what a number is counted in. The zero Unit is the plain number.
// Units are compared with ==; two that are written differently (ohm/km and
// mohm/m) are different units of one kind.
type Unit struct {
	symbol    string
	one, many string
	kind      Kind
	mul, div  float64 // base = (x - zero)*mul/div; both 0 in a plain number
	zero      float64
}

// Symbol returns the unit as it is printed: "ohm", "mm²", "°C", "dB SPL",
// "ohm/km", "dB/100 ft"; "" for a plain number.
func (u Unit) Symbol() string { return u.symbol }

// Spoken returns the unit in words for a screen reader, as of many: "ohms",
// "metres", "ohms per kilometre", "percent"; "" for a plain number.
func (u Unit) Spoken() string { return u.many }

// Kind returns the kind of the quantities that the unit counts.
func (u Unit) Kind() Kind { return u.kind }

// ToBase returns in base units what x of this unit is.
func (u Unit) ToBase(x float64) float64 {
	if u.mul == 0 {
		return x + 0
	}
	return (x-u.zero)*u.mul/u.div + 0 // adding 0 makes 0 of -0
}

// FromBase returns in this unit what v of the base unit is.
func (u Unit) FromBase(v float64) float64 {
	if u.mul == 0 {
		return v
	}
	return v*u.div/u.mul + u.zero
}

// Step returns the unit of a step on the unit's scale: K for °C, dB for the
// levels, the plain number for AWG. A step of 1 °F is 5/9 K; its unit is still
// printed "°F". A unit on no scale is its own step.
func (u Unit) Step() Unit {
	if !u.kind.IsPoint() {
		return u
	}
	if base := u.kind.Step().Base(); u.mul == u.div {
		return base
	}
	u.kind, u.zero = u.kind.Step(), 0
	return u
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
