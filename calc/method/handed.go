package method

import (
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Handed is a value that was made elsewhere and is given to a method instead
// of a typed one: a standing figure, or the figure of another block.
type Handed struct {
	Value formula.Value
	Text  string // as it is printed, with its unit
	Unit  unit.Unit
	Sense string
	Place fault.Place // where the block names it
	// Limits are those between which the value may lie; nil where it has none.
	Limits []Limits
	Jumps  bool // somewhere within them it may jump, or be none
}

// Take takes a handed value for the input. The value must be of the input's
// kind, in the input's sense where both state one, and within its bounds; a
// value that is not known stands as "don't know". With a stop on the list the
// point is not to be used.
func (i *Input) Take(h Handed) (Point, *fault.List) {
	faults := &fault.List{}
	p := Point{Value: h.Value, Text: h.Text, Unit: h.Unit, Place: h.Place, Limits: h.Limits}
	switch {
	case i.Group != "":
		faults.Add(fault.At(h.Place, "%s is a list, and this is one figure", i.Name).Want("%s", i.wanted()))
	case h.Value.State == formula.None || h.Value.State == formula.Failed:
		faults.Add(fault.At(h.Place, "there is no such value: %s", h.Value.Why).Want("%s", i.wanted()))
	case h.Value.List != nil:
		faults.Add(fault.At(h.Place, "this figure is a list, and %s takes one value", i.Name).Want("%s", i.wanted()))
	case h.Value.State == formula.Unknown:
		p.Text = DontKnow
	case i.Choice != nil:
		i.takeWord(&p, faults)
	case h.Value.Word != "" || h.Unit.Kind() != i.Unit.Kind():
		faults.Add(fault.At(h.Place, "this figure is %s, and %s is wanted for %s", i.handedAs(h), i.Unit.Kind(), i.Name))
	default:
		faults.Add(i.bounds(&p))
		faults.Add(i.handedLimits(p, h))
	}
	if f := otherSense(h.Sense, i.Sense, i.Name, h.Place); !faults.Stopped() {
		faults.Add(f)
	}
	return p, faults
}

// handedLimits checks the limits of a handed value.
func (i *Input) handedLimits(p Point, h Handed) *fault.Fault {
	switch {
	case len(h.Limits) == 0:
		return nil
	case h.Jumps:
		return fault.At(h.Place, "somewhere within its limits this figure jumps, or there is none").Want("a value typed with limits of its own")
	case i.Whole || len(i.Among) > 0:
		return fault.At(h.Place, "%s is one of certain values, and this figure lies between limits", i.Name).Want("%s", i.wanted())
	}
	for _, end := range []float64{h.Limits[0].Low, h.Limits[0].High} {
		if out := i.outside(end); out != "" {
			return fault.At(h.Place, "%s may be %s, %s", i.Name, typed(unit.Quantity{Value: end, Unit: p.Unit}), out).Want("%s", i.span())
		}
	}
	return nil
}

func (i *Input) handedAs(h Handed) string {
	if h.Value.Word != "" {
		return "the word " + h.Value.Word
	}
	return h.Unit.Kind().String()
}

func (i *Input) takeWord(p *Point, faults *fault.List) {
	for _, word := range i.Choice {
		if word == p.Value.Word {
			p.Text = i.Printed(word)
			return
		}
	}
	faults.Add(fault.At(p.Place, "%s cannot be %q", i.Name, p.Text).Want("%s", i.wanted()))
}

// PointOf makes a known point of a quantity, printed with as few digits as it
// needs.
func PointOf(q unit.Quantity, at fault.Place) Point {
	return Point{Value: formula.Value{State: formula.Known, Number: q.Value}, Text: typed(q), Unit: q.Unit, Place: at}
}
