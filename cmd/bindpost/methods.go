package main

import (
	"fmt"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

type methodsCommand struct {
	Name string `arg:"" optional:"" help:"Which method to show whole. Without one, all are listed."`
}

func (*methodsCommand) example() string { return "bindpost methods speaker-wire" }

// Run lists the methods or shows one.
func (c *methodsCommand) Run(d desk) error {
	library := trade.Library()
	if c.Name == "" {
		for _, name := range library.Names() {
			m, _ := library.Method(name)
			fmt.Fprintf(d.out, "%-18s %s\n", name, m.Sheet().Asks)
		}
		return nil
	}
	m, ok := library.Method(c.Name)
	if !ok {
		faults := &fault.List{}
		faults.Add(library.NoMethod(c.Name, fault.NewText("what you typed", c.Name).All()))
		return report(d, faults)
	}
	showMethod(d, library, m.Sheet())
	return nil
}

func showMethod(d desk, library *method.Library, s *method.Sheet) {
	fmt.Fprintf(d.out, "%s\n%s\n\nIt takes:\n", s.Name, s.Asks)
	column := labels(s)
	for _, in := range s.Takes {
		fmt.Fprintf(d.out, "  %-*s %s\n", column, in.Name, hung(taken(in), column))
	}
	for _, group := range s.OneOf {
		fmt.Fprintf(d.out, "  Exactly one of %s.\n", strings.Join(group, ", "))
	}
	fmt.Fprintln(d.out, "\nIt gives:")
	for _, r := range s.Gives {
		fmt.Fprintf(d.out, "  %-*s %s\n", column, r.Name, hung(r.Caption()+after(r.Sense, inUnit(r)), column))
	}
	if len(s.Working) > 0 {
		fmt.Fprintln(d.out, "\nIts working:")
		for _, line := range s.Working {
			fmt.Fprintf(d.out, "  %s\n", line)
		}
	}
	fmt.Fprintln(d.out, "\nWhere it comes from:")
	for _, id := range s.References {
		r, _ := library.Reference(id)
		fmt.Fprintf(d.out, "  %s: %s\n", id, strings.ReplaceAll(wrapped(cited(r), 70), "\n", "\n    "))
	}
	for _, id := range s.Cautions {
		c, _ := library.Caution(id)
		fmt.Fprintf(d.out, "\n%s\n", wrapped(c.Signal+" ("+id+"): "+c.Happens, 76))
	}
	if s.CoversNot != "" {
		fmt.Fprintf(d.out, "\n%s\n", wrapped("It does not cover: "+s.CoversNot+".", 76))
	}
	fmt.Fprintf(d.out, "\nIt is held against %d cases worked outside this program.\n", len(s.Cases))
	fmt.Fprintf(d.out, "\nFor example:\n  bindpost reckon %s\n", s.Sample())
}

// taken describes an input in one line.
func taken(in *method.Input) string {
	parts := []string{in.Fact()}
	switch {
	case in.Choice != nil:
		parts = append(parts, strings.Join(in.Choice, " or "))
	case len(in.Among) > 0:
		var texts []string
		for _, p := range in.Among {
			texts = append(texts, p.Text)
		}
		parts = append(parts, "one of "+strings.Join(texts, ", "))
	case in.From != nil && in.To != nil:
		parts = append(parts, in.From.Text+" to "+in.To.Text)
	}
	parts = append(parts, in.Sense)
	if in.Usually != nil {
		parts = append(parts, "usually "+in.Usually.Text)
	}
	if in.Optional {
		parts = append(parts, "may be left out")
	}
	return strings.TrimPrefix(after(parts...), ", ")
}

func inUnit(r *method.Result) string {
	if s := r.Unit.Symbol(); s != "" {
		return "in " + s
	}
	return ""
}
