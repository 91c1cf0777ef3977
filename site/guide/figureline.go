package guide

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// figureLine is a figure line: a name for the prose, what it is, and at which
// point of the table.
type figureLine struct {
	picked
	name  string
	asked *backward // the answer that it is; nil where it is a result or a value
}

// readFigures reads lines of the form: name = result or value, when condition.
func (b *block) readFigures() {
	seen := map[string]bool{}
	for _, p := range b.figureLines {
		f := b.readFigure(p)
		if f == nil {
			continue
		}
		if seen[f.name] {
			b.fault(fault.At(p.Sub(0, len(f.name)), "a figure of this name stands in this block already").Fix("another name"))
			continue
		}
		seen[f.name] = true
		b.figures = append(b.figures, f)
	}
}

func (b *block) readFigure(p fault.Place) *figureLine {
	const shape = "name = result, and where it is not the only one: when value is so and so"
	s := p.String()
	eq := strings.IndexByte(s, '=')
	if eq < 0 {
		b.fault(fault.At(p, "this figure does not say what it is").Want(shape))
		return nil
	}
	name := p.Sub(0, eq).Trim()
	if !isName(name.String()) {
		b.fault(fault.At(name, "%q is no name for a figure", name).Want("%s", nameShape))
		return nil
	}
	what, when := p.Sub(eq+1, len(s)).Trim(), fault.Place{}
	if i := strings.Index(what.String(), " when "); i >= 0 {
		when = what.Sub(i+len(" when "), len(what.String())).Trim()
		what = what.Sub(0, i).Trim()
	}
	f := &figureLine{name: name.String(), picked: picked{what: what.String(), at: p}}
	f.asked = b.askedFor(f.what)
	if f.asked == nil && b.sheet.Result(f.what) == nil && b.sheet.Input(f.what) == nil {
		b.fault(b.noFigured(what))
		return nil
	}
	if b.backwards && f.asked == nil && b.sheet.Result(f.what) != nil {
		b.fault(fault.At(what, "this block holds answers only, and no %s", what).Want("%s %s", b.asks[0].Word(), b.asks[0].Input.Name))
		return nil
	}
	if f.name != f.what && b.sheet.Result(f.name) != nil {
		b.fault(fault.At(name, "%q is the name of another result of %s", name, b.sheet.Name).Want("a name of its own for the figure"))
		return nil
	}
	if when.Text != nil {
		if f.when, f.at = b.condition(when), when; f.when == nil {
			return nil
		}
	}
	return f
}

// noFigured is the fault of a figure that is neither result nor value.
func (b *block) noFigured(at fault.Place) *fault.Fault {
	var all []string
	for _, r := range b.sheet.Gives {
		all = append(all, r.Name)
	}
	for _, in := range b.sheet.Takes {
		all = append(all, in.Name)
	}
	for _, a := range b.asks {
		all = append(all, a.Word()+" "+a.Input.Name)
	}
	f := fault.At(at, "%q is neither a result nor a value of %s", at, b.sheet.Name).Want("one of: %s", strings.Join(all, ", "))
	if near := fault.Near(at.String(), all); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// figure makes the figure that a line names.
func (b *block) figure(l *figureLine) *Figure {
	f := &Figure{Address: b.name + "." + l.name, Reached: &Reached{}}
	if l.asked != nil {
		return b.solvedFigure(l)
	}
	if r := b.sheet.Result(l.what); r != nil {
		p, row, column := b.single(l.picked)
		if p == nil {
			return nil
		}
		f.Value, f.worked, f.Rests = p.outcome.Results.Of(l.what), p.worked, []string{r.Name}
		f.Number, f.Unit, f.Sense = b.numberOf(r, p, row, column), r.Unit, r.Sense
		b.keepLimits(f, r, p)
	} else if p, ok := b.value(l); ok {
		in := b.sheet.Input(l.what)
		f.Value, f.Unit, f.Number, f.Sense, f.Of = p.Value, p.Unit, bare(p), in.Sense, in.Name
		f.limits = p.Limits
		points, _, _ := b.chosen(l.when)
		f.worked = points[0].worked
	} else {
		return nil
	}
	if f.State = f.Value.State; f.State != formula.Known {
		f.Number, f.Unit, f.Why = "", unit.Unit{}, f.Value.Why
	}
	return f
}

// numberOf returns a result's number as the table prints it, so that prose
// and table never differ by a digit; a result that the table does not show is
// printed as its method says.
func (b *block) numberOf(r *method.Result, p *point, row, column int) string {
	for k, shown := range b.results {
		if shown != r {
			continue
		}
		if b.columns.input == nil {
			column = k
		}
		return b.table.Cells[row][column].Number
	}
	if text := b.fromTo(r, p); text != "" {
		return text
	}
	return r.Number(p.outcome.Results.Of(r.Name))
}

// value returns the value that a line means. Points that agree on it count as
// one.
func (b *block) value(l *figureLine) (method.Point, bool) {
	found, _, _ := b.chosen(l.when)
	if len(found) == 0 {
		b.single(l.picked)
		return method.Point{}, false
	}
	first := pointOf(found[0], l.what)
	for _, p := range found[1:] {
		if pointOf(p, l.what).Text != first.Text {
			b.single(l.picked)
			return method.Point{}, false
		}
	}
	return first, true
}

// pointOf returns a value as it stood at a point.
func pointOf(p *point, name string) method.Point {
	if t, ok := p.outcome.Input(name); ok {
		return t.Point
	}
	return method.Point{Value: p.Value(name), Text: method.DontKnow}
}

// bare returns a value's text without its unit.
func bare(p method.Point) string {
	switch {
	case p.Value.Word != "" || p.Unit.Symbol() == "":
		return p.Text
	case len(p.Limits) > 0 && p.Value.List == nil:
		by := method.PointOf(unit.Quantity{Value: (p.Limits[0].High - p.Limits[0].Low) / 2, Unit: p.Unit.Step()}, p.Place)
		middle := method.PointOf(unit.Quantity{Value: p.Value.Number, Unit: p.Unit}, p.Place)
		return bare(middle) + " ± " + bare(by)
	}
	return strings.TrimSpace(strings.TrimSuffix(p.Text, p.Unit.Symbol()))
}
