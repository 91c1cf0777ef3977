package render

import (
	"fmt"
	"html/template"
	"slices"

	"bindpost/site/bind"
)

// workingsView is what the template of a guide's workings is filled with.
type workingsView struct {
	words
	ID     string
	Strip  strip
	Opens  template.HTML
	Blocks []workedBlock
	Rules  template.HTML // the way to each
	Back   template.HTML
	List   template.HTML
}

// workedBlock is the block of one table.
type workedBlock struct {
	Number template.HTML
	Title  template.HTML
	Text   template.HTML
}

// Workings makes the page that tells how the tables of a guide were made.
func (r *Renderer) Workings(b *bind.Book, l *bind.Leaf) (Page, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Page{}, err
	}
	return r.workingsPage(b, newSetter(r, w, l))
}

func (r *Renderer) workingsPage(b *bind.Book, s *setter) (Page, error) {
	w, l := s.words, s.leaf
	told, d := b.Workings(l), l.Guide.Docket
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
	var err error
	if v.Blocks, err = s.blocks(told); err != nil {
		return Page{}, fmt.Errorf("setting the workings of %s: %w", d.Code, err)
	}
	var rules []template.HTML
	for _, name := range told.Rules {
		rules = append(rules, link(bind.Relative(told.Path, bind.RulePath(name)), asHTML(name)))
	}
	if rules != nil {
		v.Rules = w.fill("workings-rules", "rules", w.joined(rules))
	}
	return r.draft("workings", pageHead{
		words: w, Edition: b.Edition, Path: told.Path, ID: v.ID, Code: code, Question: d.Question,
	}, nil, func(*asked) (any, error) { return v, nil }).Set()
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

// workingsParts lists the workings by topic.
func (r *Renderer) workingsParts(w words, b *bind.Book) []listPart {
	var parts []listPart
	for _, topic := range b.Topics {
		parts = append(parts, listPart{Head: asHTML(w.topic(topic))})
		for _, l := range topic.Leaves {
			if l.HasWorkings() {
				add(parts, func() entry {
					return entry{Code: l.Guide.Docket.Code, Title: inOne(link(l.WorkingsPath(), asHTML(l.Guide.Docket.Question)))}
				})
			}
		}
	}
	parts = append(parts, listPart{Head: asHTML(w.Say("workings-rule-list"))})
	for _, rule := range b.Rules() {
		name, asks := rule.Name, rule.Asks // without the tables that were made with it
		add(parts, func() entry {
			return entry{Title: inOne(link(bind.RulePath(name), asHTML(name))), Lines: []pieces{inOne(asHTML(asks))}}
		})
	}
	return slices.DeleteFunc(parts, listPart.empty)
}
