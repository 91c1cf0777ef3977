package guide

import (
	"slices"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// fill makes the table of a computed block.
func (b *block) fill(f *ast.FencedCodeBlock) {
	r := b.reader
	b.table = &Table{
		Name: b.name, Named: b.named, Block: b.place(f), Method: b.sheet.Name, Asks: b.sheet.Asks,
		Rows: side(b.rows), Columns: side(b.columns), CoversNot: b.sheet.CoversNot,
	}
	for _, res := range b.results {
		b.table.Results = append(b.table.Results, Heading{Name: res.Name, Label: res.Label(), Says: res.Caption(), Unit: res.Unit, Sense: res.Sense})
	}
	for _, l := range b.limits {
		b.table.Limits = append(b.table.Limits, Limit{Text: l.text, Beyond: l.beyond})
	}
	b.fillTaken()
	b.fillCells()
	b.fillOutcomes()
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
	if code := r.guide.Docket.Code; code != "" {
		b.table.Number = code + "-T" + number(len(r.guide.Tables)+1)
	}
}

// place returns the block as its author wrote it, fences left out.
func (b *block) place(f *ast.FencedCodeBlock) fault.Place {
	p := b.reader.info(f)
	if n := f.Lines().Len(); n > 0 {
		p.End = f.Lines().At(n - 1).Stop
	}
	return p
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
	for _, p := range a.points {
		if one {
			s.Points = append(s.Points, bare(p))
		} else {
			s.Points = append(s.Points, p.Text)
		}
	}
	if !one || a.input.Choice != nil {
		s.Unit = unit.Unit{}
	}
	return s
}

func heading(in *method.Input) Heading {
	return Heading{Name: in.Name, Label: in.Label(), Says: in.Fact(), Unit: in.Unit, Sense: in.Sense}
}

// fillTaken lists what holds for the whole table: first what the author
// typed, then what stands without being typed.
func (b *block) fillTaken() {
	var typed, usual []Taken
	for _, t := range b.points[0][0].outcome.Taken {
		if t.Input == b.rows.input || t.Input == b.columns.input {
			continue
		}
		taken := Taken{Heading: heading(t.Input), Text: t.Point.Text, Usual: t.Usual, Guess: t.Assumed}
		if t.Usual {
			usual = append(usual, taken)
		} else {
			typed = append(typed, taken)
		}
	}
	for _, in := range b.sheet.Takes {
		if p, ok := b.fixed[in.Name]; ok && !p.Known() && in.Usually == nil && in != b.rows.input && in != b.columns.input {
			typed = append(typed, Taken{Heading: heading(in), Text: p.Text})
		}
	}
	b.table.Taken = append(typed, usual...)
}

func (b *block) fillCells() {
	for i, row := range b.points {
		var cells []Cell
		for j, p := range row {
			for _, res := range b.results {
				cells = append(cells, b.cell(res, p, i, j))
			}
		}
		b.table.Cells = append(b.table.Cells, cells)
	}
}

func (b *block) cell(r *method.Result, p *point, row, column int) Cell {
	v := p.outcome.Results[r.Name]
	c := Cell{Address: b.address(r, row, column), Value: v}
	if v.State != formula.Known {
		c.Why = v.Why
		return c
	}
	c.Number = r.Number(v)
	b.mark(&c, r, p)
	return c
}

// address is where a cell is found: block, result and point.
func (b *block) address(r *method.Result, row, column int) string {
	parts := []string{b.name, r.Name}
	if b.rows.input != nil {
		parts = append(parts, slug(b.rows.points[row].Text))
	}
	if b.columns.input != nil {
		parts = append(parts, slug(b.columns.points[column].Text))
	}
	return strings.Join(parts, ".")
}

// slug turns a printed value into a part of an address: 16-awg, 2_5-mm2.
func slug(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch {
		case r == '.':
			b.WriteByte('_')
		case r == '²':
			b.WriteByte('2')
		case r == '³':
			b.WriteByte('3')
		case r == '−':
			b.WriteString("minus")
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), "-")
}

// fillOutcomes gathers what the points brought: references, cautions and the
// worst verdict under each name.
func (b *block) fillOutcomes() {
	for _, row := range b.points {
		for _, p := range row {
			for _, r := range p.outcome.References {
				b.source(r)
			}
			for _, c := range p.outcome.Cautions {
				if !slices.Contains(b.table.Cautions, c.ID) {
					b.table.Cautions = append(b.table.Cautions, c.ID)
				}
				b.reader.warn(c)
			}
			for _, v := range p.outcome.Verdicts {
				b.judge(v)
			}
		}
	}
}

// judge keeps the worst verdict under each name.
func (b *block) judge(v method.Verdict) {
	for i := range b.table.Verdicts {
		kept := &b.table.Verdicts[i]
		if kept.Name == v.Name {
			if method.Worse(v.Grade, kept.Grade) {
				kept.Grade, kept.Words = v.Grade, v.Words
			}
			return
		}
	}
	b.table.Verdicts = append(b.table.Verdicts, Verdict{Name: v.Name, Grade: v.Grade, Words: v.Words})
}
