package guide

import (
	"slices"
	"strings"
)

// Whole reports whether a guide still holds its text in a tree and the cells of
// its tables, or only what the rest of the book asks of it.
func (g *Guide) Whole() bool { return g.Tree != nil }

// Light returns the guide without what only its own pages print: the tree, the
// cells, the worked lines and the drawings of its tables. A book of thousands of
// guides holds no more of each; where a page is made again the guide is read
// again. Its words are words of their own: cut out of the guide's text, each would
// hold the whole of it.
func (g *Guide) Light() *Guide {
	light := *g
	light.Tree, light.Source, light.Docket, light.Stets = nil, nil, g.Docket.light(), nil
	light.Asked.Methods, light.Asked.Standing = cloned(g.Asked.Methods), cloned(g.Asked.Standing)
	light.Broken = cloned(g.Broken)
	light.Quotes, light.Sweeps = slices.Clone(g.Quotes), slices.Clone(g.Sweeps)
	for i := range light.Quotes {
		light.Quotes[i].Address = strings.Clone(light.Quotes[i].Address)
	}
	for i := range light.Sweeps {
		light.Sweeps[i].Address, light.Sweeps[i].Word = strings.Clone(light.Sweeps[i].Address), strings.Clone(light.Sweeps[i].Word)
	}
	light.Figures = make(map[string]*Figure, len(g.Figures))
	for _, f := range g.Figures {
		own := f.Light()
		light.Figures[own.Address] = own
	}
	light.Tables = make([]*Table, len(g.Tables))
	for i, t := range g.Tables {
		light.Tables[i] = t.light()
	}
	return &light
}

// Light returns the figure as prose prints it, without the values that its
// method was worked with.
func (f *Figure) Light() *Figure {
	light := *f
	light.Reached = nil
	for _, s := range []*string{&light.Address, &light.Number, &light.Why, &light.Asked} { // the others are words of the method
		*s = strings.Clone(*s)
	}
	return &light
}

// light returns a table by its names, and by what it rests on and what holds
// for it.
func (t *Table) light() *Table {
	light := *t
	light.Inside, light.parts = nil, t.Parts()
	light.Name, light.Number = strings.Clone(t.Name), strings.Clone(t.Number)
	light.Limits, light.Claims = slices.Clone(t.Limits), slices.Clone(t.Claims)
	for i, l := range light.Limits {
		light.Limits[i].Text, light.Limits[i].Beyond = strings.Clone(l.Text), strings.Clone(l.Beyond)
	}
	for i, c := range light.Claims {
		light.Claims[i].Text, light.Claims[i].Over = strings.Clone(c.Text), cloned(c.Over)
	}
	return &light
}

// light returns the docket without its short answer.
func (d Docket) light() Docket {
	d.Answer = nil
	d.Code, d.Question, d.Topics = strings.Clone(d.Code), strings.Clone(d.Question), cloned(d.Topics)
	d.Explains = slices.Clone(d.Explains)
	for i := range d.Explains {
		d.Explains[i].Word = strings.Clone(d.Explains[i].Word)
	}
	return d
}

// cloned returns texts that are cut out of no other.
func cloned(all []string) []string {
	if all == nil {
		return nil
	}
	own := make([]string, len(all))
	for i, s := range all {
		own[i] = strings.Clone(s)
	}
	return own
}

// Parts returns how many parts a table has that a reader must know how to read.
func (t *Table) Parts() int {
	if t.Inside == nil {
		return t.parts
	}
	parts := 0
	for _, has := range []bool{
		t.Taken != nil, t.Limits != nil, t.Rows != nil, t.Work != nil, t.Sources != nil,
		t.CoversNot != "", t.Results != nil && t.Results[0].Round != "",
	} {
		if has {
			parts++
		}
	}
	return parts
}

// LightTable returns a table that is light, with so many parts to read as the
// whole one has.
func LightTable(t Table, parts int) *Table {
	t.parts = parts
	return &t
}
