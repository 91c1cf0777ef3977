package guide

import (
	"slices"
	"strings"

	"bindpost/calc/decide"
	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// readRules reads lines of the form: conditions, answer: words.
func (d *decision) readRules() {
	for _, p := range d.ruleLines {
		if len(d.rules) == mostRules {
			d.fault(fault.At(p, "this table has more than %d rules", mostRules).Fix("two tables, of which the first says when to go on to the second"))
			return
		}
		conditions, rest, comma := cutPlace(p, ",")
		r := ruling{line: p, at: conditions, when: make([]decide.Set, len(d.asks))}
		for i := range r.when {
			r.when[i] = decide.Any
		}
		if !d.conditions(&r) {
			d.unsure = true
			continue
		}
		if !comma {
			d.fault(fault.At(p, "this rule has no answer").Want("%s", d.shape(&r)))
			continue
		}
		if d.clauses(&r, rest) {
			d.rules = append(d.rules, r)
		}
	}
}

// readOtherwise reads the answer of all cases that no rule names.
func (d *decision) readOtherwise() {
	for _, p := range d.lastLines {
		r := ruling{line: p, at: p}
		word, _, colon := cutPlace(p, ":")
		if before, after, found := cutPlace(p, ", "+answerClause+":"); found && !isClause(word.String()) {
			d.fault(fault.At(before, "%s holds in all cases that are left, and has no conditions", otherwiseWord).Fix("%s: %s", otherwiseWord, after))
			return
		}
		if !colon || !isClause(word.String()) {
			r.text, r.answer = p.String(), d.sentence(p, "answer")
		} else if !d.clauses(&r, p) {
			return
		}
		d.rules, d.last = append(d.rules, r), true
	}
}

// cutPlace parts a place at the first of a mark.
func cutPlace(p fault.Place, mark string) (before, after fault.Place, found bool) {
	s := p.String()
	i := strings.Index(s, mark)
	if i < 0 {
		return p, fault.Place{}, false
	}
	return p.Sub(0, i).Trim(), p.Sub(i+len(mark), len(s)).Trim(), true
}

// conditions reads what a rule asks: phono is yes and preamp is no.
func (d *decision) conditions(r *ruling) bool {
	named := map[string]bool{}
	for _, p := range partedBy(r.at, " and ") {
		name, replies, is := cutPlace(p, " is ")
		if !is {
			d.fault(fault.At(p, "this does not say which reply it is for").Want("%s", d.shape(r)))
			return false
		}
		at := d.ask(name.String())
		switch {
		case at < 0:
			if !d.askLost {
				d.fault(d.noAsk(name))
			}
			return false
		case named[name.String()]:
			d.fault(fault.At(name, "%q stands twice in this rule", name).
				Fix("name it once, with every reply that is meant joined by or"))
			return false
		}
		named[name.String()] = true
		set, f := replySet(replies)
		if f != nil {
			d.fault(f)
			return false
		}
		r.when[at] = set
	}
	return true
}

// noAsk is the fault of a condition that no line asks.
func (d *decision) noAsk(at fault.Place) *fault.Fault {
	var all []string
	for _, a := range d.asks {
		all = append(all, a.name)
	}
	f := fault.At(at, "no question of this table is called %q", at)
	if len(all) > 0 {
		f.Want("one of: %s", strings.Join(all, ", "))
	}
	if near := fault.Near(at.String(), all); near != "" {
		return f.Fix("%s", near)
	}
	return f.Fix("ask: %s = the question; or one of those that stand", at)
}

// replySet reads replies: "no or don't know".
func replySet(p fault.Place) (decide.Set, *fault.Fault) {
	var set decide.Set
	all := decide.Any.Replies()
	for _, part := range partedBy(p, " or ") {
		word := strings.ToLower(strings.ReplaceAll(part.String(), "’", "'"))
		found := false
		var words []string
		for _, r := range all {
			words = append(words, r.String())
			if r.String() == word {
				set, found = set|decide.SetOf(r), true
			}
		}
		if found {
			continue
		}
		f := fault.At(part, "%q is no reply", part).Want("%s", strings.Join(words, ", ")+", or several of them joined by or")
		if not, ok := strings.CutPrefix(word, "not "); ok && (not == "yes" || not == "no") {
			word = map[string]string{"yes": "no or don't know", "no": "yes or don't know"}[not]
			return 0, f.Fix("%s", word)
		}
		if near := fault.Near(word, words); near != "" {
			f.Fix("%s", near)
		}
		return 0, f
	}
	return set, nil
}

// partedBy parts a place at every word that joins.
func partedBy(p fault.Place, word string) []fault.Place {
	var parts []fault.Place
	for {
		before, after, found := cutPlace(p, word)
		parts = append(parts, before)
		if !found {
			return parts
		}
		p = after
	}
}

// The clauses that may follow the conditions of a rule, in this order.
const (
	verdictClause = "verdict"
	answerClause  = "answer"
)

func isClause(word string) bool {
	return word == verdictClause || word == cautionsWord || word == answerClause
}

// clauses reads what follows the conditions of a rule: verdict, cautions, and
// the answer, which goes to the line's end.
func (d *decision) clauses(r *ruling, p fault.Place) bool {
	for {
		word, rest, colon := cutPlace(p, ":")
		if colon && word.String() == answerClause && rest.String() != "" {
			r.text, r.answer = rest.String(), d.sentence(rest, "answer")
			return r.answer != nil
		}
		if !colon || !isClause(word.String()) || rest.String() == "" {
			d.fault(d.noAnswer(r, p))
			return false
		}
		value, after, comma := cutPlace(rest, ",")
		if !d.clause(r, word.String(), value) {
			return false
		}
		if !comma {
			d.fault(fault.At(value, "the answer is missing after this").Want("a comma, and answer: what then is so"))
			return false
		}
		p = after
	}
}

// noAnswer is the fault of a rule in which something else stands where the
// answer should.
func (d *decision) noAnswer(r *ruling, p fault.Place) *fault.Fault {
	f := fault.At(p, "the answer is missing here").Want("%s", d.shape(r))
	word, _, _ := cutPlace(p, ",")
	switch _, caution := d.reader.kit.Library.Caution(word.String()); {
	case caution:
		f.Want("cautions joined by and, a comma, then %s", answerShape)
	case strings.Contains(p.String(), " is "):
		f.Want("the conditions joined by and, a comma, then %s", answerShape)
	}
	return f
}

const answerShape = "answer: what then is so"

// shape is how a rule, or the otherwise, of this table is written.
func (d *decision) shape(r *ruling) string {
	if r.when == nil || len(d.asks) == 0 {
		return answerShape
	}
	return d.asks[0].name + " is yes, " + answerShape
}

// clause reads one clause before the answer.
func (d *decision) clause(r *ruling, word string, value fault.Place) bool {
	if word == cautionsWord {
		for _, p := range partedBy(value, " and ") {
			if c := d.reader.caution(p); c != nil {
				r.cautions = append(r.cautions, c)
			} else {
				d.broken = true
			}
		}
		return true
	}
	grades := slices.DeleteFunc(method.Grades(), func(g string) bool { return g == method.CannotTell })
	for _, g := range grades {
		if g == value.String() {
			r.verdict = g
			return true
		}
	}
	d.fault(fault.At(value, "%q is no verdict", value).Want("one of: %s", strings.Join(grades, ", ")))
	return false
}
