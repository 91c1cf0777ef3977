package unit

import (
	"math"
	"strconv"

	"bindpost/calc/fault"
)

// Quantity is a typed value.
type Quantity struct {
	Value float64 // in base units
	Unit  Unit    // as typed
	Text  string  // as typed, without white space round it
}

// Read reads a typed value.
func Read(p fault.Place) (Quantity, *fault.Fault) {
	p = p.Trim()
	s := p.String()
	m := minus(s)
	n := ScanNumber(s[m:])
	if n == 0 {
		return Quantity{}, fault.At(p, "%s is not a number", quoted(s))
	}
	x, err := strconv.ParseFloat(s[m:m+n], 64)
	if err != nil || math.IsInf(x, 0) {
		return Quantity{}, fault.At(p, "%s is too large", quoted(s))
	}
	if m > 0 {
		x = -x
	}
	at := m + n
	at += spaces(s[at:])
	u := Unit{}
	if at < len(s) {
		var f *fault.Fault
		if u, f = Parse(p.Sub(at, len(s))); f != nil {
			return Quantity{}, f
		}
	}
	return Quantity{Value: u.ToBase(x), Unit: u, Text: s}, nil
}

// ReadAs reads a typed value of the kind of a unit.
func ReadAs(p fault.Place, want Unit) (Quantity, *fault.Fault) {
	q, f := Read(p)
	if f == nil && q.Unit.kind != want.kind {
		f = fault.At(p, "%s is %s, and %s is wanted", quoted(q.Text), q.Unit.kind, want.kind)
	}
	return q, f
}
