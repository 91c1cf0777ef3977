package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// The words that ask a method backwards.
const (
	mostWord  = "most"
	leastWord = "least"
)

// askLine is a most or least line as it was written.
type askLine struct {
	rest  fault.Place
	least bool
}

// backward is a most or least line, with its answer at each point for which it is
// asked. Along the side of the value that is asked for there is one.
type backward struct {
	*method.Ask
	text    string // "longest run for loss at most 0.5 dB"
	swept   bool   // the table runs along its value, and prints the answers beside
	answers [][]*method.Answer
	points  [][]*point // the runs forwards at the answers
}

// name is the answer's part of an address: most-run.
func (a *backward) name() string { return a.Word() + "-" + a.Input.Name }

// readAsks reads the most and least lines. A block whose table does not run
// along the value that is asked for prints answers only.
func (b *block) readAsks() {
	for _, l := range b.askLines {
		ask, faults := b.sheet.ReadAsk(l.rest, l.least)
		b.join(faults)
		if ask == nil || faults.Stopped() {
			b.unsure = true
			continue
		}
		a := &backward{Ask: ask, text: b.sheet.Extreme(ask) + " for " + words(formula.Text(ask.Holds.Node()))}
		if slices.ContainsFunc(b.asks, func(o *backward) bool { return o.name() == a.name() }) {
			b.fault(fault.At(l.rest, "the %s %s is asked for already", a.Word(), ask.Input.Name).
				Want("one line for it").Fix("join the conditions with and, or ask in a block of its own"))
			continue
		}
		if b.setAsked(a) && b.forEach(a) {
			b.asks = append(b.asks, a)
		}
	}
	b.clearAsked()
	b.answersOnly()
}

// setAsked finds how the value that is asked for stands in the block.
func (b *block) setAsked(a *backward) bool {
	in, points := a.Input, b.cases[a.Input.Name]
	at := a.Place.Sub(0, len(in.Name))
	switch {
	case len(points) == 0 && b.typed(in.Name) != nil: // its line is at fault
		return false
	case in.Group != "" && !slices.ContainsFunc(points, func(p method.Point) bool { return p.Asked > 0 }):
		b.fault(fault.At(at, "%s is a list, and it is not said which member is asked for", in.Name).
			Want("a ? in its place, such as %s: 8 and ? ohm", in.Name))
		return false
	case in.Group != "" && len(points) > 1:
		b.fault(fault.At(points[0].Place, "a member of %s is asked for, and %d lists stand", in.Name, len(points)).Want("one list"))
		return false
	case in.Group != "":
		a.Member, a.Ask.Unit = points[0].Asked, points[0].Unit
	case len(points) == 1:
		b.fault(fault.At(at, "%s has a value in this block, %s, and is asked for as well", in.Name, points[0].Text).
			Fix("take out its line, or this one"))
		return false
	case len(points) > 1:
		a.swept, a.Ask.Unit = true, points[0].Unit
	default:
		if a.Ask.Unit.Symbol() == "" {
			a.Ask.Unit = in.Unit
		}
		unknown := method.Point{Value: formula.CannotTell(in.Fact() + " is asked for"), Text: method.DontKnow, Sought: true, Place: at}
		b.fixed[in.Name] = unknown
	}
	return true
}

// clearAsked sets members that are asked for free to be checked: the line that
// asks for them was read.
func (b *block) clearAsked() {
	for _, a := range b.asks {
		if p := b.fixed[a.Input.Name]; a.Member > 0 {
			p.Asked = 0
			b.fixed[a.Input.Name], b.cases[a.Input.Name] = p, []method.Point{p}
		}
	}
}

// forEach sees that an answer is asked for at each point of the values along
// which the table runs, and of no other.
func (b *block) forEach(a *backward) bool {
	var said []string
	for _, p := range a.Each {
		name := p.String()
		along := b.rows.input != nil && b.rows.input.Name == name || b.columns.input != nil && b.columns.input.Name == name
		switch {
		case b.sheet.Input(name) == nil:
			b.fault(b.sheet.Unknown(name, p))
			return false
		case name == a.Input.Name:
			b.fault(fault.At(p, "%s is what is asked for, and it cannot be asked for each %s", name, name).Want("another value, along which the table runs"))
			return false
		case !along && !b.noSide:
			b.fault(fault.At(p, "the table does not run along %s", name).Want("rows: %s, and several values of it", name))
			return false
		}
		said = append(said, name)
	}
	for _, in := range []*method.Input{b.rows.input, b.columns.input} {
		if in != nil && in != a.Input && !slices.Contains(said, in.Name) {
			b.fault(fault.At(a.Place, "the %s %s may differ with each %s", a.Word(), a.Input.Name, in.Name).
				Fix("%s", eachFix(a, append(said, in.Name))))
			return false
		}
	}
	return true
}

// eachFix is the line with the values put in for each of which it asks.
func eachFix(a *backward, names []string) string {
	text, _, _ := strings.Cut(a.Place.String(), ", for each ")
	return text + ", for each " + strings.Join(names, " and ")
}

// answersOnly sees whether the table is one of answers only, which has none of
// the figures that other lines are about.
func (b *block) answersOnly() {
	first := func(swept bool) int {
		return slices.IndexFunc(b.asks, func(a *backward) bool { return a.swept == swept })
	}
	swept, other := first(true), first(false)
	if b.backwards = other >= 0; !b.backwards {
		return
	}
	at := b.asks[other].Place
	switch {
	case swept >= 0:
		b.fault(fault.At(at, "the table runs along %s, and this line asks for %s, which has no value in it", b.asks[swept].Input.Name, b.asks[other].Input.Name).
			Fix("ask for it in a block of its own"))
	case b.columns.input != nil && len(b.asks) > 1:
		b.fault(fault.At(b.columns.named, "this table has columns, and would hold %d answers in each cell", len(b.asks)).Want("one most or least line, or rows"))
	}
	b.forwardLine("show", b.show)
	for _, p := range b.limitLines {
		b.forwardLine("limit", p)
	}
	for _, p := range b.claimLines {
		b.forwardLine("claim", p)
	}
	for _, p := range b.workLines {
		b.forwardLine("work", p)
	}
	for _, p := range b.chartLines {
		b.forwardLine(chartWord, p)
	}
}

// forwardLine refuses a line about figures that a table of answers lacks.
func (b *block) forwardLine(word string, p fault.Place) {
	if p.Text == nil {
		return
	}
	b.fault(fault.At(p, "this block asks for %s and holds answers only, so there is nothing for its %s line", b.asks[0].Input.Name, word).
		Fix("take the line out, or give %s several values along rows or columns", b.asks[0].Input.Name))
}

// solve answers the most and least lines at every point.
func (b *block) solve() {
	for _, a := range b.asks {
		for row := range b.span(b.rows, a) {
			var answers []*method.Answer
			var points []*point
			for column := range b.span(b.columns, a) {
				v := b.valuesAt(row, column)
				if a.Member == 0 {
					delete(v, a.Input.Name)
				}
				answer := method.Solve(b.method, v, a.Ask)
				p := &point{sheet: b.sheet, worked: worked{values: answer.Values}, outcome: answer.Check}
				if answer.Check == nil {
					p.values = b.valuesAt(row, column)
					p.outcome = b.method.Run(p.values, a.Holds.Uses()...)
				}
				answers, points = append(answers, answer), append(points, p)
			}
			a.answers, a.points = append(a.answers, answers), append(a.points, points)
		}
	}
	if b.backwards {
		b.points = b.asks[0].points
	}
}

// span is along how many points of a side an answer differs.
func (b *block) span(side axis, a *backward) int {
	if side.input == nil || side.input == a.Input {
		return 1
	}
	return len(side.points)
}

// heading is what stands over the answers.
func (a *backward) heading() Heading {
	h := Heading{Name: a.name(), Label: a.text, Says: a.text, Unit: a.Ask.Unit, Sense: a.Input.Meaning()}
	if !a.Input.Whole && len(a.Input.Among) == 0 && len(a.Ask.Among) == 0 {
		h.Round = unit.Down.Way()
		if a.Least {
			h.Round = unit.Up.Way()
		}
	}
	return h
}

// answerCell is the cell of one answer.
func (b *block) answerCell(a *backward, row, column int) Cell {
	address := []string{b.name, a.name()}
	if b.span(b.rows, a) > 1 {
		address = append(address, slug(typedAs(b.rows.points[row])))
	}
	if b.span(b.columns, a) > 1 {
		address = append(address, slug(typedAs(b.columns.points[column])))
	}
	answer := a.answers[row][column]
	c := Cell{Address: strings.Join(address, "."), Value: answer.Value, Why: answer.Value.Why, worked: a.points[row][column].worked}
	if c.Value.State == formula.Known {
		c.Number = bare(answer.Point)
	}
	return c
}

// fillAnswers puts the answers into the table: as its only figures, or beside
// them.
func (b *block) fillAnswers() {
	for _, a := range b.asks {
		h := a.heading()
		if b.backwards {
			b.table.Results = append(b.table.Results, h)
		} else {
			b.table.Beside = append(b.table.Beside, b.beside(a, h))
		}
		b.table.Solved = append(b.table.Solved, b.solved(a))
	}
	if !b.backwards {
		return
	}
	b.table.Cells = nil
	for row := range b.points {
		var cells []Cell
		for column := range b.points[row] {
			for _, a := range b.asks {
				cells = append(cells, b.answerCell(a, row, column))
			}
		}
		b.table.Cells = append(b.table.Cells, cells)
	}
}

// beside gathers the answers that stand beside a table's own figures.
func (b *block) beside(a *backward, h Heading) Beside {
	s := Beside{Heading: h}
	switch {
	case b.span(b.rows, a) > 1:
		s.Along = AlongRows
	case b.span(b.columns, a) > 1:
		s.Along = AlongColumns
	}
	for row := range a.answers {
		for column := range a.answers[row] {
			s.Cells = append(s.Cells, b.answerCell(a, row, column))
		}
	}
	return s
}

// solved tells how each answer was checked, and what else is to be said of it.
func (b *block) solved(a *backward) Solved {
	s := Solved{Label: a.text, Word: a.Word(), Value: a.Input.Label(), Listed: a.Among != nil, Rests: b.claimed(a.Holds)}
	for row := range a.answers {
		for column, answer := range a.answers[row] {
			if answer.Check == nil {
				continue // its cell says why
			}
			c := Checked{Where: strings.Join(b.answerAt(a, row, column), " and "), Value: answer.Point.Text, Whole: answer.Whole,
				Address: b.answerCell(a, row, column).Address, Values: answer.Values}
			for _, r := range b.sheet.Gives {
				if slices.Contains(a.Holds.Uses(), r.Name) {
					c.Results = append(c.Results, r.Label()+" "+shownAt(a, r, a.points[row][column]))
				}
			}
			for _, part := range answer.Parts {
				c.Parts = append(c.Parts, [2]string{method.Rough(part.From, a.Ask.Unit), method.Rough(part.To, a.Ask.Unit)})
			}
			s.Checks = append(s.Checks, c)
		}
	}
	return s
}

// answerAt says for which point an answer stands.
func (b *block) answerAt(a *backward, row, column int) []string {
	var texts []string
	if b.span(b.rows, a) > 1 {
		texts = append(texts, b.rows.points[row].Text)
	}
	if b.span(b.columns, a) > 1 {
		texts = append(texts, b.columns.points[column].Text)
	}
	return texts
}

// shownAt prints a result with as many digits as it takes not to contradict
// the condition.
func shownAt(a *backward, r *method.Result, p *point) string {
	shown := *r
	for range mostMoreDigits {
		if truth, _ := a.Holds.Truth(asPrinted{p, r.Name, shown.Format}); truth == formula.True {
			break
		}
		shown.Format = finer(shown.Format)
	}
	return shown.Text(p.outcome.Results.Of(r.Name))
}

// askedFor returns the most or least line that a figure line names, as in
// `most run`.
func (b *block) askedFor(what string) *backward {
	for _, a := range b.asks {
		if what == a.Word()+" "+a.Input.Name {
			return a
		}
	}
	return nil
}

// solvedFigure makes the figure of an answer.
func (b *block) solvedFigure(l *figureLine) *Figure {
	var found []*method.Answer
	for row := range l.asked.answers {
		for column, answer := range l.asked.answers[row] {
			if l.when != nil {
				if truth, _ := l.when.Truth(l.asked.points[row][column]); truth != formula.True {
					continue
				}
			}
			found = append(found, answer)
		}
	}
	switch {
	case len(found) == 0:
		b.fault(fault.At(l.at, "the table has no such point").Want("a point of the values along which it runs"))
		return nil
	case len(found) > 1:
		b.fault(fault.At(l.at, "%s could be any of %d answers", l.what, len(found)).Want("when and the value of one, such as: when %s", b.onePoint(l.asked)))
		return nil
	}
	value := found[0].Value
	f := &Figure{
		Address: b.name + "." + l.name, State: value.State, Why: value.Why, Sense: l.asked.Input.Sense, Solved: true, Asked: l.asked.text,
		Rests: b.claimed(l.asked.Holds), Reached: &Reached{Value: value, worked: worked{values: found[0].Values}},
	}
	if f.State == formula.Known {
		f.Number, f.Unit = bare(found[0].Point), found[0].Point.Unit
	}
	return f
}

// onePoint shows how to say which answer is meant.
func (b *block) onePoint(a *backward) string {
	var names []string
	for _, side := range []axis{b.rows, b.columns} {
		if b.span(side, a) > 1 {
			names = append(names, side.input.Name)
		}
	}
	return b.pick(names)
}
