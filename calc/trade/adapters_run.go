package trade

import (
	"slices"
	"strconv"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/record"
	"bindpost/calc/wiring"
)

// asked is one question put to the method: two connectors of a catalogue, and
// the way between them.
type asked struct {
	by        *adapters
	catalogue *Catalogue
	from, to  *wiring.Connector
	way       wiring.Way
	found     bool
	untold    string       // the fact that is missing
	fault     *fault.Fault // a connector that the catalogue does not have
}

// ask finds the way between the connectors that were typed.
func (a *adapters) ask(v method.Values) asked {
	q := asked{by: a, catalogue: a.catalogues[0]}
	if p, ok := v["catalogue"]; ok && p.Known() {
		i := slices.IndexFunc(a.catalogues, func(c *Catalogue) bool { return c.Name == p.Value.Word })
		q.catalogue = a.catalogues[i]
	}
	q.from, q.to = q.end(a, v, "from"), q.end(a, v, "to")
	if q.from != nil && q.to != nil {
		q.way, q.found = q.catalogue.Find(q.from.Name, q.to.Name)
	}
	return q
}

// end returns the connector that was typed for an input, nil where there is
// none.
func (q *asked) end(a *adapters, v method.Values, input string) *wiring.Connector {
	p, typed := v[input]
	if !typed || !p.Known() {
		q.untold = a.says.say("not known", "fact", a.sheet.Input(input).Fact())
		return nil
	}
	c := q.catalogue.Connector(p.Value.Word)
	if c == nil && q.fault == nil {
		q.fault = fault.At(p.Place, "the catalogue %s has no %q", q.catalogue.Name, p.Value.Word).
			Want("a connector of that catalogue, or another catalogue")
	}
	return c
}

// Run implements [method.Method].
func (a *adapters) Run(v method.Values, results ...string) *method.Outcome {
	q := a.ask(v)
	taken, _ := takenOf(a.sheet, v)
	o := method.NewOutcome(taken)
	for _, r := range a.sheet.Gives {
		if len(results) == 0 || slices.Contains(results, r.Name) {
			o.Results.Set(r.Name, q.result(r.Name))
		}
	}
	o.Faults.Add(q.fault)
	if q.fault == nil && q.untold == "" {
		a.sources(o, q.named())
		if q.found {
			a.source(o, fewestParts)
		}
	}
	return o
}

// result returns one result of the question.
func (q asked) result(name string) formula.Value {
	switch {
	case q.fault != nil:
		return formula.FailedAt(q.fault)
	case q.untold != "":
		return formula.CannotTell(q.untold)
	case name == "way":
		return formula.WordOf(q.kind())
	case !q.found:
		return formula.NoValue(q.why())
	case name == "count":
		return formula.Quantity(float64(len(q.way.Parts)))
	}
	parts := make([]formula.Value, len(q.way.Parts)) // not nil: a list of none is a list
	for i, p := range q.way.Parts {
		parts[i] = formula.WordOf(p.Name)
	}
	return formula.Value{List: parts}
}

// kind returns the word for the way.
func (q asked) kind() string {
	switch {
	case !q.found:
		return wayNone
	case len(q.way.Parts) == 0:
		return wayDirect
	case q.way.Active:
		return wayActive
	}
	return wayPassive
}

// why says why no way leads there, and what would help.
func (q asked) why() string {
	if r := q.catalogue.why(q.from, q.to); r != nil {
		return q.by.says.say("helps", "why", r.why, "instead", r.instead)
	}
	return q.say("no part")
}

// named returns what the entries of the way name, or those of the reason for
// which there is none.
func (q asked) named() []named {
	c := q.catalogue
	if !q.found {
		if r := c.why(q.from, q.to); r != nil {
			return []named{r.named}
		}
		return nil
	}
	all := []named{c.always}
	if q.way.Active {
		all = append(all, c.active)
	}
	all = append(all, c.connector[q.from])
	for _, p := range q.way.Parts {
		all = append(all, c.part[p])
	}
	return append(all, c.connector[q.to])
}

// sources adds references and cautions, each once and in order.
func (a *adapters) sources(o *method.Outcome, entries []named) {
	for _, e := range entries {
		for _, n := range e.references {
			a.source(o, n.Text)
		}
		for _, n := range e.cautions {
			if c, ok := a.library.Caution(n.Text); ok && !slices.Contains(o.Cautions, c) {
				o.Cautions = append(o.Cautions, c)
			}
		}
	}
}

func (a *adapters) source(o *method.Outcome, id string) {
	if r, ok := a.library.Reference(id); ok && !slices.Contains(o.References, r) {
		o.References = append(o.References, r)
	}
}

// Work implements [method.Method]: a step for each part, and the result.
func (a *adapters) Work(v method.Values, results ...string) [][]method.Worked {
	all, q := make([][]method.Worked, len(results)), a.ask(v)
	for i, result := range results {
		all[i] = a.work(q, result)
	}
	return all
}

func (a *adapters) work(q asked, result string) []method.Worked {
	value := q.result(result)
	if value.State == formula.Failed || value.State == formula.Unknown {
		return nil
	}
	var steps []method.Worked
	for i, p := range q.way.Parts {
		steps = append(steps, a.step(method.Worked{
			Name: "part_" + strconv.Itoa(i+1), Borrowed: a.between(p), Value: formula.WordOf(p.Name), Text: a.sheet.Result("parts").Printed(p.Name),
		}, q.catalogue.part[p].references))
	}
	last := method.Worked{Name: result, Borrowed: q.rule(result), Value: value, Text: a.sheet.Result(result).Text(value)}
	return append(steps, a.step(last, nil))
}

// step completes a step with what all steps share.
func (a *adapters) step(w method.Worked, references []*record.Node) method.Worked {
	w.Method = a.sheet.Name
	w.Given = func(string) (string, bool) { return "", false }
	w.Symbol = func(string) string { return "" }
	o := &method.Outcome{}
	a.sources(o, []named{{references: references}})
	w.References = o.References
	return w
}

// between says what a part goes between, and what is to be heeded.
func (a *adapters) between(p *wiring.Part) string {
	s := a.says.say("between", "from", a.printed(p.From), "to", a.printed(p.To))
	if p.Turns != "" {
		s = a.says.say("by", "between", s, "turns", p.Turns)
	}
	if p.Note != "" {
		s = a.says.say("note", "between", s, "note", p.Note)
	}
	return s
}

// printed is the name of a connector as it is printed.
func (a *adapters) printed(connector string) string {
	if from := a.sheet.Input("from"); slices.Contains(from.Choice, connector) {
		return from.Printed(connector)
	}
	return a.sheet.Input("to").Printed(connector)
}

// say says a sentence about the two connectors that were asked for.
func (q asked) say(key string) string {
	return q.by.says.say(key, "catalogue", q.catalogue.Name, "from", q.by.printed(q.from.Name), "to", q.by.printed(q.to.Name))
}

// rule says how a result comes of the parts.
func (q asked) rule(result string) string {
	switch {
	case !q.found:
		return q.say("no chain")
	case result == "count":
		return q.by.says.say("count")
	case result == "way" && q.way.Active:
		return q.by.says.say("active")
	case result == "way":
		return q.by.says.say("passive")
	}
	return q.by.says.say("order")
}
