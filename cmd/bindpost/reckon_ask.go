package main

import (
	"fmt"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// counterAsk is a question put backwards at the counter, with its answer. Nil
// where none was put.
type counterAsk struct {
	ask    *method.Ask
	words  string // "longest run for loss at most 0.5 dB"
	answer *method.Answer
}

// answered is the answer for machines.
type answered struct {
	Question string `json:"question"`
	Name     string `json:"name"`
	quantified
	Unrounded any          `json:"unrounded,omitempty"`
	All       bool         `json:"all,omitempty"`
	Stretches [][2]float64 `json:"stretches,omitempty"`
}

// asks reports whether a name=value pair is a question put backwards.
func asks(name string) bool {
	name = strings.TrimSpace(name)
	return name == "most" || name == "least"
}

// asked reads the most or least among what was typed, sees that it fits the
// values, and puts "don't know" in the place of what it asks for.
func (c *reckonCommand) asked(m method.Method, line *fault.Text, values method.Values, faults *fault.List) *counterAsk {
	at, s := len(c.Method)+1, m.Sheet()
	var a *counterAsk
	for _, pair := range c.Values {
		place := line.Place(at, at+len(pair))
		at += len(pair) + 1
		name, _, found := strings.Cut(place.String(), "=")
		if !found || !asks(name) {
			continue
		}
		if a != nil {
			faults.Add(fault.At(place, "one question is asked already").Fix("ask one at a time"))
			continue
		}
		ask, fs := s.ReadAsk(place.Sub(len(name)+1, len(pair)).Trim(), strings.TrimSpace(name) == "least")
		faults.Join(fs)
		a = &counterAsk{ask: ask}
		if !fs.Stopped() {
			a.words = s.Extreme(ask) + " for " + strings.ReplaceAll(formula.Text(ask.Holds.Node()), "_", " ")
			a.open(values, faults)
		}
	}
	if !faults.Stopped() {
		faults.Join(asWords(s, s.Check(values, line.Place(0, len(s.Name)))))
	}
	return a
}

// asWords turns values that faults propose from lines of a block into words of
// a command line.
func asWords(s *method.Sheet, faults *fault.List) *fault.List {
	for _, f := range faults.All() {
		for _, in := range s.Takes {
			if name, value, _ := strings.Cut(in.Sample("="), "="); f.Try == in.Sample(": ") {
				f.Fix("%s=%q", name, value)
			}
		}
	}
	return faults
}

// open makes room among the values for the one that is asked for.
func (a *counterAsk) open(values method.Values, faults *fault.List) {
	in := a.ask.Input
	p, typed := values[in.Name]
	switch {
	case len(a.ask.Each) > 0:
		faults.Add(fault.At(a.ask.Each[0], "here each value stands once").Fix("take out for each, or use a block of a guide"))
	case typed && p.Asked > 0:
		a.ask.Member, a.ask.Unit, p.Asked = p.Asked, p.Unit, 0
		values[in.Name] = p
	case typed:
		faults.Add(fault.At(p.Place, "%s has a value, and is asked for as well", in.Name).Fix("take it out"))
	case in.Group != "":
		faults.Add(fault.At(a.ask.Place, "%s is a list, and it is not said which member is asked for", in.Name).
			Want(`a ? in its place, such as %s="8 and ? ohm"`, in.Name))
	default:
		values[in.Name] = method.Point{Value: formula.CannotTell(in.Fact() + " is asked for"), Text: method.DontKnow, Sought: true, Place: a.ask.Place}
	}
}

// solve answers the question, and returns the values with the answer in them.
func (a *counterAsk) solve(m method.Method, values method.Values) method.Values {
	if a == nil {
		return values
	}
	if a.answer = method.Solve(m, values, a.ask); a.answer.Value.State == formula.Known {
		return a.answer.Values
	}
	return values
}

// none reports whether a question was put that has no answer: nothing can be
// worked forwards with it.
func (a *counterAsk) none() bool { return a != nil && a.answer.Value.State != formula.Known }

// text prints the answer.
func (a *counterAsk) text(d desk) {
	if a == nil {
		return
	}
	said := a.answer.Point.Text + after(a.ask.Input.Sense) + "; what is given below is worked forwards with it"
	switch v := a.answer.Value; {
	case v.State == formula.None:
		said = "none: " + v.Why
	case v.State != formula.Known:
		said = "cannot tell: " + v.Why
	case a.answer.Whole && a.ask.Among != nil:
		said += ". Every one of these meets it; no other was tried"
	case a.answer.Whole:
		said += fmt.Sprintf(". Every %s that this method covers meets it", a.ask.Input.Label())
	}
	var parts []string
	for _, p := range a.answer.Parts {
		parts = append(parts, a.rough(p.From)+" to "+a.rough(p.To))
	}
	if parts != nil {
		said += ". It is met in several stretches: from " + strings.Join(parts, ", and from ")
	}
	fmt.Fprintf(d.out, "\nAsked:\n  %s\n", strings.ReplaceAll(wrapped(a.words+": "+said, 74), "\n", "\n    "))
}

func (a *counterAsk) rough(x float64) string { return method.Rough(x, a.unit()) }

// unit is the unit in which the answer is printed.
func (a *counterAsk) unit() unit.Unit {
	if a.ask.Unit.Symbol() != "" {
		return a.ask.Unit
	}
	return a.ask.Input.Unit
}

// json is the answer for machines.
func (a *counterAsk) json() *answered {
	if a == nil {
		return nil
	}
	r := &answered{Question: a.words, Name: a.ask.Input.Name, All: a.answer.Whole}
	r.quantified = quantify(a.answer.Value, baseUnit(a.ask.Input.Unit, nil), a.answer.Point.Text)
	if a.answer.Value.State == formula.Known {
		r.Unrounded = a.answer.Exact
	}
	for _, p := range a.answer.Parts {
		r.Stretches = append(r.Stretches, [2]float64{p.From, p.To})
	}
	return r
}
