package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// point is one point of a table, computed.
type point struct {
	sheet   *method.Sheet
	values  method.Values
	outcome *method.Outcome
}

// compute runs the method at every point of the table.
func (b *block) compute() {
	wanted := b.wanted()
	told := map[string]bool{}
	for i := range max(1, len(b.rows.points)) {
		var row []*point
		for j := range max(1, len(b.columns.points)) {
			p := &point{sheet: b.sheet, values: b.valuesAt(i, j)}
			p.outcome = b.method.Run(p.values, wanted...)
			b.failed(p, i, j, told)
			row = append(row, p)
		}
		b.points = append(b.points, row)
	}
}

// wanted returns the results that the table, its limits and its figures need.
func (b *block) wanted() []string {
	var names []string
	for _, r := range b.results {
		names = append(names, r.Name)
	}
	for _, l := range b.limits {
		names = append(names, l.holds.Uses()...)
	}
	for _, f := range b.figures {
		names = append(names, f.what)
		if f.when != nil {
			names = append(names, f.when.Uses()...)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// valuesAt returns the values at one point of the table.
func (b *block) valuesAt(row, column int) method.Values {
	v := b.fixed
	if b.rows.input != nil {
		v = v.With(b.rows.input.Name, b.rows.points[row])
	}
	if b.columns.input != nil {
		v = v.With(b.columns.input.Name, b.columns.points[column])
	}
	return v
}

// failed reports what could not be worked at a point. The same trouble at
// other points is not told again.
func (b *block) failed(p *point, row, column int, told map[string]bool) {
	for _, f := range p.outcome.Faults.All() {
		if told[f.Message] {
			continue
		}
		told[f.Message] = true
		at := *f
		if at.Place.Text == nil {
			at.Place = b.named
		}
		if where := b.where(row, column); where != "" {
			at.Message += ", at " + where
		}
		b.fault(&at)
	}
}

// where says which point of the table is meant: "16 AWG and 9 m"; "" where
// the table has only one.
func (b *block) where(row, column int) string {
	var texts []string
	if b.rows.input != nil {
		texts = append(texts, b.rows.points[row].Text)
	}
	if b.columns.input != nil {
		texts = append(texts, b.columns.points[column].Text)
	}
	return strings.Join(texts, " and ")
}

// Value implements [formula.Env] over values and results alike.
func (p *point) Value(name string) formula.Value {
	if v, ok := p.outcome.Results[name]; ok {
		return v
	}
	for _, t := range p.outcome.Taken {
		if t.Input.Name == name {
			return t.Point.Value
		}
	}
	return formula.CannotTell(p.sheet.Input(name).Fact() + " is not known")
}

// Given implements [formula.Env].
func (p *point) Given(name string) bool { return p.Value(name).State == formula.Known }

// Missing implements [formula.Env].
func (p *point) Missing(string) bool { return false }

// scope returns what the conditions of a block may name: the values that its
// method takes, and its results.
func (b *block) scope() *formula.Scope {
	s := &formula.Scope{Values: map[string]formula.Symbol{}}
	for _, in := range b.sheet.Takes {
		s.Values[in.Name] = formula.Symbol{Type: in.Type(), Missing: true}
	}
	for _, r := range b.sheet.Gives {
		s.Values[r.Name] = formula.Symbol{Type: r.Type(), Missing: true}
	}
	return s
}

// condition reads a condition over values and results.
func (b *block) condition(p fault.Place) *formula.Formula {
	n, faults := formula.ParseCond(p)
	b.join(faults)
	if faults.Stopped() {
		return nil
	}
	f, faults := formula.Check(n, b.scope())
	b.join(faults)
	if faults.Stopped() {
		return nil
	}
	return f
}

// chosen returns the points at which a condition surely holds; all of them
// for no condition.
func (b *block) chosen(when *formula.Formula) (found []*point, rows, columns []int) {
	for i, row := range b.points {
		for j, p := range row {
			if when != nil {
				if truth, _ := when.Truth(p); truth != formula.True {
					continue
				}
			}
			found, rows, columns = append(found, p), append(rows, i), append(columns, j)
		}
	}
	return found, rows, columns
}

// open returns the values along which the table runs and that a condition
// leaves open.
func (b *block) left(when *formula.Formula) []string {
	var names []string
	for _, a := range []axis{b.rows, b.columns} {
		if a.input != nil && (when == nil || !slices.Contains(when.Uses(), a.input.Name)) {
			names = append(names, a.input.Name)
		}
	}
	return names
}

// single picks the one point that a line means, and reports where it means
// none or several.
func (b *block) single(when *formula.Formula, at fault.Place, what string) (p *point, row, column int) {
	found, rows, columns := b.chosen(when)
	switch {
	case len(found) == 1:
		return found[0], rows[0], columns[0]
	case len(found) == 0:
		b.fault(fault.At(at, "the table has no such point").Want("values that stand in the table: %s", b.standing()))
	case len(b.left(when)) > 0:
		left := b.left(when)
		b.fault(fault.At(at, "%s could be any of %d points", what, len(found)).
			Want("one, so %s must be said too", strings.Join(left, " and ")).Fix("when %s", b.pick(left)))
	default:
		b.fault(fault.At(at, "%s could be any of %d points", what, len(found)).Want("one point of the table"))
	}
	return nil, 0, 0
}

// pick shows how to say which point is meant.
func (b *block) pick(names []string) string {
	var parts []string
	for _, n := range names {
		parts = append(parts, n+" is "+b.cases[n][0].Text)
	}
	return strings.Join(parts, " and ")
}

// standing lists the values along the table's sides.
func (b *block) standing() string {
	var parts []string
	for _, a := range []axis{b.rows, b.columns} {
		if a.input == nil {
			continue
		}
		var texts []string
		for _, p := range a.points {
			texts = append(texts, p.Text)
		}
		parts = append(parts, a.input.Name+" "+strings.Join(texts, ", "))
	}
	return strings.Join(parts, "; ")
}
