package main

import (
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/press"
	"bindpost/templates"
)

type traceCommand struct {
	What   string  `arg:"" help:"A figure's address, such as kitchen-run.lost, or the code of a page or table, such as W1."`
	Figure string  `arg:"" optional:"" help:"With a code: the figure, as it is read on that page."`
	Copy   *string `name:"copy" placeholder:"COPY" help:"The folder of guides. Without one: this folder, if imprint.yaml is in it, else the demonstration."`
}

func (*traceCommand) example() string { return `bindpost trace W1 "0.26 dB"` }

// Run traces a figure back to its block, its rule and all that depends on it.
func (c *traceCommand) Run(d desk) error {
	fsys, root, err := copyArgument{c.Copy}.open(d)
	if err != nil {
		return err
	}
	book, faults := press.Bound(press.Order{Copy: fsys, Root: root, Library: trade.Library(), Templates: templates.Files, Program: version()})
	if faults.Stopped() {
		fmt.Fprintln(d.err, "Faults stand in this copy, and what stands in their blocks cannot be traced: bindpost proof tells them.")
	}
	t := &tracer{desk: d, book: book, all: book.Printed(), ledger: book.Ledger(version())}
	found := t.find(c.What, c.Figure)
	switch {
	case len(found) == 0:
		return t.none(c.What, c.Figure)
	case len(found) > 1:
		t.list(found)
		return nil
	}
	t.tell(found[0])
	return nil
}

// tracer answers where figures come from.
type tracer struct {
	desk   desk
	book   *bind.Book
	all    []bind.Printed
	ledger *bind.Ledger
}

// find returns the figures that are meant, each address once: those of a code
// and a text, the one at an address, or all under a code. A figure that a
// block names is passed over where the cell that it is was found.
func (t *tracer) find(what, figure string) []bind.Printed {
	var found []bind.Printed
	for _, p := range t.all {
		meant := figure == "" && (p.Address == what || p.Under(what)) || figure != "" && p.Under(what) && p.Reads(figure)
		if meant && !slices.ContainsFunc(found, func(known bind.Printed) bool { return known.Address == p.Address || figure != "" && sameCell(known, p) }) {
			found = append(found, p)
		}
	}
	return found
}

// sameCell reports whether a figure that a block names is a cell of its table,
// as far as print can tell.
func sameCell(cell, named bind.Printed) bool {
	return cell.Cell != nil && named.Cell == nil && cell.Table == named.Table && cell.Text == named.Text
}

func (t *tracer) none(what, figure string) error {
	fmt.Fprintf(t.desk.err, "Nothing of this book is at %q", what)
	if figure != "" {
		fmt.Fprintf(t.desk.err, " and reads %q", figure)
	}
	fmt.Fprintln(t.desk.err, ".")
	var under []string
	for _, p := range t.all {
		if p.Under(what) && p.Number != "" && p.Row == 0 && !slices.Contains(under, p.Text) {
			under = append(under, p.Text)
		}
	}
	if len(under) > 0 {
		fmt.Fprintf(t.desk.err, "On that page stand: %s.\n", wrapped(strings.Join(under, ", "), 70))
	}
	return exit(stopped)
}

// list tells of several figures in a line each.
func (t *tracer) list(found []bind.Printed) {
	fmt.Fprintf(t.desk.out, "%d figures are meant. Name one of them:\n", len(found))
	for _, p := range found {
		where := ""
		if p.Table != nil {
			where = p.Table.Number
		}
		fmt.Fprintf(t.desk.out, "  bindpost trace %-44s %-7s %s\n", p.Address, where, p.Text)
	}
}

func (t *tracer) tell(p bind.Printed) {
	fmt.Fprintf(t.desk.out, "%s: %s\n", p.Address, p.Text)
	switch {
	case p.Row > 0:
		t.decided(p)
		return
	case p.Standing != nil:
		t.standing(p.Standing)
	default:
		t.block(p)
	}
	t.uses(p)
}

func (t *tracer) standing(s *guide.Standing) {
	line, _ := s.Place.Text.Position(s.Place.Start)
	fmt.Fprintf(t.desk.out, "A standing figure, kept in %s, line %d.\n\nWhere it comes from:\n  %s\n", s.Place.Text.Name(), line, hungUnder(entry(s.Source)))
}

// block tells of the block that a figure is made by.
func (t *tracer) block(p bind.Printed) {
	out, table := t.desk.out, p.Table
	line, _ := table.Block.Text.Position(table.Block.Start)
	fmt.Fprintf(out, "%s, in %s, line %d, by the method %s: %s\n", table.Number, table.Block.Text.Name(), line, table.Method, table.Asks)
	cell := p.Cell
	if cell == nil {
		cell = t.cellOf(p)
	}
	if cell != nil {
		t.working(table, resultOf(cell.Address), cell.Values)
	}
	fmt.Fprintln(out, "\nWhere the rules come from:")
	for _, s := range table.Sources {
		fmt.Fprintf(out, "  %s\n", hungUnder(entry(s)))
	}
	for _, l := range table.Limits {
		fmt.Fprintf(out, "Limit: %s.\n", l.Text)
	}
	for _, c := range table.Claims {
		fmt.Fprintf(out, "Proved: %s, for %s.\n", c.Text, strings.Join(c.Over, "; "))
	}
	for _, c := range table.Charts {
		if cell != nil && c.Up.Name == resultOf(cell.Address) {
			fmt.Fprintf(out, "Drawn under the table: %s over %s.\n", c.Up.Label, c.Along.Label)
		}
	}
	for _, v := range table.Verdicts {
		fmt.Fprintf(out, "%s: %s, %s.\n", v.Name, v.Grade, v.Words)
	}
}

// cellOf finds the cell that a figure named by a block is.
func (t *tracer) cellOf(named bind.Printed) *guide.Cell {
	for _, p := range t.all {
		if sameCell(p, named) {
			return p.Cell
		}
	}
	return nil
}

// resultOf is the result that a cell's address names.
func resultOf(address string) string {
	parts := strings.Split(address, ".")
	if len(parts) < 2 {
		return ""
	}
	return parts[1]
}

// working tells what went in, the rule, and the rule with its numbers.
func (t *tracer) working(table *guide.Table, result string, v method.Values) {
	out := t.desk.out
	m, ok := t.book.Library.Method(table.Method)
	if !ok || m.Sheet().Result(result) == nil {
		return
	}
	fmt.Fprintln(out, "\nWhat went in:")
	o := m.Run(v, result)
	column := labels(m.Sheet())
	for _, taken := range o.Taken {
		fmt.Fprintf(out, "  %-*s %s%s\n", column, taken.Input.Label(), taken.Point.Text, after(taken.Input.Sense, standing(taken), typedIn(taken.Point.Place)))
	}
	fmt.Fprintln(out, "\nThe rule, and the same with its numbers:")
	for _, s := range m.Work(v, result) {
		fmt.Fprintf(out, "  %s\n", hungUnder(stepText(s)))
	}
}

// typedIn says where a value stands, or from which figure it was taken.
func typedIn(p fault.Place) string {
	if p.Text == nil || !strings.HasSuffix(p.Text.Name(), ".md") {
		return ""
	}
	line, _ := p.Text.Position(p.Start)
	if s := p.String(); strings.HasPrefix(s, "<") {
		return fmt.Sprintf("from %s, in line %d", strings.Trim(s, "<>"), line)
	}
	return fmt.Sprintf("typed in line %d", line)
}

// stepText is a step of a working in a line: its rule, the rule with its
// numbers, what it comes to.
func stepText(s method.Worked) string {
	if s.Rule == nil {
		return s.Name + " = " + s.Borrowed + " = " + s.Text
	}
	text := s.Name + " = " + formula.Text(s.Rule)
	if with := formula.TextWith(s.Rule, s.Given); with != formula.Text(s.Rule) && with != s.Text {
		text += " = " + with
	}
	return text + " = " + s.Text
}

// entry is a reference in words.
func entry(s guide.Source) string {
	return cited(&method.Reference{Title: s.Title, Clause: s.Clause, Date: s.Date, Mark: s.Mark, Says: s.Says})
}

// hungUnder wraps a text under its own head.
func hungUnder(text string) string { return strings.ReplaceAll(wrapped(text, 74), "\n", "\n    ") }

// uses lists every other place that depends on the figure: sentences that
// print it, and what would move with the standing figures among its values.
func (t *tracer) uses(p bind.Printed) {
	named := map[string]bool{p.Address: true}
	standing := map[string]bool{}
	for _, other := range t.all {
		if sameCell(p, other) || sameCell(other, p) {
			named[other.Address] = true
		}
	}
	if p.Standing != nil {
		standing[p.Address] = true
	} else {
		for _, s := range p.Table.Sources {
			if strings.HasPrefix(s.ID, "standing.") {
				standing[s.ID] = true
			}
		}
	}
	said := t.saying(named)
	fmt.Fprintln(t.desk.out, "\nAlso used in:")
	if len(said) == 0 {
		fmt.Fprintln(t.desk.out, "  no sentence")
	}
	for _, s := range said {
		fmt.Fprintf(t.desk.out, "  %s\n", hungUnder(s))
	}
	var moved []string
	for _, other := range t.all {
		if other.Table == nil || other.Table == p.Table || slices.Contains(moved, other.Table.Number) {
			continue
		}
		if slices.ContainsFunc(other.Table.Sources, func(s guide.Source) bool { return standing[s.ID] }) {
			moved = append(moved, other.Table.Number)
		}
	}
	if len(moved) > 0 {
		fmt.Fprintf(t.desk.out, "\nTables that rest on the same standing figures: %s.\n", strings.Join(moved, ", "))
	}
	if p.Table != nil {
		t.sameRule(p.Table)
	}
}

// saying returns the sentences that print one of some figures.
func (t *tracer) saying(named map[string]bool) []string {
	var said []string
	for _, e := range t.ledger.Entries {
		for _, s := range e.Sentences {
			for address := range named {
				if strings.Contains(s.Form, "<figure:"+address+">") && !slices.Contains(said, s.Where+": "+s.Text) {
					said = append(said, s.Where+": "+s.Text)
				}
			}
		}
	}
	return said
}

// sameRule lists the other tables that are worked by the same method.
func (t *tracer) sameRule(table *guide.Table) {
	var numbers []string
	for _, p := range t.all {
		if p.Table != nil && p.Table != table && p.Table.Method == table.Method && !slices.Contains(numbers, p.Table.Number) {
			numbers = append(numbers, p.Table.Number)
		}
	}
	if len(numbers) > 0 {
		fmt.Fprintf(t.desk.out, "\nTables by the same method: %s.\n", strings.Join(numbers, ", "))
	}
}
