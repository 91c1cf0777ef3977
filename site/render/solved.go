package render

import (
	"html/template"

	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// besideHeads are the heads of the columns in which answers stand beside the
// rows of a table.
func (g *grid) besideHeads() []cell {
	var heads []cell
	for _, s := range g.table.Beside {
		if s.Along == guide.AlongRows {
			heads = append(heads, cell{Head: true, Class: besideClass(s), Text: g.resultHead(s.Heading)}.lengthy(s.Label))
		}
	}
	return heads
}

// besideCells are the answers beside one row.
func (g *grid) besideCells(row int) []cell {
	var cells []cell
	for _, s := range g.table.Beside {
		if s.Along == guide.AlongRows {
			cells = append(cells, g.answer(s, s.Cells[row]))
		}
	}
	return cells
}

// besideRows are the rows in which answers stand below the columns of a table.
// They leave the columns beside the rows empty.
func (g *grid) besideRows() [][]cell {
	var rows [][]cell
	for _, s := range g.table.Beside {
		if s.Along != guide.AlongColumns {
			continue
		}
		row := []cell{g.head(g.resultHead(s.Heading))}
		for _, c := range s.Cells {
			row = append(row, g.answer(s, c))
		}
		for range g.besideHeads() {
			row = append(row, cell{})
		}
		rows = append(rows, row)
	}
	return rows
}

// besideClass is the class of a column of answers.
func besideClass(s guide.Beside) string {
	for _, c := range s.Cells {
		if numeric(c.Number) {
			return "number"
		}
	}
	return ""
}

// answer sets one answer, as a figure of the grid is set. Where answers stand
// under each other, so do their points.
func (g *grid) answer(s guide.Beside, c guide.Cell) cell {
	padding := ""
	if s.Along == guide.AlongRows {
		padding = pad(c.Number, mostPlaces(s.Cells))
	}
	return cell{Class: besideClass(s), Text: g.figure(c, s.Unit, padding)}
}

// mostPlaces returns the most decimal places among figures.
func mostPlaces(cells []guide.Cell) int {
	most := 0
	for _, c := range cells {
		if places, _ := placesOf(c.Number); numeric(c.Number) {
			most = max(most, places)
		}
	}
	return most
}

// figure sets a figure that stands in no column of results: the number, padded
// by a class, and its unit for those who listen, or a word and the note that
// says why.
func (g *grid) figure(c guide.Cell, u unit.Unit, padding string) template.HTML {
	if c.Number == "" {
		return g.withNote(c)
	}
	return g.data(c.Address, padding, g.signs(c.Number), g.unitHeard(u))
}

// single are the answers that hold for a whole table, in a line each.
func (g *grid) single() []template.HTML {
	var lines []template.HTML
	for _, s := range g.table.Beside {
		if s.Along != "" {
			continue
		}
		c, value := s.Cells[0], template.HTML("")
		if c.Number != "" {
			value = "<b>" + g.data(c.Address, "", g.quantity(c.Number, s.Unit), "") + "</b>"
		} else {
			value = g.withNote(c)
		}
		lines = append(lines, g.fill("solved", "answer", capitalHTML(g.sensed(s.Heading)), "value", value))
	}
	return lines
}

// solved tells how answers were checked, and of those that are one of several
// or the end of what the method covers.
func (s *setter) solved(t *guide.Table) []template.HTML {
	var lines []template.HTML
	for _, a := range t.Solved {
		var checks, notes []template.HTML
		for _, c := range a.Checks {
			checks = append(checks, s.check(c))
			notes = append(notes, s.checkNotes(a, c)...)
		}
		if checks != nil {
			lines = append(lines, s.fill("solved-checks", "answer", a.Label, "checks", s.joined(checks)))
		}
		lines = append(lines, notes...)
	}
	return lines
}

func (s *setter) check(c guide.Checked) template.HTML {
	var results []template.HTML
	for _, r := range c.Results {
		results = append(results, s.computed(r))
	}
	return s.fill(placed(c, "solved-check", "solved-check-where"), "where", s.computed(c.Where), "value", s.computed(c.Value), "results", s.joined(results))
}

// checkNotes says where an answer is the end of what the method covers, and
// where the condition is met in several stretches.
func (s *setter) checkNotes(a guide.Solved, c guide.Checked) []template.HTML {
	var notes []template.HTML
	if c.Whole {
		plain, where := "solved-all", "solved-all-where"
		if a.Listed {
			plain, where = "solved-listed", "solved-listed-where"
		}
		notes = append(notes, s.fill(placed(c, plain, where), "where", s.computed(c.Where), "name", a.Value,
			"value", s.computed(c.Value), "word", a.Word, "answer", a.Label))
	}
	var parts []template.HTML
	for _, p := range c.Parts {
		parts = append(parts, s.fill("solved-part", "from", s.computed(p[0]), "to", s.computed(p[1])))
	}
	if parts != nil {
		notes = append(notes, s.fill(placed(c, "solved-parts", "solved-parts-where"), "where", s.computed(c.Where),
			"parts", s.joined(parts), "word", a.Word, "answer", a.Label))
	}
	return notes
}

// placed picks the phrase that says for which point an answer stands, where
// there are several.
func placed(c guide.Checked, plain, where string) string {
	if c.Where == "" {
		return plain
	}
	return where
}
