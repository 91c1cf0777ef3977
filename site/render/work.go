package render

import (
	"html/template"
	"strconv"
	"strings"

	"bindpost/site/guide"
)

// workView is one worked line as its template takes it.
type workView struct {
	ID    string
	Title template.HTML
	More  string // said where a screen is too narrow for it
	Steps []stepView
}

// stepView is one step: a name, and below each other the rule, the rule with
// numbers put in, and the result.
type stepView struct {
	Name  string
	Long  bool // its formula wants the whole width of the paper
	Lines []template.HTML
}

// work sets a worked line of a table.
func (s *setter) work(t *guide.Table, i int) workView {
	w := t.Work[i]
	v := workView{ID: t.Number + "-W" + strconv.Itoa(i+1), Title: asHTML(s.Say("work-plain")), More: s.Say("work-more")}
	if w.Point != "" {
		v.Title = s.fill("work", "point", s.computed(w.Point))
	}
	for _, step := range w.Steps {
		v.Steps = append(v.Steps, s.step(t, step))
	}
	return v
}

func (s *setter) step(t *guide.Table, step guide.WorkStep) stepView {
	v := stepView{Name: strings.ReplaceAll(step.Name, "_", " ")}
	v.Long = max(len([]rune(step.RuleText)), len([]rune(step.WithText))) > longFormula
	if step.RuleText != step.Result {
		v.add(s.equals(s.formula(step.Rule)))
	}
	if step.With != "" && step.WithText != step.RuleText {
		v.add(s.equals(s.formula(step.With)))
	}
	result := s.equals(s.comesTo(step))
	if len(step.Result) > longText && !strings.ContainsAny(step.Result, "0123456789") {
		result = `<span class="words">` + result + `</span>`
	}
	if len(step.Sources) > 0 {
		var named []template.HTML
		for _, i := range step.Sources {
			named = append(named, link("#"+sourceID(t, i), s.fill("source", "number", strconv.Itoa(i+1))))
		}
		result += ` <span class="by">` + s.fill("work-sources", "sources", s.joined(named)) + `</span>`
	}
	v.add(result)
	return v
}

// longText is how long a result in words is before it may run over several
// lines: a formula stays on one, and moves sideways.
const longText = 60

// longFormula is how many signs a formula may have before it does not stand
// beside the name of its step on paper.
const longFormula = 30

// comesTo is what a step comes to, and how it was rounded.
func (s *setter) comesTo(step guide.WorkStep) template.HTML {
	if step.Before == "" {
		return s.computed(step.Result)
	}
	key := "work-rounded"
	if step.Round != "" {
		key = "work-rounded-" + step.Round
	}
	return s.fill(key, "value", s.computed(step.Before), "figure", s.computed(step.Result))
}

func (v *stepView) add(line template.HTML) { v.Lines = append(v.Lines, line) }

// equals puts the sign of equality before one side of a step.
func (s *setter) equals(side template.HTML) template.HTML {
	return `<span class="equals">` + heard("=", s.Say("work-equals")+" ") + `</span> <span class="side">` + side + `</span>`
}
