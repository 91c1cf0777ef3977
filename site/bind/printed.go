package bind

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// Printed is one figure as it stands in the book: a cell of a table, a figure
// that a block names, a standing figure, or an answer of a table that decides.
type Printed struct {
	Address  string
	Number   string // as it is printed, without its unit
	Unit     unit.Unit
	Text     string // with its unit, or why there is no number
	Leaf     *Leaf
	Table    *guide.Table    // of its block; nil of a standing figure
	Result   string          // of a cell, the result that it is
	Cell     *guide.Cell     // nil but of a cell
	Standing *guide.Standing // nil but of a standing figure
	Row      int             // of an answer, its row in its table from 1; else 0
	Where    []string        // of an answer, the questions and replies that lead to it; none of an otherwise
}

// Printed returns every figure of the book, guide by guide. A standing figure
// stands under each guide that uses it.
func (b *Book) Printed() []Printed {
	var all []Printed
	for _, l := range b.Leaves {
		for _, t := range l.Guide.Tables {
			all = append(all, cellsOf(l, t)...)
			all = append(all, answersOf(l, t)...)
		}
		for _, address := range sortedFigures(l.Guide) {
			f := l.Guide.Figures[address]
			all = append(all, Printed{
				Address: address, Number: f.Number, Unit: f.Unit, Text: withUnit(f.Number, f.Unit, f.Why), Leaf: l, Table: tableOf(l.Guide, address),
			})
		}
		for _, s := range l.Guide.Standing {
			number := strings.TrimSpace(strings.TrimSuffix(s.Point.Text, s.Point.Unit.Symbol()))
			all = append(all, Printed{Address: s.Source.ID, Number: number, Unit: s.Point.Unit, Text: s.Point.Text, Leaf: l, Standing: s})
		}
	}
	return all
}

func cellsOf(l *Leaf, t *guide.Table) []Printed {
	var all []Printed
	for i := range t.Cells {
		for j := range t.Cells[i] {
			c := &t.Cells[i][j]
			u := t.Shown(j).Unit
			all = append(all, Printed{
				Address: c.Address, Number: c.Number, Unit: u, Text: withUnit(c.Number, u, c.Why), Leaf: l, Table: t, Result: t.Shown(j).Name, Cell: c,
			})
		}
	}
	return all
}

// answersOf returns the answers of a table that decides, as they are printed.
func answersOf(l *Leaf, t *guide.Table) []Printed {
	if t.Decision == nil {
		return nil
	}
	var all []Printed
	f := sentenceFinder{leaf: l}
	for i, r := range t.Decision.Rules {
		words := f.words(r.Answer)
		if r.Verdict != "" {
			words = r.Verdict + ": " + words
		}
		p := Printed{Address: r.Address, Number: words, Text: words, Leaf: l, Table: t, Row: i + 1}
		for n, set := range r.Replies {
			if set != nil {
				p.Where = append(p.Where, f.words(t.Decision.Asks[n])+" "+strings.Join(set, " or "))
			}
		}
		all = append(all, p)
	}
	return all
}

func sortedFigures(g *guide.Guide) []string {
	addresses := make([]string, 0, len(g.Figures))
	for address := range g.Figures {
		addresses = append(addresses, address)
	}
	slices.Sort(addresses)
	return addresses
}

// Under reports whether the figure stands under a code as it is read off
// paper: of its page, of its table, or of a section, a caution or a reference
// of its page.
func (p Printed) Under(code string) bool {
	page := p.Leaf.Guide.Docket.Code
	switch {
	case strings.EqualFold(code, page):
		return true
	case p.Table != nil && strings.EqualFold(code, p.Table.Number):
		return true
	}
	rest, ok := strings.CutPrefix(strings.ToUpper(code), strings.ToUpper(page)+"-")
	return ok && !strings.HasPrefix(rest, "T") || ok && p.Table != nil && strings.HasPrefix(strings.ToUpper(code), strings.ToUpper(p.Table.Number)+"-")
}

// Reads reports whether the figure is what somebody read: the number digit by
// digit, the unit in any spelling or left out.
func (p Printed) Reads(figure string) bool {
	figure = plainly(figure)
	if figure == "" || p.Number == "" {
		return false
	}
	if figure == plainly(p.Number) || figure == plainly(p.Text) {
		return true
	}
	number, ok := strings.CutPrefix(figure, plainly(p.Number))
	if !ok || p.Unit.Symbol() == "" {
		return false
	}
	u, f := unit.Read(fault.NewText("", "1 "+strings.TrimSpace(number)).All())
	return f == nil && u.Unit.Symbol() == p.Unit.Symbol()
}

// plainly writes signs and spaces of print as keys have them.
func plainly(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("−", "-", "\u00a0", " ", "²", "2", "³", "3", ",", "").Replace(s)), " ")
}
