package unit

import "bindpost/calc/fault"

// Parse reads a place that holds a unit and nothing else: "ohm/km", "mm2",
// "Pa^2 h", "dB/100 ft", "%", or "number" for the plain number. It returns a
// fault for anything else.
func Parse(p fault.Place) (Unit, *fault.Fault) {
	p = p.Trim()
	s := p.String()
	if s == "number" {
		return Unit{}, nil
	}
	u, n := scanUnit(s, true)
	if n == 0 {
		return Unit{}, Unknown(p)
	}
	if n < len(s) {
		return Unit{}, Unknown(p.Sub(n, len(s)).Trim())
	}
	return u, nil
}

// Must returns the unit that a symbol stands for, for the program's own
// tables. It panics when there is no such unit.
func Must(symbol string) Unit {
	u, f := Parse(fault.NewText("unit", symbol).All())
	if f != nil {
		panic("unit: no unit " + symbol)
	}
	return u
}
