package bind

import (
	"fmt"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// A table prints more numbers than its figures: what was taken, the points
// along its sides, its limits and claims, and the steps of its workings. Each is
// noted with the words among which it stands, so that it too can be traced
// from paper.

// noted returns the numbers that a table prints beside its figures.
func noted(l *Leaf, t *guide.Table) []Printed {
	n := noter{leaf: l, table: t}
	for _, taken := range t.Taken {
		n.value(taken.Heading, taken.Text, n.withValue(taken.Name), "taken for the whole of "+t.Number)
	}
	n.along(t.Rows, "rows", func(i int) method.Values { return valuesOf(t, i, 0) })
	n.along(t.Columns, "columns", func(i int) method.Values { return valuesOf(t, 0, i) })
	for i, limit := range t.Limits {
		n.add(Printed{Address: n.numbered("limit", i), Text: limit.Text, What: "a limit of " + t.Number, Place: limit.Place})
	}
	for i, claim := range t.Claims {
		text := claim.Text
		if len(claim.Over) > 0 {
			text += ", for " + strings.Join(claim.Over, "; ")
		}
		n.add(Printed{Address: n.numbered("claim", i), Text: text, What: "a claim of " + t.Number + ", proved", Place: claim.Place})
	}
	n.workings()
	n.checks()
	n.joints()
	return n.all
}

// noter gathers the numbers of one table.
type noter struct {
	leaf  *Leaf
	table *guide.Table
	all   []Printed
}

func (n *noter) add(p Printed) {
	p.Leaf, p.Table = n.leaf, n.table
	n.all = append(n.all, p)
}

// numbered is the address of one of several lines of a kind.
func (n *noter) numbered(kind string, i int) string {
	if i == 0 {
		return n.table.Name + "." + kind
	}
	return fmt.Sprintf("%s.%s-%d", n.table.Name, kind, i+1)
}

// value notes a value with the place where its author typed it.
func (n *noter) value(h guide.Heading, text string, v method.Values, what string) {
	p := Printed{Address: n.table.Name + ".value." + h.Name, Text: h.Label + " " + text, What: what}
	if typed, ok := v[h.Name]; ok {
		p.Place = typed.Place
	}
	n.add(p)
}

// along notes the points along a side.
func (n *noter) along(a *guide.Axis, side string, at func(i int) method.Values) {
	if a == nil {
		return
	}
	for i, point := range a.Points {
		n.value(a.Heading, withUnit(point, a.Unit, ""), at(i), "a value along the "+side+" of "+n.table.Number)
	}
}

// valuesOf are the values with which a cell was worked.
func valuesOf(t *guide.Table, row, column int) method.Values {
	if row >= len(t.Cells) || column >= len(t.Cells[row]) {
		return nil
	}
	return t.Cells[row][column].Values()
}

// withValue are the values of the first cell that one was typed for.
func (n *noter) withValue(name string) method.Values {
	for i := range n.table.Cells {
		for _, c := range n.table.Cells[i] {
			values := c.Values()
			if _, typed := values[name]; typed {
				return values
			}
		}
	}
	return nil
}

// workings notes each step of the worked lines.
func (n *noter) workings() {
	for i := range n.table.Work {
		w := &n.table.Work[i]
		for j, s := range w.Steps {
			text := s.Name
			for _, part := range []string{s.RuleText, s.WithText, s.Comes()} {
				if part != "" {
					text += " = " + part
				}
			}
			what := "a step of the working of " + n.table.Number
			if w.Point != "" {
				what += " for " + w.Point
			}
			for _, number := range []string{s.Result, s.Before} {
				if number == "" {
					continue
				}
				n.add(Printed{
					Address: n.numbered("work", i) + "." + strings.ReplaceAll(s.Name, " ", "_"),
					Number:  number, Text: text, What: what, Values: w.Values, Steps: w.Steps[:j+1],
				})
			}
		}
	}
}

// checks notes what was said of how an answer was checked.
func (n *noter) checks() {
	for _, s := range n.table.Solved {
		for _, c := range s.Checks {
			text := c.Value
			if len(c.Results) > 0 {
				text += " gives " + strings.Join(c.Results, " and ")
			}
			n.add(Printed{Address: c.Address, Text: text, What: "the check of the " + s.Label, Values: c.Values, Rests: s.Rests})
		}
	}
}

// joints notes what the joints of a hook-up were held against, and the lengths
// of their leads.
func (n *noter) joints() {
	if n.table.Hookup == nil {
		return
	}
	for i, l := range n.table.Hookup.Lines {
		for _, c := range l.Compared {
			if c.Have != "" && c.Want != "" {
				n.add(Printed{Address: n.numbered("joint", i), Text: c.Have + " against " + c.Want, What: "what a joint of " + n.table.Number + " was held against", Place: l.Place})
			}
		}
		for _, s := range l.Steps {
			if length := n.table.Hookup.Steps[s].Length; length != "" {
				n.add(Printed{Address: n.numbered("joint", i), Text: length, What: "the length of a lead of " + n.table.Number, Place: l.Place})
				break
			}
		}
	}
}

// mentions reports whether a figure stands among words, as a number of its own.
func mentions(text, figure string) bool {
	text = plainly(text)
	for _, meant := range []string{plainly(figure), spelled(figure)} {
		for from := 0; meant != ""; {
			i := strings.Index(text[from:], meant)
			if i < 0 {
				break
			}
			if apart(text, from+i, from+i+len(meant)) {
				return true
			}
			from += i + 1
		}
	}
	return false
}

// apart reports whether a piece of a text is cut out of no longer number or
// unit.
func apart(text string, start, end int) bool {
	before, after := text[:start], text[end:]
	if strings.HasSuffix(before, "-") { // a sign before it, and not between two numbers
		before = strings.TrimSuffix(before, "-")
		if before == "" || strings.HasSuffix(before, " ") || strings.HasSuffix(before, "(") {
			return false
		}
	}
	joins := func(c byte) bool {
		return c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
	}
	if before != "" && (joins(before[len(before)-1]) || before[len(before)-1] == '.') {
		return false
	}
	switch {
	case after == "":
		return true
	case after[0] == '.':
		return len(after) == 1 || !joins(after[1])
	}
	return !joins(after[0]) && after[0] != '/' && after[0] != '^'
}

// spelled is a figure with its unit as print has it: "0.5 decibels" is 0.5 dB.
func spelled(figure string) string {
	figure = plainly(figure)
	n := len(figure) - len(strings.TrimLeft(figure, "-0123456789."))
	if n == 0 || n == len(figure) {
		return ""
	}
	u, ok := unitOf(figure[n:])
	if !ok {
		return ""
	}
	return plainly(figure[:n] + " " + u.Symbol())
}

// unitOf reads a unit by itself.
func unitOf(text string) (unit.Unit, bool) {
	q, f := unit.Read(fault.NewText("", "1 "+strings.TrimSpace(text)).All())
	return q.Unit, f == nil
}
