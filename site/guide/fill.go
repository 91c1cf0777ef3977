package guide

import (
	"slices"
	"strings"
	"unicode"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// fill makes the table of a computed block.
func (b *block) fill(f fence) {
	r := b.reader
	b.table = &Table{
		Name: b.name, Named: b.named, Block: f.text(), Method: b.sheet.Name, Rule: b.sheet.Hash, Claims: b.proved,
		Inside: &Inside{
			Asks: b.sheet.Asks, Rows: side(b.rows), Columns: side(b.columns), CoversNot: b.sheet.CoversNot,
			Caption: b.caption.String(), FromTo: b.limited, Scripted: r.kit.Library.Scripted(b.sheet.Name),
		},
	}
	for _, res := range b.results {
		b.table.Results = append(b.table.Results, resultHeading(res))
	}
	for _, l := range b.limits {
		b.table.Limits = append(b.table.Limits, Limit{Text: l.text, Beyond: l.beyond, Place: l.place})
	}
	if len(b.results) == 0 && !b.backwards {
		b.table.Results = b.verdictHeads(b.points[0][0])
	}
	b.fillTaken()
	b.fillCells()
	b.fillMatters()
	b.fillAnswers()
	b.fillOutcomes(f)
	b.fillStanding()
	b.fillValues()
	for _, l := range b.figures {
		if fig := b.figure(l); fig != nil {
			r.guide.Figures[fig.Address] = fig
		}
	}
	for _, l := range b.works {
		if w, ok := b.work(l); ok {
			b.table.Work = append(b.table.Work, w)
		}
	}
	b.fillCharts()
	b.fillOwn()
}

func heading(in *method.Input) Heading {
	return Heading{Name: in.Name, Label: in.Label(), Says: in.Fact(), Unit: in.Unit, Sense: in.Meaning()}
}

func resultHeading(r *method.Result) Heading {
	return Heading{Name: r.Name, Label: r.Label(), Says: r.Caption(), Unit: r.Unit, Sense: r.Meaning(), Round: r.Format.Round.Way()}
}

// fillTaken lists what holds for the whole table: first what the author
// typed, in that order, then what stands without being typed. A value that is
// asked for at some points only is listed where it stood.
func (b *block) fillTaken() {
	for _, l := range b.valueLines {
		if in := b.sheet.Input(l.word.String()); in != b.rows.input && in != b.columns.input {
			b.table.Taken = append(b.table.Taken, b.taken(in))
		}
	}
	for _, in := range b.sheet.Takes {
		if _, typed := b.fixed[in.Name]; !typed && in.Usually != nil && b.askedSomewhere(in) {
			b.table.Taken = append(b.table.Taken, Taken{Heading: heading(in), Text: in.Usually.Text, Usual: true})
		}
	}
}

// taken is a typed value as it stood, or the usual value in its place.
func (b *block) taken(in *method.Input) Taken {
	p := b.fixed[in.Name]
	if !p.Known() && in.Usually != nil {
		return Taken{Heading: heading(in), Text: in.Usually.Text, Guess: true}
	}
	return Taken{Heading: heading(in), Text: p.Text}
}

func (b *block) fillCells() {
	for i, row := range b.points {
		cells := make([]Cell, 0, len(row)*max(1, len(b.results)))
		for j, p := range row {
			for _, res := range b.results {
				cells = append(cells, b.cell(res, p, i, j))
			}
			if len(b.results) == 0 {
				cells = append(cells, b.verdictCells(p, i, j)...)
			}
		}
		b.table.Cells = append(b.table.Cells, cells)
	}
}

func (b *block) cell(r *method.Result, p *point, row, column int) Cell {
	v := p.outcome.Results.Of(r.Name)
	c := Cell{Address: b.address(r.Name, row, column), Value: v, worked: p.worked}
	if v.State != formula.Known {
		c.Why = v.Why
		if elsewhere := b.fromTo(r, p); elsewhere != "" {
			c.Why += "; so it is in the middle of the limits, and elsewhere within them it is " + strings.TrimSpace(elsewhere+" "+r.Unit.Symbol())
		}
		return c
	}
	if c.Number = b.fromTo(r, p); c.Number != "" {
		b.markLimited(&c, r, p)
		return c
	}
	c.Number, c.Members = r.Number(v), r.Members(v)
	b.mark(&c, r, p)
	return c
}

// verdictHeads and verdictCells stand in a table of a method that gives no
// figure: each verdict then has a column, so that it is told at every point.
func (b *block) verdictHeads(p *point) []Heading {
	var heads []Heading
	for _, v := range p.outcome.Verdicts {
		heads = append(heads, Heading{Name: v.Name, Label: b.sheet.VerdictLabel(v.Name), Says: b.sheet.VerdictLabel(v.Name)})
	}
	return heads
}

func (b *block) verdictCells(p *point, row, column int) []Cell {
	var cells []Cell
	for _, v := range p.outcome.Verdicts {
		c := Cell{Address: b.address(v.Name, row, column), Value: formula.WordOf(v.Grade), Number: v.Grade + ": " + v.Words, worked: p.worked}
		if v.Grade == method.CannotTell {
			c.Value, c.Number, c.Why = formula.CannotTell(v.Words), "", v.Words
		}
		cells = append(cells, c)
	}
	return cells
}

// words turns a name into words.
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }

// address is where a cell is found: block, result and point. The addresses of a
// table are written one behind the other, so that not each is made by itself.
func (b *block) address(result string, row, column int) string {
	const room = 1 << 10
	down, across := b.rows.slug(row), b.columns.slug(column)
	size := len(b.name) + len(".") + len(result) + len(down) + len(across)
	if b.addresses.Cap()-b.addresses.Len() < size {
		b.addresses = strings.Builder{}
		b.addresses.Grow(max(room, size))
	}
	from := b.addresses.Len()
	for _, part := range [...]string{b.name, ".", result, down, across} {
		b.addresses.WriteString(part)
	}
	return b.addresses.String()[from:]
}

// slug is a point of a side as a part of an address, with the dot before it; ""
// where nothing runs along the side.
func (a *axis) slug(i int) string {
	if a.input == nil {
		return ""
	}
	if a.slugs == nil {
		a.slugs = make([]string, len(a.points))
		for n, p := range a.points {
			a.slugs[n] = "." + slug(typedAs(p))
		}
	}
	return a.slugs[i]
}

// typedAs returns what an author types for a point: an address says a choice by
// its own word, so that it stays when other words are printed for it.
func typedAs(p method.Point) string {
	if p.Value.Word != "" {
		return p.Value.Word
	}
	return p.Text
}

// slug turns a printed value into a part of an address: 16-awg, 2_5-mm2.
func slug(s string) string {
	var b strings.Builder
	parted := false
	for _, r := range strings.ToLower(s) {
		kept := unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune(".²³−", r)
		if kept && parted && b.Len() > 0 {
			b.WriteByte('-')
		}
		switch parted = !kept; {
		case r == '.':
			b.WriteByte('_')
		case r == '²':
			b.WriteByte('2')
		case r == '³':
			b.WriteByte('3')
		case r == '−':
			b.WriteString("minus")
		case kept:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// fillOutcomes gathers what the points brought: references, cautions and the
// worst verdict under each name.
func (b *block) fillOutcomes(f fence) {
	var cautions []*method.Caution
	for _, o := range b.outcomes() {
		for _, r := range o.References {
			b.source(r)
		}
		for _, c := range o.Cautions {
			if !slices.Contains(cautions, c) {
				cautions = append(cautions, c)
			}
		}
		for _, v := range o.Verdicts {
			b.judge(v)
		}
	}
	gravestFirst(cautions)
	for _, c := range cautions {
		b.table.Cautions = append(b.table.Cautions, c.ID)
		b.reader.warn(c, f.node.Pos())
	}
}

// outcomes are the runs at all points of the table, and forwards at all answers.
func (b *block) outcomes() []*method.Outcome {
	var all []*method.Outcome
	gather := func(points [][]*point) {
		for _, row := range points {
			for _, p := range row {
				all = append(all, p.outcome)
			}
		}
	}
	gather(b.points)
	for _, a := range b.asks {
		gather(a.points)
	}
	return all
}

// fillStanding puts the references of the standing figures among the block's
// values behind those of the method.
func (b *block) fillStanding() {
	for _, st := range b.stood {
		if !slices.ContainsFunc(b.table.Sources, func(s *Source) bool { return s.ID == st.Source.ID }) {
			b.table.Sources = append(b.table.Sources, &st.Source)
		}
	}
}

// fillValues keeps the values that the table prints beside its cells.
func (b *block) fillValues() {
	b.table.cases = b.cases
	conditions := []*formula.Formula{}
	for _, l := range b.limits {
		conditions = append(conditions, l.holds)
	}
	for _, c := range b.claims {
		conditions = append(conditions, c.holds)
	}
	for _, f := range conditions {
		for _, number := range formula.Numbers(f.Node()) {
			b.table.values = append(b.table.values, formula.Quantity(number.Value))
		}
	}
}

// gravestFirst sorts cautions by what they warn of; those alike stay in the
// order in which they came up.
func gravestFirst(cautions []*method.Caution) {
	slices.SortStableFunc(cautions, func(a, b *method.Caution) int {
		return slices.Index(method.Signals, a.Signal) - slices.Index(method.Signals, b.Signal)
	})
}

// judge keeps the worst verdict under each name.
func (b *block) judge(v method.Verdict) {
	name := b.sheet.VerdictLabel(v.Name)
	i := slices.IndexFunc(b.table.Verdicts, func(kept Verdict) bool { return kept.Name == name })
	switch {
	case i < 0:
		b.table.Verdicts = append(b.table.Verdicts, Verdict{Name: name, Grade: v.Grade, Words: v.Words})
	case method.Worse(v.Grade, b.table.Verdicts[i].Grade):
		b.table.Verdicts[i].Grade, b.table.Verdicts[i].Words = v.Grade, v.Words
	}
}
