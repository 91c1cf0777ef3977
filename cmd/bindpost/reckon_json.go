package main

import (
	"encoding/json"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// reckoned is the object that `reckon --json` prints.
type reckoned struct {
	Method     string                `json:"method"`
	Takes      map[string]quantified `json:"takes"`
	Asked      *answered             `json:"asked,omitempty"`
	Gives      map[string]quantified `json:"gives"`
	Verdicts   map[string]judged     `json:"verdicts"`
	Cautions   []warned              `json:"cautions"`
	References []sourced             `json:"references"`
	Warnings   []string              `json:"warnings"`
}

// quantified is a value for machines: in base units, unrounded, with the unit
// it is in, and as it is printed.
type quantified struct {
	Value any    `json:"value"`
	Unit  string `json:"unit"`
	Text  string `json:"text"`
	Why   string `json:"why,omitempty"`
	Low   any    `json:"low,omitempty"`  // where values have limits: from where
	High  any    `json:"high,omitempty"` // to where, as value is
}

type judged struct {
	Grade string `json:"grade"`
	Words string `json:"words"`
}

type warned struct {
	Name    string `json:"name"`
	Signal  string `json:"signal"`
	Happens string `json:"happens"`
	How     string `json:"how"`
	Instead string `json:"instead"`
	Ask     string `json:"ask"`
}

type sourced struct {
	Name   string `json:"name"`
	Title  string `json:"title"`
	Clause string `json:"clause,omitempty"`
	Date   string `json:"date,omitempty"`
	Mark   string `json:"mark"`
	Says   string `json:"says,omitempty"`
}

func (r *reckoning) json() *reckoned {
	s := r.method.Sheet()
	j := &reckoned{
		Asked:  r.asked.json(),
		Method: s.Name, Takes: map[string]quantified{}, Gives: map[string]quantified{}, Verdicts: map[string]judged{},
		Cautions: []warned{}, References: []sourced{}, Warnings: []string{},
	}
	for _, in := range s.Takes {
		q := quantified{Unit: baseUnit(in.Unit, in.Choice), Why: "not given"}
		if p, typed := r.values[in.Name]; typed {
			q.Text, q.Why = p.Text, p.Value.Why
		}
		j.Takes[in.Name] = q
	}
	for _, t := range r.outcome.Taken() {
		if t.Assumed {
			j.Warnings = append(j.Warnings, t.Input.Fact()+" is not known: the usual value, "+t.Point.Text+", stands in")
		}
		j.Takes[t.Input.Name] = quantify(t.Point.Value, baseUnit(t.Input.Unit, t.Input.Choice), t.Point.Text)
	}
	for _, res := range s.Gives {
		v := r.outcome.Results.Of(res.Name)
		q := quantify(v, baseUnit(res.Unit, res.Words), res.Text(v))
		if fromTo, spreads, ok := method.FromTo(r.method, r.values, res); ok {
			q.Text = strings.TrimSpace(fromTo + " " + res.Unit.Symbol())
			q.Low, q.High = ends(spreads, v.List != nil)
		}
		j.Gives[res.Name] = q
	}
	for _, v := range r.outcome.Verdicts {
		j.Verdicts[v.Name] = judged{v.Grade, v.Words}
	}
	for _, c := range r.outcome.Cautions {
		j.Cautions = append(j.Cautions, warned{c.ID, c.Signal, c.Happens, c.How, c.Instead, c.Ask})
	}
	for _, ref := range r.outcome.References {
		j.References = append(j.References, sourced{ref.ID, ref.Title, ref.Clause, ref.Date, ref.Mark, ref.Says})
	}
	for _, f := range r.faults.All() {
		j.Warnings = append(j.Warnings, f.Error())
	}
	return j
}

func (r *reckoned) write(d desk) error {
	e := json.NewEncoder(d.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(r)
}

// baseUnit is the unit that a value is in; a choice has none.
func baseUnit(u unit.Unit, words []string) string {
	switch {
	case words != nil:
		return ""
	case u.Kind().IsNumber():
		return "number"
	}
	return u.Kind().Base().Symbol()
}

// ends are the ends of a result over the limits of the values, of each member
// where it is a list.
func ends(spreads []method.Spread, list bool) (low, high any) {
	if !list {
		return spreads[0].Low, spreads[0].High
	}
	var lows, highs []float64
	for _, s := range spreads {
		lows, highs = append(lows, s.Low), append(highs, s.High)
	}
	return lows, highs
}

func quantify(v formula.Value, base, text string) quantified {
	q := quantified{Unit: base, Text: text}
	if v.State != formula.Known {
		q.Why = v.Why
		return q
	}
	q.Value = plainValue(v)
	return q
}

// plainValue turns a known value into what JSON can hold; a member of a list
// that is not known is null.
func plainValue(v formula.Value) any {
	switch {
	case v.State != formula.Known:
		return nil
	case v.List != nil:
		members := make([]any, len(v.List))
		for i, m := range v.List {
			members[i] = plainValue(m)
		}
		return members
	case v.Word != "":
		return v.Word
	}
	return v.Number
}
