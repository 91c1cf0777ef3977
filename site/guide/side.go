package guide

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// axis is a value along which the table runs. Where the line that names it
// is at fault, or the value is, it has neither input nor points.
type axis struct {
	named  fault.Place
	input  *method.Input
	points []method.Point
	slugs  []string // the points as parts of addresses, once one is asked for
}

// readAxis finds the value along which the table runs.
func (b *block) readAxis(a *axis, word string) {
	if a.named.Text == nil {
		return
	}
	name := a.named.String()
	input := b.sheet.Input(name)
	switch {
	case input == nil:
		b.noSide = true
		b.fault(b.sheet.Unknown(name, a.named))
	case slices.Contains(b.empty, name): // told already
	case b.typed(name) == nil:
		b.fault(fault.At(a.named, "%s run along %s, which has no value in this block", word, name).
			Want("a line for it").Fix("%s", input.Sample(": ")))
	case len(b.cases[name]) == 1:
		b.fault(fault.At(a.named, "%s run along %s, which has one value only", word, name).
			Want("several, such as 3 m to 15 m by 3 m").Fix("take this line out, or give %s more values", name))
	case a != &b.rows && input == b.rows.input:
		b.fault(fault.At(a.named, "rows and columns both run along %s", name).Fix("name another value, or take one line out"))
	case len(b.cases[name]) > 1:
		a.input, a.points = input, b.cases[name]
	}
}

// typed returns the line of a value, nil where there is none.
func (b *block) typed(name string) *line {
	for i := range b.valueLines {
		if b.valueLines[i].word.String() == name {
			return &b.valueLines[i]
		}
	}
	return nil
}

// checkSweeps sees that every value with several cases runs along a side of
// the table.
func (b *block) checkSweeps() {
	if b.noSide {
		return // the side that cannot be read may be the one that is missing
	}
	for _, l := range b.valueLines {
		name := l.word.String()
		if len(b.cases[name]) < 2 || b.rows.named.String() == name || b.columns.named.String() == name {
			continue
		}
		b.fault(fault.At(l.word, "%s has %d values, and the table does not run along it", name, len(b.cases[name])).
			Want("rows: %s, or columns: %s, or one value", name, name))
	}
}

// side makes a side of the table, nil where nothing runs along it. Where all
// points are in one unit the head has it; else each point carries its own.
func side(a axis) *Axis {
	if a.input == nil {
		return nil
	}
	s := &Axis{Heading: heading(a.input)}
	s.Unit = a.points[0].Unit
	one := !slices.ContainsFunc(a.points, func(p method.Point) bool { return !p.Known() || p.Unit != s.Unit })
	s.Points = make([]string, 0, len(a.points))
	for _, p := range a.points {
		switch {
		case one:
			s.Points = append(s.Points, bare(p))
		case !p.Known() && a.input.Usually != nil:
			s.Points = append(s.Points, p.Text+" ("+a.input.Usually.Text+")") // what stands in for it
		default:
			s.Points = append(s.Points, p.Text)
		}
	}
	if !one || a.input.Choice != nil {
		s.Unit = unit.Unit{}
	}
	return s
}
