package main

import (
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

type reckonCommand struct {
	Method string   `arg:"" help:"Which method. bindpost methods lists them."`
	Values []string `arg:"" optional:"" placeholder:"NAME=VALUE" help:"What it takes, each with its unit. Quote a value that holds a space. most or least asks backwards."`
	copyOption
	JSON bool `name:"json" help:"One object for machines instead of a text."`
}

func (*reckonCommand) example() string {
	return `bindpost reckon speaker-wire gauge="16 AWG" run="9 m" load="8 ohm"
bindpost reckon speaker-wire gauge="16 AWG" load="8 ohm" most="run where loss at most 0.5 dB"`
}

// Run works one method at one point.
func (c *reckonCommand) Run(d desk) error {
	hand, err := c.methods(d)
	if err != nil {
		return err
	}
	return c.reckon(d, hand)
}

func (c *reckonCommand) reckon(d desk, hand atHand) error {
	typed := typedLine(c.Method, c.Values)
	m, err := hand.find(d, c.Method, typed.Place(0, len(c.Method)))
	if err != nil {
		return err
	}
	values, faults := readTyped(m.Sheet(), typed, len(c.Method)+1, c.Values)
	r := &reckoning{method: m, values: values, faults: faults}
	r.asked = c.asked(m, typed, values, faults)
	r.checkLimits()
	if !faults.Stopped() {
		r.work(typed.Place(0, len(c.Method)))
	}
	if faults.Stopped() {
		return report(d, faults)
	}
	if c.JSON {
		return r.json().write(d)
	}
	report(d, faults)
	r.text(d)
	return nil
}

// reckoning is one method worked at one point.
type reckoning struct {
	method  method.Method
	values  method.Values
	asked   *counterAsk // nil where nothing is asked backwards
	outcome *method.Outcome
	faults  *fault.List
}

// checkLimits sees that the method can do with values that have limits, and
// that nothing is asked backwards of them: the answer would be right in the
// middle of the limits only.
func (r *reckoning) checkLimits() {
	for _, in := range r.method.Sheet().Takes {
		p := r.values[in.Name]
		if len(p.Limits) == 0 {
			continue
		}
		if _, data := r.method.(*method.Data); !data {
			r.faults.Add(fault.At(p.Place, "%s has no formula that could be worked over limits", r.method.Sheet().Name).Fix("take the ± out"))
		} else if r.asked != nil {
			r.faults.Add(fault.At(p.Place, "a most or least cannot be asked of values that have limits").
				Want("a value without ±; take the end that is worst for the answer"))
		}
	}
}

// work solves what is asked backwards, and runs the method with the answer.
func (r *reckoning) work(at fault.Place) {
	r.values = r.asked.solve(r.method, r.values)
	r.outcome = r.method.Run(r.values)
	r.outcome.AtWorst(r.method, r.values)
	r.faults.Join(placed(r.outcome.Faults, at))
}

// typedLine is what was typed as one line, for faults to quote.
func typedLine(name string, values []string) *fault.Text {
	line := strings.Join(append([]string{name}, values...), " ")
	return fault.NewText("what you typed", strings.NewReplacer("\n", " ", "\r", " ").Replace(line))
}

// readTyped reads name=value pairs but those that ask backwards; at is where the first begins in the line.
func readTyped(s *method.Sheet, line *fault.Text, at int, pairs []string) (method.Values, *fault.List) {
	values, faults := method.Values{}, &fault.List{}
	for _, pair := range pairs {
		place := line.Place(at, at+len(pair))
		at += len(pair) + 1
		name, value, found := strings.Cut(place.String(), "=")
		in := s.Input(strings.TrimSpace(name))
		switch {
		case found && asks(name):
			continue // read by asked
		case !found:
			faults.Add(fault.At(place, "%q is no value", pair).Want("a name, = and a value, such as %s", s.Takes[0].Sample("=")))
			continue
		case in == nil:
			faults.Add(s.Unknown(strings.TrimSpace(name), place.Sub(0, len(name))))
			continue
		}
		if _, double := values[in.Name]; double {
			faults.Add(fault.At(place, "%s stands twice", in.Name).Fix("take one of the two out"))
			continue
		}
		point, fs := in.Read(place.Sub(len(name)+1, len(name)+1+len(value)))
		faults.Join(fs)
		values[in.Name] = point
	}
	return values, faults
}

// placed gives faults that have no place of their own one.
func placed(faults *fault.List, at fault.Place) *fault.List {
	l := &fault.List{}
	for _, f := range faults.All() {
		if f.Place.Text == nil {
			f.Place = at
		}
		l.Add(f)
	}
	return l
}

func (r *reckoning) text(d desk) {
	s, o := r.method.Sheet(), r.outcome
	fmt.Fprintf(d.out, "%s\n\nTaken:\n", s.Asks)
	column := labels(s)
	for _, t := range o.Taken() {
		if r.asked.none() && t.Input == r.asked.ask.Input {
			continue // no value was found
		}
		fmt.Fprintf(d.out, "  %-*s %s%s\n", column, t.Input.Label(), t.Point.Text, after(t.Input.Sense, standing(t)))
	}
	r.asked.text(d)
	if !r.asked.none() {
		r.given(d, column)
	}
	for _, c := range o.Cautions {
		fmt.Fprintf(d.out, "\n%s\n", wrapped(c.Signal+": "+c.Happens+" "+c.How+" "+c.Instead+" Ask: "+c.Ask+".", 76))
	}
	if len(o.References) > 0 {
		fmt.Fprintln(d.out, "\nWhere it comes from:")
	}
	for _, ref := range o.References {
		fmt.Fprintf(d.out, "  %s\n", strings.ReplaceAll(wrapped(cited(&ref.Citation), 74), "\n", "\n    "))
	}
	if s.CoversNot != "" {
		fmt.Fprintf(d.out, "\n%s\n", wrapped("It does not cover: "+s.CoversNot+".", 76))
	}
}

// given prints the results and verdicts.
func (r *reckoning) given(d desk, column int) {
	o := r.outcome
	fmt.Fprintln(d.out, "\nGiven:")
	for _, res := range r.method.Sheet().Gives {
		v, ok := o.Results.Find(res.Name)
		if !ok {
			continue
		}
		said := res.Text(v)
		fromTo, spreads, limited := method.FromTo(r.method, r.values, res)
		if limited {
			said = strings.TrimSpace(fromTo + " " + res.Unit.Symbol())
		}
		if v.State == formula.Known {
			said += after(res.Sense) + bracketed(res.Says)
		}
		if limited {
			said += r.onLimits(spreads)
		}
		fmt.Fprintf(d.out, "  %-*s %s\n", column, res.Label(), hung(said, column))
	}
	for _, v := range o.Verdicts {
		fmt.Fprintf(d.out, "  %-*s %s\n", column, strings.ReplaceAll(v.Name, "_", " "), hung(v.Grade+": "+v.Words, column))
	}
}

// onLimits says of a result over limits which of several matters most to it,
// and whether it may jump.
func (r *reckoning) onLimits(spreads []method.Spread) string {
	said, s := "", r.method.Sheet()
	several := len(s.Box(r.values).Moving) > 1
	var names []string
	for _, x := range spreads {
		if in := s.Input(x.Matters); in != nil && several && !slices.Contains(names, in.Label()) {
			names = append(names, in.Label())
		}
	}
	if names != nil {
		said += "; the limits of " + strings.Join(names, " and of ") + " matter most"
	}
	if slices.ContainsFunc(spreads, func(x method.Spread) bool { return x.Jumps }) {
		said += "; somewhere within the limits there is a jump, or no figure"
	}
	return said
}

// labels is how wide the column of names is: the longest, and a usual one at
// least, so that columns of most methods line up.
func labels(s *method.Sheet) int {
	width := 12
	for _, in := range s.Takes {
		width = max(width, len(in.Label()))
	}
	for _, r := range s.Gives {
		width = max(width, len(r.Label()))
	}
	return width
}

// hung wraps what stands beside a name under itself.
func hung(said string, column int) string {
	return strings.ReplaceAll(wrapped(said, 76-column), "\n", "\n"+strings.Repeat(" ", column+3))
}

// standing says why a value that was not typed stands.
func standing(t method.Taken) string {
	switch {
	case t.Assumed:
		return "not known: the usual value stands in"
	case t.Usual:
		return "the usual value"
	}
	return ""
}

// after joins what may be said after a value.
func after(parts ...string) string {
	said := ""
	for _, p := range parts {
		if p != "" {
			said += ", " + p
		}
	}
	return said
}

func bracketed(s string) string {
	if s == "" {
		return ""
	}
	return " (" + s + ")"
}

// marks says in words how a reference is known.
var marks = map[string]string{
	"read": "read", "computed": "computed", "practice": "common practice, no source", "memory": "from memory, not checked",
}

func cited(r *method.Citation) string {
	text := r.Title
	for _, part := range []string{r.Clause, r.Date} {
		if part != "" {
			text += ", " + part
		}
	}
	text += " (" + marks[r.Mark]
	if r.Says != "" {
		text += "; " + r.Says
	}
	return text + ")"
}
