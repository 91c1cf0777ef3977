package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// tellAll tells of figures one after another, those of one table together.
func (t *tracer) tellAll(found []bind.Printed) {
	for len(found) > 0 {
		n := 1
		for n < len(found) && found[0].Row == 0 && found[0].Table != nil && found[n].Table == found[0].Table {
			n++
		}
		t.tell(found[:n])
		if found = found[n:]; len(found) > 0 {
			fmt.Fprintln(t.desk.out)
		}
	}
}

// tell tells of figures of one table, or of a standing figure.
func (t *tracer) tell(group []bind.Printed) {
	if len(group) == 1 {
		fmt.Fprintf(t.desk.out, "%s: %s\n", group[0].Address, group[0].Text)
	}
	if group[0].Row > 0 {
		t.decided(group[0])
		return
	}
	if s := group[0].Standing; s != nil {
		line, _ := s.Place.Text.Position(s.Place.Start)
		fmt.Fprintf(t.desk.out, "A standing figure, kept in %s, line %d.\n\nWhere it comes from:\n  %s\n", s.Place.Text.Name(), line, hungUnder(cited(&s.Source)))
	} else {
		t.block(group)
	}
	t.uses(group)
}

// block tells of the block that figures are made by.
func (t *tracer) block(group []bind.Printed) {
	out, table := t.desk.out, group[0].Table
	line, _ := table.Block.Text.Position(table.Block.Start)
	by := "by the method " + table.Method
	if table.Hookup != nil {
		by = "drawn from a list of joints"
	}
	fmt.Fprintf(out, "%s, in %s, line %d, %s: %s\n", table.Number, table.Block.Text.Name(), line, by, table.Asks)
	for _, p := range group {
		if len(group) > 1 {
			fmt.Fprintf(out, "\n%s: %s\n", p.Address, p.Text)
		}
		t.reached(p)
	}
	fmt.Fprintln(out, "\nWhere the rules come from:")
	for _, s := range table.Sources {
		fmt.Fprintf(out, "  %s\n", hungUnder(cited(s)))
	}
	for _, l := range table.Limits {
		fmt.Fprintf(out, "Limit: %s.\n", l.Text)
	}
	for _, c := range table.Claims {
		fmt.Fprintf(out, "Proved: %s, for %s.\n", c.Text, strings.Join(c.Over, "; "))
	}
	for _, c := range table.Charts {
		drawn := func(p bind.Printed) bool {
			return p.Cell != nil && p.Asked == "" && slices.Contains(p.Rests, c.Up.Name)
		}
		if slices.ContainsFunc(group, drawn) {
			fmt.Fprintf(out, "Drawn under the table: %s over %s.\n", c.Up.Label, c.Along.Label)
		}
	}
	for _, v := range table.Verdicts {
		fmt.Fprintf(out, "%s.\n", strings.TrimSuffix(v.Name+": "+v.Grade+", "+v.Words, ", "))
	}
}

// reached tells how a number came about: what it is where it is no figure, what
// went in, the rule, and the rule with its numbers.
func (t *tracer) reached(p bind.Printed) {
	out := t.desk.out
	switch where := strings.TrimPrefix(typedIn(p.Place), ", "); {
	case p.What != "" && where != "":
		fmt.Fprintf(out, "It is %s, %s.\n", p.What, where)
	case p.What != "":
		fmt.Fprintf(out, "It is %s.\n", p.What)
	case p.Asked != "":
		fmt.Fprintf(out, "It is the %s: found by trying, and checked by working forwards.\n", p.Asked)
	case where != "":
		fmt.Fprintf(out, "It is a value of the block, %s.\n", where)
	}
	m, ok := t.book.Library.Method(p.Table.Method)
	if !ok || p.Values == nil {
		return
	}
	if len(p.Rests) > 0 || len(p.Steps) > 0 {
		t.wentIn(m, p)
	}
	var said []string
	for _, s := range p.Steps {
		said = append(said, joined(s.Name, s.RuleText, s.WithText, s.Comes()))
	}
	for _, result := range p.Rests {
		if m.Sheet().Result(result) == nil {
			continue // a verdict
		}
		for _, s := range m.Work(p.Values.Middle(), result)[0] {
			if text := stepText(s); !slices.Contains(said, text) {
				said = append(said, text)
			}
		}
	}
	if len(said) > 0 {
		fmt.Fprintln(out, "\nThe rule, and the same with its numbers:")
	}
	for _, text := range said {
		fmt.Fprintf(out, "  %s\n", hungUnder(text))
	}
}

// wentIn tells the values that a figure was worked with, and where they stand.
func (t *tracer) wentIn(m method.Method, p bind.Printed) {
	fmt.Fprintln(t.desk.out, "\nWhat went in:")
	column := labels(m.Sheet())
	for _, taken := range m.Run(p.Values, p.Rests...).Taken() {
		fmt.Fprintf(t.desk.out, "  %-*s %s%s\n", column, taken.Input.Label(), taken.Point.Text,
			after(taken.Input.Sense, standing(taken), typedIn(taken.Point.Place)))
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
		return joined(s.Name, s.Borrowed, s.Text)
	}
	rule, with := formula.Text(s.Rule), formula.TextWith(s.With, s.Given)
	if with == rule || with == s.Text {
		with = ""
	}
	if rule == s.Text {
		rule = "" // a plain number
	}
	return joined(s.Name, rule, with, guide.WorkStep{Result: s.Text, Before: s.Before, Round: s.Round.Way()}.Comes())
}

// joined puts the parts of a step that there are into one line.
func joined(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), " = ")
}

// hungUnder wraps a text under its own head.
func hungUnder(text string) string { return strings.ReplaceAll(wrapped(text, 74), "\n", "\n    ") }

// uses lists every other place that depends on figures of one table: sentences
// that print them, and what would move with the standing figures among their
// values.
func (t *tracer) uses(group []bind.Printed) {
	p, named, standing := group[0], map[string]bool{}, map[string]bool{}
	for _, one := range group {
		named[one.Address] = true
		for _, other := range t.all {
			if sameCell(one, other) || sameCell(other, one) {
				named[other.Address] = true
			}
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
		if slices.ContainsFunc(other.Table.Sources, func(s *guide.Source) bool { return standing[s.ID] }) {
			moved = append(moved, other.Table.Number)
		}
	}
	if len(moved) > 0 {
		fmt.Fprintf(t.desk.out, "\nTables that rest on the same standing figures: %s.\n", strings.Join(moved, ", "))
	}
	if p.Table != nil && p.Table.Method != "" {
		t.sameRule(p.Table)
	}
}

// saying returns the sentences that print one of some figures.
func (t *tracer) saying(named map[string]bool) []string {
	var said []string
	for _, e := range t.ledger.Entries {
		for _, s := range e.Sentences {
			for _, address := range slices.Sorted(maps.Keys(named)) {
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
