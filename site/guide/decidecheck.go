package guide

import (
	"strings"

	"bindpost/calc/decide"
	"bindpost/calc/fault"
)

// table is the decision as its conditions and rules alone.
func (d *decision) table() *decide.Table {
	t := &decide.Table{Conditions: len(d.asks), Otherwise: d.last}
	given := map[string]int{}
	for i, r := range d.rules {
		if r.when != nil {
			t.Rules = append(t.Rules, decide.Rule{When: r.when})
		}
		said := r.verdict + " " + r.text
		for _, c := range r.cautions {
			said += " " + c.ID
		}
		if _, known := given[said]; !known {
			given[said] = i
		}
		t.Answers = append(t.Answers, given[said])
	}
	return t
}

// mostSteps is the longest question path that anybody follows.
const mostSteps = 40

// check proves that every case has one answer, or tells where it has not.
func (d *decision) check() {
	t := d.table()
	found := t.Check()
	for _, h := range found.Holes {
		d.fault(fault.At(d.named, "no rule answers this case: %s", d.caseWords(h.When)).
			Want("one answer for every case").
			Fix("rule: %s, answer: what then is so; or an %s line for all cases that are left", d.conditionWords(h.When), otherwiseWord))
	}
	for _, o := range found.Overlaps {
		line, _ := d.reader.text.Position(d.rules[o.First].line.Start)
		d.fault(fault.At(d.rules[o.Second].at, "this rule and the one in line %d both answer this case: %s", line, d.caseWords(o.When)).
			Want("one answer for every case").Fix("name in one of the two the reply that tells them apart"))
	}
	for _, i := range found.Unreachable {
		d.fault(d.unreachable(t, i))
	}
	for i, a := range d.asks {
		if !t.Matters(i) {
			d.fault(fault.At(a.at, "no answer depends on %q", a.name).Fix("take the line out, or name it in a rule"))
		}
	}
	if d.broken {
		return
	}
	if steps := len(t.Path()); steps > mostSteps {
		d.fault(fault.At(d.named, "the questions of this table take %d steps to follow", steps).Want("at most %d", mostSteps).
			Fix("two tables, of which the first says when to go on to the second"))
	}
}

// unreachable is the fault of a rule, or of the otherwise, that nothing is
// left for.
func (d *decision) unreachable(t *decide.Table, i int) *fault.Fault {
	if i == len(t.Rules) {
		return fault.At(d.rules[i].at, "%s can never be reached: the rules answer every case", otherwiseWord).Fix("take the line out")
	}
	when := t.Rules[i].When
	first := t.Answer(t.Rules[i].Some())
	line, _ := d.reader.text.Position(d.rules[first].line.Start)
	f := fault.At(d.rules[i].at, "this rule can never be reached: its case (%s) is answered in line %d already", d.caseWords(when), line)
	if decide.Inside(when, t.Rules[first].When) {
		return f.Fix("take one of the two out, or narrow the one in line %d", line)
	}
	return f.Fix("take this rule out, or narrow those above that answer its cases")
}

// caseWords tells a case in words: each question that it turns on, with the
// reply.
func (d *decision) caseWords(when []decide.Set) string {
	var words []string
	for i, s := range when {
		if s != decide.Any {
			words = append(words, d.asks[i].text+" "+replyWords(s))
		}
	}
	if words == nil {
		return "every case"
	}
	return strings.Join(words, "; ")
}

// conditionWords writes a case as the conditions of a rule.
func (d *decision) conditionWords(when []decide.Set) string {
	var words []string
	for i, s := range when {
		if s != decide.Any {
			words = append(words, d.asks[i].name+" is "+replyWords(s))
		}
	}
	return strings.Join(words, " and ")
}

func replyWords(s decide.Set) string {
	var words []string
	for _, r := range s.Replies() {
		words = append(words, r.String())
	}
	return strings.Join(words, " or ")
}
