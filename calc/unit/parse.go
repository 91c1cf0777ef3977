package unit

import "bindpost/calc/fault"

// Parse reads a unit that takes up the whole place: "ohm/km", "mm2",
// "Pa^2 h", "dB/100 ft", "%", or "number" for the plain number. Anything else
// is a fault at the word that is no unit, with those that it may have meant.
func Parse(p fault.Place) (Unit, *fault.Fault) {
	r := newReader(p)
	switch r.s {
	case "":
		return Unit{}, fault.At(r.p, "a unit is missing").Want(wantedUnit)
	case "number":
		return Unit{}, nil
	}
	if len(r.s) > longestValue {
		return Unit{}, fault.At(r.p, "%s is too long for a unit", quoted(r.s)).Want(wantedUnit)
	}
	u, n := scanUnit(r.s, true)
	if n == len(r.s) {
		return u, nil
	}
	r.at = n
	if n == 0 {
		return Unit{}, r.unknown()
	}
	f := r.afterUnit(u)
	if f.Wanted == "" {
		f.Want(wantedUnit)
	}
	return Unit{}, f
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
