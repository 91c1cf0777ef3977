package unit

// Scale tells a point on a scale (a temperature, a wire gauge, a sound
// level) from an amount. Points are not added or multiplied; the difference
// of two is a step.
type Scale uint8

const (
	NoScale       Scale = iota // an amount, or a step on a scale
	Temperature                // °C °F; step K
	Gauge                      // AWG; step a plain number
	SoundLevel                 // dB SPL; this and the following step in dB
	WeightedLevel              // dBA
	PowerLevel                 // dBW dBm dBf
	VoltageLevel               // dBV dBu dBµV
	FieldLevel                 // dBµV/m
	AntennaGain                // dBi dBd
)

// Kind says what sort of quantity a value is. Two values can be added or
// compared only when their kinds are equal (a point and its step can be
// added too). The zero Kind is a plain number. Kinds are compared with ==.
type Kind struct {
	Dims  Dims
	Scale Scale // when not NoScale, the kind is a point and Dims are those of its step
}

// IsPoint reports whether the kind is a point on a scale.
func (k Kind) IsPoint() bool { return k.Scale != NoScale }

// IsNumber reports whether the kind is a plain number: a count, a ratio or a
// percentage.
func (k Kind) IsNumber() bool { return k == Kind{} }

// isLength reports whether squares and cubes of the kind are areas and
// volumes.
func (k Kind) isLength() bool { return k == Kind{Dims: Dims{metre: 2}} }

// Step returns the kind of the difference of two points; an amount's kind is
// its own step.
func (k Kind) Step() Kind { return Kind{Dims: k.Dims} }

// Times returns the kind of a product of amounts. Exponents that would run
// past what a unit can state stay at the limit; see [Kind.Runaway].
func (k Kind) Times(o Kind) Kind { return Kind{Dims: k.Dims.plus(o.Dims, 1)} }

// Over returns the kind of a quotient of amounts, limited as in [Kind.Times].
func (k Kind) Over(o Kind) Kind { return Kind{Dims: k.Dims.plus(o.Dims, -1)} }

// Power returns the kind of an amount raised to halves/2. It is false when an
// exponent would be a quarter or run past what a unit can state.
func (k Kind) Power(halves int) (Kind, bool) {
	var p Kind
	for i, e := range k.Dims {
		n := int(e) * halves
		if halves > limitHalves || halves < -limitHalves || n%2 != 0 || n/2 >= limitHalves || n/2 <= -limitHalves {
			if e != 0 {
				return Kind{}, false
			}
			continue
		}
		p.Dims[i] = int8(n / 2)
	}
	return p, true
}

// Runaway reports whether an exponent has reached the limit of what a unit
// can state, so that the kind means nothing any more.
func (k Kind) Runaway() bool {
	for _, e := range k.Dims {
		if e == limitHalves || e == -limitHalves {
			return true
		}
	}
	return false
}

// String returns the kind in words for a sentence: "a length", "a resistance
// per length", "a plain number", "a sound level". A kind without a name is
// spelled in base units: "a quantity in m² s⁻¹".
func (k Kind) String() string {
	if n, ok := kindNames()[k]; ok {
		return n.words
	}
	return "a quantity in " + k.Dims.String()
}

// Base returns the unit that values of the kind are kept in: SI base units,
// and on a scale °C, AWG, dB SPL, dBA, dBW, dBV, dBµV/m or dBi.
func (k Kind) Base() Unit {
	if n, ok := kindNames()[k]; ok {
		return n.base
	}
	var parts []part
	for i, halves := range k.Dims {
		if halves != 0 {
			u := index()[dimSymbols[i]].unit
			parts = append(parts, part{unit: u, halves: int(halves)})
		}
	}
	return compose(parts).unit()
}

// Example returns a typed value of the kind, for a sentence that says what is
// wanted: "9 m", "8 ohm", "0.5 dB".
func (k Kind) Example() string {
	if n, ok := kindNames()[k]; ok {
		return n.example
	}
	return joined("1", k.Base().Symbol())
}
