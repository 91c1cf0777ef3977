package render

import (
	"html/template"
	"strconv"

	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// A figure may be a list, as the notes of a room are. Its members stand under
// one another; and where every figure of a table is a list and all are equally
// long, each member has a row, so that those that belong together are read
// across.

// number sets what a figure's cell holds: a number, or the members of a list
// under one another, their points in a line.
func (g *grid) number(c guide.Cell) template.HTML {
	if c.Members == nil {
		return g.signs(c.Number)
	}
	least := placesAmong(c.Members)
	var text template.HTML
	for i, m := range c.Members {
		class := "member"
		if lacks := pad(m, least); lacks != "" {
			class += " " + lacks
		}
		text += template.HTML(`<span class="`+class+`">`) + g.signs(m)
		if i < len(c.Members)-1 {
			text += spokenOnly(", ")
		}
		text += "</span>"
	}
	return text
}

// alike returns how long the lists of a table are that holds nothing else, all
// of them as long; otherwise 0.
func (g *grid) alike() int {
	t := g.table
	if t.Rows != nil || t.Columns != nil || len(t.Cells) == 0 || len(t.Cells[0]) == 0 {
		return 0
	}
	long := len(t.Cells[0][0].Members)
	for _, c := range t.Cells[0] {
		if len(c.Members) != long {
			return 0
		}
	}
	return long
}

// memberHeads are the heads of a table whose rows are the members of lists.
func (g *grid) memberHeads() []cell {
	heads := []cell{g.head(asHTML(g.Say("table-row")))}
	for j, r := range g.table.Results {
		heads = append(heads, cell{Head: true, Class: memberClass(g.table.Cells[0][j]), Text: g.resultHead(r)})
	}
	return heads
}

func (g *grid) memberRows() [][]cell {
	rows := make([][]cell, g.alike())
	for i := range rows {
		rows[i] = []cell{g.head(asHTML(strconv.Itoa(i + 1)))}
		for j, c := range g.table.Cells[0] {
			rows[i] = append(rows[i], g.member(c, i, g.table.Results[j].Unit))
		}
	}
	return rows
}

// member sets one member of a list in a cell of its own.
func (g *grid) member(c guide.Cell, i int, u unit.Unit) cell {
	text := g.data(c.Address, pad(c.Members[i], placesAmong(c.Members)), g.signs(c.Members[i]), "")
	return cell{Class: memberClass(c), Text: text + g.unitHeard(u)}
}

func memberClass(c guide.Cell) string {
	if numeric(c.Members[0]) {
		return "number"
	}
	return ""
}

// placesAmong returns the most decimal places among numbers.
func placesAmong(numbers []string) int {
	most := 0
	for _, n := range numbers {
		if places, _ := placesOf(n); numeric(n) {
			most = max(most, places)
		}
	}
	return most
}
