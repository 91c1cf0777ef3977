package guide

import (
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// KeptFigure is a figure as prose prints it, in a form that can be written down
// and read again.
type KeptFigure struct {
	Address, Number, Unit, Why, Sense, Asked, Of string
	Solved                                       bool
	Rests                                        []string
	State                                        formula.State
}

// Keep returns the figure as it is written down; false where its unit cannot be
// read again as it is.
func (f *Figure) Keep() (KeptFigure, bool) {
	k := KeptFigure{f.Address, f.Number, f.Unit.Symbol(), f.Why, f.Sense, f.Asked, f.Of, f.Solved, f.Rests, f.State}
	again, same := keptUnit(k.Unit)
	return k, same && (again == f.Unit || k.Unit == "") // a bare number is printed as one, whatever it counts
}

// Figure returns the figure that was written down, light.
func (k KeptFigure) Figure() *Figure {
	u, _ := keptUnit(k.Unit)
	return &Figure{
		Address: k.Address, Number: k.Number, Unit: u, State: k.State, Why: k.Why, Sense: k.Sense, Asked: k.Asked, Of: k.Of,
		Solved: k.Solved, Rests: k.Rests,
	}
}

// keptUnit reads a unit by its symbol; a figure without a unit has the zero one.
func keptUnit(symbol string) (unit.Unit, bool) {
	if symbol == "" {
		return unit.Unit{}, true
	}
	u, bad := unit.Parse(fault.NewText("", symbol).All())
	return u, bad == nil
}
