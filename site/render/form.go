package render

import "strings"

// long is from how many rows on a table is higher than most screens: it then
// moves up and down in its own place, under heads that stay.
const long = 24

// lengthy marks the head of a column whose words need more room than figures do.
func (c cell) lengthy(label string) cell {
	const most = 24 // letters
	if len(label) > most {
		c.Class = strings.TrimSpace(c.Class + " lengthy")
	}
	return c
}

// form returns the classes of the region of a table, by which the style sheet
// knows its shape.
func (g *grid) form(rows int) string {
	form := ""
	if g.table.Rows == nil && g.table.Columns == nil {
		form += " narrow"
	}
	if rows >= long {
		form += " long"
	}
	return form
}
