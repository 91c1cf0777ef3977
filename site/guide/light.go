package guide

// Whole reports whether a guide still holds its text in a tree and the cells of
// its tables, or only what the rest of the book asks of it.
func (g *Guide) Whole() bool { return g.Tree != nil }

// Light returns the guide without what only its own pages print: the tree, the
// cells, the worked lines and the drawings of its tables. A book of thousands of
// guides holds no more of each; where a page is made again the guide is read
// again.
func (g *Guide) Light() *Guide {
	light := *g
	light.Tree, light.Source, light.Docket.Answer, light.Stets = nil, nil, nil, nil
	light.Figures = make(map[string]*Figure, len(g.Figures))
	for address, f := range g.Figures {
		light.Figures[address] = f.Light()
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
	light.worked, light.limits = worked{}, nil
	return &light
}

// light returns a table by its names, and by what it rests on and what holds
// for it.
func (t *Table) light() *Table {
	return &Table{
		Name: t.Name, Named: t.Named, Number: t.Number, Block: t.Block, Method: t.Method, Rule: t.Rule,
		Sources: t.Sources, Cautions: t.Cautions, Limits: t.Limits, Claims: t.Claims, parts: t.Parts(),
	}
}

// Parts returns how many parts a table has that a reader must know how to read.
func (t *Table) Parts() int {
	if t.parts > 0 {
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
