package main

import (
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/trade"
	"bindpost/site/bind"
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
		if c.Figure != "" {
			fmt.Fprintln(d.out)
		}
	}
	if len(found) == 1 || c.Figure != "" {
		t.tellAll(found)
	}
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
// and a text, the one at an address, or all under a code. Where no figure under
// the code reads so, it may be an end of one or a member of a list, and else
// another number that stands there.
func (t *tracer) find(what, figure string) []bind.Printed {
	if figure == "" {
		return t.pick(func(p bind.Printed) bool { return p.Address == what || p.What == "" && p.Under(what) })
	}
	for _, reads := range []func(p bind.Printed) bool{
		func(p bind.Printed) bool { return p.What == "" && p.Reads(figure) },
		func(p bind.Printed) bool { return p.What == "" && p.Number != "" && p.Mentions(figure) },
		func(p bind.Printed) bool { return p.What != "" && p.Reads(figure) },
		func(p bind.Printed) bool { return p.What != "" && p.Mentions(figure) },
	} {
		if found := t.pick(func(p bind.Printed) bool { return p.Under(what) && reads(p) }); found != nil {
			return merged(found)
		}
	}
	return nil
}

// pick returns the figures that are meant, each address once.
func (t *tracer) pick(meant func(bind.Printed) bool) []bind.Printed {
	var found []bind.Printed
	for _, p := range t.all {
		if meant(p) && !slices.ContainsFunc(found, func(known bind.Printed) bool { return known.Address == p.Address }) {
			found = append(found, p)
		}
	}
	return found
}

// merged passes over a figure that a block names where the cell that it is was
// found too, and over a step of a working where one before it was: what it comes
// to is then put into the later.
func merged(found []bind.Printed) []bind.Printed {
	var kept []bind.Printed
	for i, p := range found {
		is := func(cell bind.Printed) bool { return sameCell(cell, p) }
		goesOn := func(q bind.Printed) bool { return q.Steps != nil && p.Steps != nil && &q.Steps[0] == &p.Steps[0] }
		if !slices.ContainsFunc(found, is) && !slices.ContainsFunc(found[:i], goesOn) {
			kept = append(kept, p)
		}
	}
	return kept
}

// sameCell reports whether a figure that a block names is a cell of its table,
// as far as print can tell.
func sameCell(cell, named bind.Printed) bool {
	return cell.Cell != nil && named.Cell == nil && named.What == "" && cell.Table == named.Table && cell.Text == named.Text
}

func (t *tracer) none(what, figure string) error {
	fmt.Fprintf(t.desk.err, "Nothing of this book is at %q", what)
	if figure != "" {
		fmt.Fprintf(t.desk.err, " and reads %q", figure)
	}
	fmt.Fprintln(t.desk.err, ".")
	var under []string
	for _, p := range t.all {
		if p.Under(what) && p.Number != "" && p.What == "" && p.Row == 0 && !slices.Contains(under, p.Text) {
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
	fmt.Fprintf(t.desk.out, "%d figures are meant. Each by itself:\n", len(found))
	for _, p := range found {
		where := ""
		if p.Table != nil {
			where = p.Table.Number
		}
		fmt.Fprintf(t.desk.out, "  bindpost trace %-44s %-7s %s\n", p.Address, where, p.Text)
	}
}
