package bind

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// Printed is one figure as it stands in the book: a cell of a table, a figure
// that a block names, a standing figure, an answer of a table that decides, or
// another number that a table prints.
type Printed struct {
	Address  string
	Number   string // as it is printed, without its unit
	Unit     unit.Unit
	Text     string          // with its unit, or why there is no number; of another number, the words among which it stands
	Leaf     *Leaf           // on which it is printed
	Table    *guide.Table    // of its block; nil of a standing figure
	Cell     *guide.Cell     // nil but of a cell
	Standing *guide.Standing // nil but of a standing figure
	Row      int             // of an answer of a table that decides, its row from 1; else 0
	Where    []string        // of such an answer, the questions and replies that lead to it; none of an otherwise

	Asked  string           // of an answer, what was asked: "longest run for loss at most 0.5 dB"
	Rests  []string         // names of the results whose working tells how it was reached
	Values method.Values    // that its method was worked with
	What   string           // of another number, what it is: "a limit of W1-T1"; "" of a figure
	Place  fault.Place      // where it was typed
	Steps  []guide.WorkStep // of a step of a worked line, all up to it
}

// Printed returns every figure of the book, guide by guide, and behind those of
// a table the other numbers that it prints. A standing figure stands under
// each guide that uses it, and one that the prose of another guide names under
// that guide too.
func (b *Book) Printed() []Printed {
	var all []Printed
	for _, l := range b.Leaves {
		for _, t := range l.Guide.Tables {
			all = append(all, cellsOf(l, t)...)
			all = append(all, answersOf(l, t)...)
			all = append(all, noted(l, t)...)
		}
		for _, address := range sortedFigures(l.Guide) {
			all = append(all, named(l, l.Guide, l.Guide.Figures[address]))
		}
		for _, q := range l.Guide.Quotes {
			for _, other := range b.Leaves {
				if f := other.Guide.Figures[q.Address]; f != nil {
					all = append(all, named(l, other.Guide, f))
				}
			}
		}
		for _, s := range l.Guide.Standing {
			number := strings.TrimSpace(strings.TrimSuffix(s.Point.Text, s.Point.Unit.Symbol()))
			all = append(all, Printed{Address: s.Source.ID, Number: number, Unit: s.Point.Unit, Text: s.Point.Text, Leaf: l, Standing: s})
		}
	}
	return all
}

// named is a figure that a block of a guide names, as it is printed on a leaf.
func named(l *Leaf, g *guide.Guide, f *guide.Figure) Printed {
	p := Printed{
		Address: f.Address, Number: f.Number, Unit: f.Unit, Text: withUnit(f.Number, f.Unit, f.Why),
		Leaf: l, Table: tableOf(g, f.Address), Rests: f.Rests, Values: f.Values(), Asked: f.Asked,
	}
	if typed, ok := p.Values[f.Of]; ok {
		p.Place = typed.Place
	}
	return p
}

// cellsOf returns the cells of a table, and the answers that stand beside them.
func cellsOf(l *Leaf, t *guide.Table) []Printed {
	var all []Printed
	add := func(h guide.Heading, c *guide.Cell) {
		p := Printed{
			Address: c.Address, Number: c.Number, Unit: h.Unit, Text: withUnit(c.Number, h.Unit, c.Why),
			Leaf: l, Table: t, Cell: c, Rests: []string{h.Name}, Values: c.Values(),
		}
		for _, s := range t.Solved {
			if s.Label == h.Label {
				p.Rests, p.Asked = s.Rests, s.Label
			}
		}
		all = append(all, p)
	}
	for i := range t.Cells {
		for j := range t.Cells[i] {
			add(t.Shown(j), &t.Cells[i][j])
		}
	}
	for i := range t.Beside {
		for j := range t.Beside[i].Cells {
			add(t.Beside[i].Heading, &t.Beside[i].Cells[j])
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
	f := newSentenceFinder(l)
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
// digit, the unit in any spelling or left out. Of the other numbers only what a
// step of a working comes to reads so: see [Printed.Mentions].
func (p Printed) Reads(figure string) bool {
	figure = plainly(figure)
	if figure == "" || p.Number == "" {
		return false
	}
	if figure == plainly(p.Number) || figure == plainly(p.Text) || p.Steps != nil && spelled(figure) == plainly(p.Number) {
		return true
	}
	rest, ok := strings.CutPrefix(figure, plainly(p.Number))
	if !ok || p.Unit.Symbol() == "" {
		return false
	}
	u, ok := unitOf(rest)
	return ok && u.Symbol() == p.Unit.Symbol()
}

// Mentions reports whether what somebody read stands among the words of
// another number, or is one end of a figure from so much to so much, or one
// member of a list.
func (p Printed) Mentions(figure string) bool {
	return plainly(figure) != "" && mentions(p.Text, figure)
}

// plainly writes signs and spaces of print as keys have them.
func plainly(s string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("−", "-", "\u00a0", " ", "²", "2", "³", "3", ",", "").Replace(s)), " ")
}
