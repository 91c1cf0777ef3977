package render

import (
	"fmt"
	"html/template"
	"strings"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// workingsView is what the template of a guide's workings is filled with.
type workingsView struct {
	words
	ID     string
	Strip  strip
	Opens  template.HTML
	Blocks []workedBlock
	Rules  []methodView
	Back   template.HTML
	List   template.HTML
}

// workedBlock is the block of one table.
type workedBlock struct {
	Number template.HTML
	Title  template.HTML
	Text   template.HTML
}

// methodView is the rule of one method.
type methodView struct {
	ID, Head, Asks    string
	Takes, Gives      []template.HTML
	Needs             []string
	Working, Verdicts template.HTML
	Sources           []template.HTML
	CoversNot         template.HTML
	Cases             []template.HTML
	Uncased           template.HTML
}

// Workings makes the page that tells how the tables of a guide were made.
func (r *Renderer) Workings(b *bind.Book, l *bind.Leaf) (Page, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Page{}, err
	}
	told := b.Workings(l)
	d := l.Guide.Docket
	code := string(w.fill("workings-page-code", "code", d.Code))
	v := workingsView{
		words: w, ID: d.Code + "-workings",
		Strip: strip{
			words: w, CodeLabel: w.Say("strip-code"), Code: code,
			QuestionLabel: w.Say("workings"), Question: d.Question, Cells: stripCells(w, b.Edition),
		},
		Opens: w.fill("workings-opens", "page", link(bind.Relative(told.Path, l.Path), asHTML(d.Code+" "+d.Question))),
		Back:  w.fill("workings-back", "page", link(bind.Relative(told.Path, l.Path), asHTML(d.Code+" "+d.Question))),
		List:  w.fill("workings-list", "page", link(bind.Relative(told.Path, bind.WorkingsPath), asHTML(w.Say("workings")))),
	}
	if v.Blocks, err = newSetter(r, w, l).blocks(told); err != nil {
		return Page{}, fmt.Errorf("setting the workings of %s: %w", d.Code, err)
	}
	for _, rule := range told.Rules {
		set, err := w.rule(v.ID, rule)
		if err != nil {
			return Page{}, fmt.Errorf("setting the rule %s: %w", rule.Name, err)
		}
		v.Rules = append(v.Rules, set)
	}
	return r.page("workings", v, pageHead{
		words: w, Edition: b.Edition, Path: told.Path, ID: v.ID, Code: code, Question: d.Question,
	})
}

// blocks sets the block of each table.
func (s *setter) blocks(told *bind.Workings) ([]workedBlock, error) {
	var all []workedBlock
	for _, t := range told.Tables {
		text, err := blockText(t.Pieces())
		if err != nil {
			return nil, err
		}
		all = append(all, workedBlock{
			Number: link(bind.Relative(told.Path, s.leaf.Path)+"#"+t.Number, asHTML(t.Number)),
			Title:  s.tableTitle(t), Text: text,
		})
	}
	return all, nil
}

func (w words) rule(page string, r bind.Rule) (methodView, error) {
	v := methodView{ID: page + "-" + r.Name, Head: r.Name, Asks: r.Asks}
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
	if v.Working, err = ruleText(r.Working); err != nil {
		return v, err
	}
	if v.Verdicts, err = ruleText(r.Verdicts); err != nil {
		return v, err
	}
	for _, s := range r.Sources {
		v.Sources = append(v.Sources, w.fill("workings-source", "name", s.Name, "mark", w.sayOr("mark-", s.Mark), "text", sourceText(s.Source)))
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
	return v, nil
}

// ruleText sets the lines of a rule, one under another.
func ruleText(lines []string) (template.HTML, error) {
	var pieces []guide.Piece
	for i, line := range lines {
		if i > 0 {
			pieces = append(pieces, guide.Piece{Text: "\n"})
		}
		pieces = append(pieces, guide.RulePieces(line)...)
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

// workingsParts lists the workings by topic.
func (r *Renderer) workingsParts(w words, b *bind.Book) []listPart {
	var parts []listPart
	for _, topic := range b.Topics {
		part := listPart{Head: asHTML(w.topic(topic))}
		for _, l := range topic.Leaves {
			if l.HasWorkings() {
				part.Entries = append(part.Entries, listEntry{Code: l.Guide.Docket.Code, Title: link(l.WorkingsPath(), asHTML(l.Guide.Docket.Question))})
			}
		}
		if part.Entries != nil {
			parts = append(parts, part)
		}
	}
	return parts
}
