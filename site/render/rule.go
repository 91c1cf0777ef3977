package render

import (
	"html/template"
	"strings"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// methodView is what the template of the rule of a method is filled with.
type methodView struct {
	words
	ID, Name          string
	Strip             strip
	Takes, Gives      []template.HTML
	Needs             []string
	Working, Verdicts template.HTML
	Borrows           template.HTML
	Where             pieces
	Sources           []template.HTML
	CoversNot         template.HTML
	Cases             []template.HTML
	Uncased           template.HTML
	List              template.HTML
}

// Rule drafts the page of the rule of a method.
func (r *Renderer) Rule(b *bind.Book, rule bind.Rule) (Draft, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Draft{}, err
	}
	path, code := bind.RulePath(rule.Name), w.Say("workings-rule")
	return r.draft("rule", pageHead{
		words: w, Edition: b.Edition, Path: path, ID: ruleID(rule), Code: code, Question: rule.Asks, RunsOn: w.Say("workings-rule-list"),
	}, nil, func(*asked) (any, error) {
		v, err := w.rule(rule)
		v.Strip = strip{
			words: w, CodeLabel: w.Say("strip-code"), Code: code,
			QuestionLabel: rule.Name, Question: rule.Asks, Cells: stripCells(w, b.Edition),
		}
		v.List = w.fill("workings-list", "page", link(bind.Relative(path, bind.WorkingsPath), asHTML(w.Say("workings"))))
		return v, err
	}), nil
}

// ruleID is the id of the page of a rule.
func ruleID(r bind.Rule) string { return "rule-" + r.Name }

// rule sets what is told of a method.
func (w words) rule(r bind.Rule) (methodView, error) {
	v := methodView{words: w, ID: ruleID(r), Name: r.Name}
	for _, in := range r.Takes {
		v.Takes = append(v.Takes, w.ruleValue(in))
	}
	for _, res := range r.Gives {
		v.Gives = append(v.Gives, w.ruleValue(res))
	}
	for _, need := range r.Needs {
		v.Needs = append(v.Needs, sentence(need))
	}
	var err error
	if v.Working, err = ruleText(r, r.Working); err != nil {
		return v, err
	}
	if v.Verdicts, err = ruleText(r, r.Verdicts); err != nil {
		return v, err
	}
	for _, s := range r.Sources {
		v.Sources = append(v.Sources, w.fill("workings-source", "name", "<b>"+asHTML(s.Name)+"</b>", "mark", w.sayOr("mark-", s.Mark), "text", sourceText(&s.Source)))
	}
	if r.CoversNot != "" {
		v.CoversNot = w.fill("covers-not", "what", strings.TrimSuffix(r.CoversNot, "."))
	}
	for _, c := range r.Cases {
		v.Cases = append(v.Cases, w.fill("workings-case",
			"given", w.computed(strings.Join(c.Given, ", ")), "wants", w.computed(strings.Join(c.Wants, ", ")), "where", c.Where.Title))
	}
	if r.Cases == nil && r.Uncased != "" {
		v.Uncased = w.fill("workings-uncased", "why", strings.TrimSuffix(r.Uncased, "."))
	}
	v.Where, v.Borrows = w.leading(r)
	return v, nil
}

// leading returns the ways from a rule to what rests on it and to what it rests
// on.
func (w words) leading(r bind.Rule) (where pieces, borrows template.HTML) {
	here := bind.RulePath(r.Name)
	var rules []template.HTML
	for _, name := range r.Borrows {
		rules = append(rules, link(bind.Relative(here, bind.RulePath(name)), asHTML(name)))
	}
	if r.Where != nil {
		where = w.filling("workings-where", "tables", w.joining(len(r.Where), func(i int) template.HTML {
			return link(bind.Relative(here, r.Where[i].Path), asHTML(r.Where[i].Code))
		}))
	}
	if rules != nil {
		borrows = w.fill("workings-borrows", "rules", w.joined(rules))
	}
	return where, borrows
}

// ruleText sets the lines of a rule, one under another. What it takes, and what
// its lines name, are names in all of them.
func ruleText(r bind.Rule, lines []string) (template.HTML, error) {
	var pieces []guide.Piece
	names := map[string]bool{}
	for _, in := range r.Takes {
		names[in.Name] = true
	}
	for _, line := range r.Working {
		if name, _, found := strings.Cut(line, " = "); found {
			names[name] = true
		}
	}
	for i, line := range lines {
		if i > 0 {
			pieces = append(pieces, guide.Piece{Text: "\n"})
		}
		pieces = append(pieces, guide.RulePieces(line, names)...)
	}
	return blockText(pieces)
}

// ruleValue sets a value that a rule takes or gives.
func (w words) ruleValue(v bind.RuleValue) template.HTML {
	set := w.fill("workings-value", "name", "<b>"+asHTML(v.Name)+"</b>", "says", w.computed(v.Says))
	more := func(text template.HTML) { set = w.fill("workings-more", "value", set, "more", text) }
	if v.Sense != "" {
		more(asHTML(v.Sense))
	}
	switch {
	case v.From != "":
		more(w.fill("workings-range", "from", w.computed(v.From), "to", w.computed(v.To)))
	case v.Choice != nil:
		more(w.computed(strings.Join(v.Choice, " / ")))
	case v.Unit != "":
		more(w.fill("workings-unit", "unit", v.Unit))
	}
	if v.Usually != "" {
		more(w.fill("workings-usually", "value", w.computed(v.Usually)))
	}
	if v.Round != "" {
		more(asHTML(w.Say("workings-round-" + v.Round)))
	}
	return set
}
