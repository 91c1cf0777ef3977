package render

import (
	"html/template"
	"strconv"
	"strings"
	"unicode/utf8"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// grid sets the cells of one table. Three shapes occur: a value along both
// sides; rows of results; and, where nothing runs along the rows, one result
// under another.
type grid struct {
	*setter
	table    *guide.Table
	decimals []int // of each column, the most that one of its numbers has
	notes    []template.HTML
	noted    []string // the reasons that have a note, in the order of the notes
}

// heads returns the heads of the columns. Each says what its column holds and
// in which unit, so that none needs another to be understood.
func (g *grid) heads() []cell {
	t := g.table
	if t.Rows == nil && t.Columns == nil {
		if g.alike() > 0 {
			return g.memberHeads()
		}
		return []cell{g.head(asHTML(g.Say("table-result"))), g.columnHead(0, asHTML(g.Say("table-figure")))}
	}
	corner := asHTML(g.Say("table-result"))
	if t.Rows != nil {
		corner = asHTML(capital(t.Rows.Label))
	}
	heads := append(make([]cell, 0, 1+len(g.decimals)+len(t.Beside)), g.head(corner))
	if t.Columns != nil {
		label := asHTML(capital(t.Columns.Label))
		for j, p := range t.Columns.Points {
			heads = append(heads, g.columnHead(j, g.fill("table-point", "label", label, "point", g.point(t.Columns, p))))
		}
		return append(heads, g.besideHeads()...)
	}
	for j, r := range t.Results {
		heads = append(heads, g.columnHead(j, g.resultHead(r)).lengthy(r.Label))
	}
	return append(heads, g.besideHeads()...)
}

func (g *grid) head(text template.HTML) cell {
	return cell{Head: true, Text: text}
}

func (g *grid) columnHead(column int, text template.HTML) cell {
	return cell{Head: true, Class: g.class(column), Text: text}
}

// class returns the class of a column: figures stand at the right, words at
// the left.
func (g *grid) class(column int) string {
	for _, row := range g.table.Cells {
		if numeric(row[column].Number) {
			return "number"
		}
	}
	return ""
}

// point returns a printed point of an axis with its unit.
func (g *grid) point(a *guide.Axis, p string) template.HTML {
	return template.HTML(`<span class="point">`) + g.quantity(p, a.Unit) + `</span>`
}

// resultHead returns a result's label, sense and unit.
func (g *grid) resultHead(r guide.Heading) template.HTML {
	label := capitalHTML(g.sensed(r))
	if r.Unit.Symbol() == "" {
		return label
	}
	return g.fill("table-head", "label", label, "unit", g.unitHTML(r.Unit.Symbol(), r.Unit))
}

// rows returns the rows, each with its head.
func (g *grid) rows() [][]cell {
	t := g.table
	rows := make([][]cell, 0, max(len(t.Cells), len(t.Results)))
	if t.Rows == nil && t.Columns == nil {
		if g.alike() > 0 {
			return g.memberRows()
		}
		for j, r := range t.Results {
			rows = append(rows, []cell{g.head(g.resultHead(r)), g.cell(t.Cells[0][j], g.unitHeard(r.Unit), 0)})
		}
		return rows
	}
	units := make([]template.HTML, len(g.decimals))
	for j := range units {
		units[j] = g.unitHeard(g.unit(j))
	}
	for i, line := range t.Cells {
		row := append(make([]cell, 0, 1+len(line)+len(t.Beside)), g.rowHead(i))
		for j, c := range line {
			row = append(row, g.cell(c, units[j], j))
		}
		rows = append(rows, append(row, g.besideCells(i)...))
	}
	return append(rows, g.besideRows()...)
}

func (g *grid) rowHead(i int) cell {
	if g.table.Rows == nil {
		return g.head(g.resultHead(g.table.Results[0]))
	}
	return g.head(g.point(g.table.Rows, g.table.Rows.Points[i]))
}

// unit returns the unit of a column's figures.
func (g *grid) unit(column int) unit.Unit {
	if g.table.Columns != nil {
		column = 0
	}
	return g.table.Results[column].Unit
}

// unitHeard returns a unit for those who listen to the cells of a column, which
// do not hold it; nothing where there is none.
func (g *grid) unitHeard(u unit.Unit) template.HTML {
	if u.Symbol() == "" {
		return ""
	}
	return spokenOnly(" " + g.Spoken(u))
}

// cell sets one figure: the number, its unit as it is heard, and the word of
// the limit that it passes. A cell that holds no number says so and
// points to the note that says why.
func (g *grid) cell(c guide.Cell, heard template.HTML, column int) cell {
	if c.Number == "" {
		return cell{Class: g.class(column), Text: g.withNote(c)}
	}
	text := g.data(c.Address, g.padding(c.Number, column), g.number(c), heard)
	if c.Passed {
		text += ` <span class="beyond">` + asHTML(g.beyond(c.Beyond)) + `</span>`
	}
	if len(c.Untold) > 0 {
		why := guide.Cell{Why: strings.Join(c.Untold, "; "), Value: formula.Value{State: formula.Unknown}}
		text += ` <span class="beyond">` + g.fill("cell-note", "word", g.Say("limit-untold"), "number", strconv.Itoa(g.note(why))) + `</span>`
	}
	return cell{Class: g.class(column), Text: text}
}

// withNote sets a word in the place of a number, and points to the note that
// says why.
func (g *grid) withNote(c guide.Cell) template.HTML {
	return g.data(c.Address, "", g.fill("cell-note", "word", g.stateWord(c.Value.State), "number", strconv.Itoa(g.note(c))), "")
}

// data returns a figure with its address as the value, by which it is traced, and
// what is heard behind it.
func (g *grid) data(address, class string, text, heard template.HTML) template.HTML {
	if class != "" {
		return `<data value="` + asHTML(address) + `" class="` + template.HTML(class) + `">` + text + "</data>" + heard
	}
	return `<data value="` + asHTML(address) + `">` + text + "</data>" + heard
}

// note returns the number of the note that gives a cell's reason.
func (g *grid) note(c guide.Cell) int {
	for i, why := range g.noted {
		if why == c.Why {
			return i + 1
		}
	}
	g.noted = append(g.noted, c.Why)
	n := len(g.noted)
	g.notes = append(g.notes, g.fill("note", "number", strconv.Itoa(n),
		"word", capital(g.stateWord(c.Value.State)), "why", strings.TrimSuffix(c.Why, ".")))
	return n
}

// padding returns the class that puts a number's decimal point under those of
// its column: the digits that it lacks behind the point, or the point and all
// of them.
func (g *grid) padding(number string, column int) string {
	return pad(number, g.decimals[column])
}

// pad is the padding of a number in a column whose numbers have so many
// decimal places at most.
func pad(number string, least int) string {
	const most = len(lacksPlaces) - 1
	switch places, pointed := placesOf(number); {
	case !numeric(number) || strings.Contains(number, " to ") || least == 0 || least > most:
		return ""
	case !pointed:
		return lacksPoint[least]
	case places < least:
		return lacksPlaces[least-places]
	}
	return ""
}

// The classes of numbers that lack so many places, and the point before them, as
// far as the style sheet has them.
var (
	lacksPlaces = [...]string{"", "lacks-1", "lacks-2", "lacks-3", "lacks-4", "lacks-5", "lacks-6"}
	lacksPoint  = [...]string{"", "lacks-point-1", "lacks-point-2", "lacks-point-3", "lacks-point-4", "lacks-point-5", "lacks-point-6"}
)

// decimalsOf returns the most decimal places in each column of figures. Where
// results stand under each other they are of different kinds, and their
// points need not line up.
func decimalsOf(t *guide.Table) []int {
	var most []int
	for _, row := range t.Cells {
		for j, c := range row {
			if j == len(most) {
				most = append(most, 0)
			}
			if places, _ := placesOf(c.Number); numeric(c.Number) {
				most[j] = max(most[j], places)
			}
		}
	}
	if t.Rows == nil && t.Columns == nil {
		clear(most)
	}
	return most
}

func placesOf(number string) (places int, pointed bool) {
	_, fraction, pointed := strings.Cut(number, ".")
	return len(fraction), pointed
}

// numeric reports whether a cell holds a number rather than a word.
func numeric(text string) bool {
	r, size := utf8.DecodeRuneInString(text)
	if r == '−' || r == '-' {
		r, _ = utf8.DecodeRuneInString(text[size:])
	}
	return r >= '0' && r <= '9'
}
