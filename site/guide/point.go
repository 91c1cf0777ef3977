package guide

import (
	"maps"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// point is one point of a table, computed.
type point struct {
	worked
	sheet   *method.Sheet
	outcome *method.Outcome
}

// compute runs the method at every point of the table.
func (b *block) compute() {
	if b.solve(); b.backwards {
		return
	}
	ground, moving := b.ground(), b.moving()
	sweep := method.NewSweep(b.method, b.fixed, moving, b.wanted()...)
	told := map[string]bool{}
	rows, across, sides := max(1, len(b.rows.points)), max(1, len(b.columns.points)), len(moving)
	sweep.Expect(rows * across)
	room, moved := make([]point, rows*across), make([]*method.Point, rows*across*sides)
	b.points = make([][]*point, rows)
	for row := range b.points {
		b.points[row] = make([]*point, 0, across)
	}
	b.eachPoint(func(row, column int) {
		p, at := &room[0], moved[:sides:sides]
		room, moved = room[1:], moved[sides:]
		*p = point{sheet: b.sheet, worked: worked{ground: ground, row: row, column: column}}
		p.outcome = sweep.Run(ground.pointsAt(row, column, moving, at)...)
		b.failed(p, row, column, told)
		if b.limited {
			p.outcome.AtWorst(b.method, p.Values())
		}
		b.points[row] = append(b.points[row], p)
	})
}

// moving returns the names of the values that differ from point to point: those
// along the sides, and those that are asked for at some points only.
func (b *block) moving() []string {
	var names []string
	for _, side := range []axis{b.rows, b.columns} {
		if side.input != nil {
			names = append(names, side.input.Name)
		}
	}
	for _, in := range b.partly {
		names = append(names, in.Name)
	}
	return names
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
	for _, o := range b.orders {
		names = append(names, o.result.Name)
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

// valuesAt returns the values at one point of the table. A value that is asked
// for at other points only is left out: the copper share of clad wire does not
// belong to the row of plain copper.
func (b *block) valuesAt(row, column int) method.Values { return b.ground().valuesAt(row, column) }

// valuesWith returns the values of the block with those given along its sides.
func (b *block) valuesWith(along method.Values) method.Values {
	v := maps.Clone(b.fixed)
	maps.Copy(v, along)
	return b.together(v)
}

// together leaves out of the values at a point what is not asked for there.
func (b *block) together(v method.Values) method.Values { return together(b.sheet, b.partly, v) }

// eachPoint calls do for every point of the table, in the order of its rows.
func (b *block) eachPoint(do func(row, column int)) {
	for i := range max(1, len(b.rows.points)) {
		for j := range max(1, len(b.columns.points)) {
			do(i, j)
		}
	}
}

// checkPoints checks the values of every point against one another. What is
// wrong at every point is told as it is; what is wrong at some of them, with
// the first of these.
func (b *block) checkPoints() {
	if !b.oneForAll() {
		b.readPartly()
	} else if b.sheet.Check(b.fixed, b.info).Len() == 0 {
		b.agree = true
		return
	}
	type trouble struct {
		fault *fault.Fault
		where string
		count int
	}
	var all []*trouble
	points := 0
	b.eachPoint(func(row, column int) {
		points++
		for _, f := range b.sheet.Check(b.valuesAt(row, column), b.info).All() {
			i := slices.IndexFunc(all, func(t *trouble) bool { return t.fault.Place == f.Place && t.fault.Message == f.Message })
			if i < 0 {
				i, all = len(all), append(all, &trouble{fault: f, where: b.where(row, column)})
			}
			all[i].count++
		}
	})
	for _, t := range all {
		if t.count < points {
			t.fault.Message += ", at " + t.where
		}
		b.fault(t.fault)
	}
}

// oneForAll reports whether all points ask for the same values, which go together
// at every point or at none: no value is asked for by one along a side, and none
// of those is a list, which must be as long as others.
func (b *block) oneForAll() bool { return !b.asksBy(b.rows) && !b.asksBy(b.columns) }

// asksBy reports whether what is asked for, or how long it must be, may hang on
// where along a side a point is.
func (b *block) asksBy(side axis) bool {
	if side.input == nil {
		return false
	}
	known := !slices.ContainsFunc(side.points, func(p method.Point) bool { return !p.Known() })
	return side.input.Group != "" || slices.ContainsFunc(b.sheet.Takes, func(in *method.Input) bool {
		if in.When == nil || !slices.Contains(in.When.Uses(), side.input.Name) {
			return false
		}
		_, given := in.When.Node().(*formula.Given)
		return !given || !known // a known value is given at every point
	})
}

// readPartly finds the values that may be asked for at some points only.
func (b *block) readPartly() {
	for _, in := range b.sheet.Takes {
		if _, typed := b.fixed[in.Name]; typed && in.When != nil && b.askedSomewhere(in) {
			b.partly = append(b.partly, in)
		}
	}
}

// askedSomewhere reports whether a value is asked for at a point of the table.
func (b *block) askedSomewhere(in *method.Input) bool {
	if in.When == nil || b.oneForAll() {
		return asked(b.sheet, in, b.fixed)
	}
	found := false
	b.eachPoint(func(row, column int) { found = found || asked(b.sheet, in, b.valuesAt(row, column)) })
	return found
}

// asked reports whether a value is asked for among others: it is not only
// where its condition is surely false.
func asked(s *method.Sheet, in *method.Input, v method.Values) bool {
	if in.When == nil {
		return true
	}
	truth, _ := in.When.Truth(typed{s, v})
	return truth != formula.False
}

// typed answers for values as they were typed, usual values among them.
type typed struct {
	sheet  *method.Sheet
	values method.Values
}

// Value implements [formula.Env].
func (t typed) Value(name string) formula.Value {
	in := t.sheet.Input(name)
	if p, ok := t.values[name]; ok && p.Known() {
		return p.Value
	}
	if in != nil && in.Usually != nil {
		return in.Usually.Value
	}
	return formula.CannotTell(name + " is not known")
}

// Given implements [formula.Env].
func (t typed) Given(name string) bool { return t.Value(name).State == formula.Known }

// Missing implements [formula.Env].
func (t typed) Missing(string) bool { return false }

// failed reports what could not be worked at a point. The same trouble at
// other points, where only the numbers in it differ, is not told again.
func (b *block) failed(p *point, row, column int, told map[string]bool) {
	for _, f := range p.outcome.Faults.All() {
		key := strings.Map(func(r rune) rune {
			if r >= '0' && r <= '9' || r == '.' {
				return -1
			}
			return r
		}, f.Message)
		if told[key] {
			continue
		}
		told[key] = true
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
	return strings.Join(b.whereTexts(row, column), " and ")
}

func (b *block) whereTexts(row, column int) []string {
	var texts []string
	if b.rows.input != nil {
		texts = append(texts, b.rows.points[row].Text)
	}
	if b.columns.input != nil {
		texts = append(texts, b.columns.points[column].Text)
	}
	return texts
}

// Value implements [formula.Env] over values and results alike.
func (p *point) Value(name string) formula.Value {
	if v, ok := p.outcome.Results.Find(name); ok {
		return v
	}
	if side := p.side(name); side != nil && side.Known() {
		return side.Value
	}
	if t, ok := p.outcome.Input(name); ok {
		return t.Point.Value
	}
	return formula.CannotTell(p.sheet.Input(name).Fact() + " is not known")
}

// Given implements [formula.Env].
func (p *point) Given(name string) bool { return p.Value(name).State == formula.Known }

// Missing implements [formula.Env].
func (p *point) Missing(string) bool { return false }

// scope returns what the conditions of a block may name: the values that its
// method takes, and its results. All of them share one.
func (b *block) scope() *formula.Scope {
	if b.scoped != nil {
		return b.scoped
	}
	s := &formula.Scope{Values: make(map[string]formula.Symbol, len(b.sheet.Takes)+len(b.sheet.Gives))}
	for _, in := range b.sheet.Takes {
		s.Values[in.Name] = formula.Symbol{Type: in.Type(), Missing: true}
	}
	for _, r := range b.sheet.Gives {
		s.Values[r.Name] = formula.Symbol{Type: r.Type(), Missing: true}
	}
	b.scoped = s
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
	barred := make([]bool, 0, mostColumns)
	for i, row := range b.points {
		if i == 0 {
			for _, p := range row {
				barred = append(barred, b.bars(when, &b.columns, p))
			}
		}
		if len(row) > 0 && b.bars(when, &b.rows, row[0]) {
			continue
		}
		for j, p := range row {
			if barred[j] {
				continue
			}
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

// bars reports whether a condition holds at no point that shares its place along
// a side with this one.
func (b *block) bars(when *formula.Formula, side *axis, p *point) bool {
	return when != nil && side.input != nil && b.partly == nil && !b.backwards && when.BarredBy(side.input.Name, p)
}

// left returns the values along which the table runs and that a line leaves
// open. A line about one of these values needs only that one.
func (b *block) left(l picked) []string {
	var names []string
	for _, in := range []*method.Input{b.rows.input, b.columns.input} {
		switch {
		case in == nil || l.when != nil && slices.Contains(l.when.Uses(), in.Name):
		case in.Name == l.what:
			return []string{in.Name}
		default:
			names = append(names, in.Name)
		}
	}
	return names
}

// picked is a line that means one point of the table.
type picked struct {
	what string           // what the line is about, for messages
	when *formula.Formula // nil where it does not say which point
	at   fault.Place      // of the condition, or of the line where there is none
}

// single picks the one point that a line means, and reports where it means
// none or several.
func (b *block) single(l picked) (p *point, row, column int) {
	found, rows, columns := b.chosen(l.when)
	switch left := b.left(l); {
	case len(found) == 1:
		return found[0], rows[0], columns[0]
	case len(found) == 0:
		b.fault(fault.At(l.at, "the table has no such point").Want("values that stand in the table: %s", b.standing(l.when)))
	case len(left) > 0:
		more := "when "
		if l.when != nil {
			more = l.at.String() + " and "
		}
		b.fault(fault.At(l.at, "%s could be any of %d points", l.what, len(found)).
			Want("one, so %s must be said too", strings.Join(left, " and ")).Fix("%s%s", more, b.pick(left)))
	default:
		b.fault(fault.At(l.at, "%s could be any of %d points", l.what, len(found)).Want("one point of the table"))
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

// standing lists the values along the table's sides, and those that a
// condition names.
func (b *block) standing(when *formula.Formula) string {
	var parts []string
	for _, in := range b.sheet.Takes {
		along := in == b.rows.input || in == b.columns.input
		if !along && !slices.Contains(when.Uses(), in.Name) {
			continue
		}
		texts := []string{pointOf(b.points[0][0], in.Name).Text}
		if along {
			texts = nil
			for _, p := range b.cases[in.Name] {
				texts = append(texts, p.Text)
			}
		}
		parts = append(parts, in.Name+" "+strings.Join(texts, ", "))
	}
	return strings.Join(parts, "; ")
}
