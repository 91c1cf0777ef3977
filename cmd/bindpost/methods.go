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
	copyOption
}

func (*methodsCommand) example() string { return "bindpost methods speaker-wire" }

// Run lists the methods or shows one.
func (c *methodsCommand) Run(d desk) error {
	if c.Name == "" && !c.here() {
		printAreas(d, trade.List())
		return nil
	}
	hand, err := c.methods(d)
	if err != nil {
		return err
	}
	if c.Name == "" {
		return hand.list(d)
	}
	m, err := hand.find(d, c.Name, fault.NewText("what you typed", c.Name).All())
	if err != nil {
		return err
	}
	showMethod(d, hand.Library, m.Sheet())
	return nil
}

// list prints a line for each method, those of the trade by area and those of
// the copy below them.
func (h atHand) list(d desk) error {
	all := trade.List()
	for _, name := range h.Names() {
		m, _ := h.Method(name)
		if _, shipped := trade.Library().Method(name); !shipped && !h.Broken(name) {
			all = append(all, trade.Listed{Area: ofThisCopy, Name: name, Asks: m.Sheet().Asks})
		}
	}
	printAreas(d, all)
	return report(d, h.faults)
}

// printAreas prints methods, those of each area under its head.
func printAreas(d desk, all []trade.Listed) {
	var b strings.Builder
	last := ""
	for _, m := range all {
		if m.Area != last {
			if last != "" {
				b.WriteByte('\n')
			}
			last = m.Area
			fmt.Fprintf(&b, "%s%s\n", strings.ToUpper(last[:1]), last[1:])
		}
		fmt.Fprintf(&b, "  %-20s %s\n", m.Name, m.Asks)
	}
	fmt.Fprint(d.out, b.String())
}

// ofThisCopy heads the methods that a copy brings.
const ofThisCopy = "of this copy"

func showMethod(d desk, library *method.Library, s *method.Sheet) {
	fmt.Fprintf(d.out, "%s\n%s\n\nIt takes:\n", s.Name, s.Asks)
	column := labels(s)
	for _, in := range s.Takes {
		fmt.Fprintf(d.out, "  %-*s %s\n", column, in.Name, hung(taken(in), column))
	}
	for _, group := range s.OneOf {
		fmt.Fprintf(d.out, "  Exactly one of %s.\n", strings.Join(group, ", "))
	}
	for _, why := range s.Needs {
		fmt.Fprintf(d.out, "  %s\n", hungUnder("Needed: "+why+"."))
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
	if len(s.Verdicts) > 0 {
		fmt.Fprintln(d.out, "\nIt judges, by the first line that holds:")
		for _, line := range s.Verdicts {
			fmt.Fprintf(d.out, "  %s\n", hungUnder(line))
		}
	}
	showMoves(d, s)
	fmt.Fprintln(d.out, "\nWhere it comes from:")
	for _, id := range s.References {
		r, _ := library.Reference(id)
		fmt.Fprintf(d.out, "  %s\n", hungUnder(id+": "+cited(&r.Citation)))
	}
	for _, id := range s.Cautions {
		c, _ := library.Caution(id)
		fmt.Fprintf(d.out, "\n%s\n", wrapped(c.Signal+" ("+id+"): "+c.Happens, 76))
	}
	if s.CoversNot != "" {
		fmt.Fprintf(d.out, "\n%s\n", wrapped("It does not cover: "+s.CoversNot+".", 76))
	}
	if len(s.Cases) > 0 {
		fmt.Fprintf(d.out, "\nIt is held against %s worked outside this program.\n", howMany(len(s.Cases), "case"))
	} else {
		fmt.Fprintf(d.out, "\n%s\n", wrapped("It is held against no case worked outside this program: "+s.Uncased+".", 76))
	}
	fmt.Fprintf(d.out, "\nFor example:\n  bindpost reckon %s\n", s.Sample())
}

// showMoves says how the results go with the values, a line for each way.
func showMoves(d desk, s *method.Sheet) {
	if len(s.Moves) == 0 {
		return
	}
	fmt.Fprintln(d.out, "\nHow its results go while one value rises:")
	for _, way := range []string{"rises", "falls"} {
		var pairs []string
		for _, m := range s.Moves {
			if m.Way == way {
				pairs = append(pairs, m.Result+" with "+m.With)
			}
		}
		if len(pairs) > 0 {
			fmt.Fprintf(d.out, "  %s\n", hungUnder(way+": "+strings.Join(pairs, ", ")))
		}
	}
	for _, m := range s.Moves {
		if m.Way == "neither" {
			fmt.Fprintf(d.out, "  %s\n", hungUnder("neither: "+m.Result+" with "+m.With+", because "+m.Because))
		}
	}
}

// inUse says between what a value usually lies.
func inUse(in *method.Input) string {
	if in.Usual == nil {
		return ""
	}
	return " (in use " + in.Usual.From.Text + " to " + in.Usual.To.Text + ")"
}

// taken describes an input in one line.
func taken(in *method.Input) string {
	parts := []string{in.Fact()}
	switch {
	case in.Choice != nil:
		parts = append(parts, strings.Join(in.Offered(), " or "))
	case len(in.Among) > 0:
		var texts []string
		for _, p := range in.Among {
			texts = append(texts, p.Text)
		}
		parts = append(parts, "one of "+strings.Join(texts, ", "))
	case in.From != nil && in.To != nil:
		parts = append(parts, in.From.Text+" to "+in.To.Text+inUse(in))
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

// howMany is a number of things in words: 1 case, 3 cases.
func howMany(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

func inUnit(r *method.Result) string {
	if s := r.Unit.Symbol(); s != "" {
		return "in " + s
	}
	return ""
}
