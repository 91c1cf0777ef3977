package unit

import (
	"math"
	"strconv"
	"strings"
)

// part is one symbol of a compound unit with its power.
type part struct {
	unit   Unit
	halves int     // the power, in halves
	over   bool    // written after a stroke
	count  float64 // the 100 of "dB/100 ft"; 0 stands for 1
}

// power is the signed power of the part, in halves.
func (p part) power() int {
	if p.over {
		return -p.halves
	}
	return p.halves
}

// alone reports whether parts are a single symbol without a power, which is the
// unit itself: "m" read anywhere is one and the same unit.
func alone(parts []part) bool { return len(parts) == 1 && parts[0].power() == 2 }

// compose makes the shape of one unit of its parts.
func compose(parts []part) shape {
	if alone(parts) {
		return parts[0].unit.shape()
	}
	s := shape{mul: 1, div: 1, symbol: composedSymbol(parts)}
	s.one, s.many = spokenParts(parts)
	for _, p := range parts {
		for i, e := range p.unit.Kind().Dims {
			s.kind.Dims[i] = int8(max(-limitHalves, min(limitHalves, int(s.kind.Dims[i])+int(e)*p.power()/2)))
		}
		mul, div := p.factor()
		s.mul, s.div = reduced(s.mul*mul, s.div*div)
	}
	return s
}

// sound reports whether a unit's exponents and factor lie within what can be
// stated.
func (s shape) sound() bool {
	factor := s.mul / s.div
	return !s.kind.Runaway() && factor > 0 && !math.IsInf(factor, 0)
}

// factor returns what the part multiplies and divides by.
func (p part) factor() (mul, div float64) {
	unit := p.unit.shape()
	mul, div = orOne(unit.mul), orOne(unit.div)
	if p.halves%2 == 0 {
		n := p.halves / 2
		if n < 0 {
			mul, div, n = div, mul, -n
		}
		mul, div = whole(mul, n), whole(div, n)
	} else {
		mul, div = math.Pow(mul/div, float64(p.halves)/2), 1
	}
	if p.over {
		mul, div = div, mul
	}
	if p.count != 0 {
		div *= p.count
	}
	return mul, div
}

func whole(x float64, n int) float64 {
	product := 1.0
	for range n {
		product *= x
	}
	return product
}

func composedSymbol(parts []part) string {
	var b strings.Builder
	for i, p := range parts {
		switch {
		case p.over && i == 0:
			b.WriteString("1/")
		case p.over:
			b.WriteString("/")
		case i > 0:
			b.WriteString(" ")
		}
		if p.count != 0 {
			b.WriteString(strconv.FormatFloat(p.count, 'f', -1, 64) + " ")
		}
		b.WriteString(p.unit.Symbol() + powerText(p.halves))
	}
	return b.String()
}
