package render

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"bindpost/site/guide"
)

// workView is one worked line as its template takes it.
type workView struct {
	ID    string
	Title template.HTML
	Steps []stepView
}

// stepView is one step: a name, and below each other the rule, the rule with
// numbers put in, and the result.
type stepView struct {
	Name  string
	Lines []template.HTML
}

// work sets a worked line of a table.
func (s *setter) work(t *guide.Table, i int) workView {
	w := t.Work[i]
	v := workView{ID: t.Number + "-W" + strconv.Itoa(i+1), Title: asHTML(s.Say("work-plain"))}
	if w.Point != "" {
		v.Title = s.fill("work", "point", s.computed(w.Point))
	}
	for i, step := range w.Steps {
		if !slices.ContainsFunc(w.Steps[:i], func(x guide.WorkStep) bool { return sameRule(x, step) }) {
			v.Steps = append(v.Steps, s.step(t, step, results(w.Steps[i:], step)))
		}
	}
	return v
}

// results returns what one step comes to: once with the digits that the next
// step needs and, where it is shown in the table too, as it is shown there.
// The one with more digits comes first.
func results(steps []guide.WorkStep, step guide.WorkStep) []string {
	var all []string
	for _, other := range steps {
		if sameRule(step, other) && !slices.Contains(all, other.Result) {
			all = append(all, other.Result)
		}
	}
	slices.SortStableFunc(all, func(x, y string) int { return len(y) - len(x) })
	return all
}

// sameRule reports whether two steps work the same rule with the same numbers.
func sameRule(x, y guide.WorkStep) bool {
	return x.Name == y.Name && x.RuleText == y.RuleText && x.WithText == y.WithText
}

func (s *setter) step(t *guide.Table, step guide.WorkStep, results []string) stepView {
	v := stepView{Name: strings.ReplaceAll(step.Name, "_", " ")}
	if step.RuleText != step.Result {
		v.add(s.equals(template.HTML(step.Rule)))
	}
	if step.With != "" && step.WithText != step.RuleText {
		v.add(s.equals(template.HTML(step.With)))
	}
	for _, r := range results {
		v.add(s.equals(s.computed(r)))
	}
	if len(step.Sources) > 0 {
		var named []template.HTML
		for _, i := range step.Sources {
			named = append(named, link("#"+sourceID(t, i), s.fill("source", "number", strconv.Itoa(i+1))))
		}
		v.Lines[len(v.Lines)-1] += ` <span class="by">` + s.fill("work-sources", "sources", s.joined(named)) + `</span>`
	}
	return v
}

func (v *stepView) add(line template.HTML) { v.Lines = append(v.Lines, line) }

// equals puts the sign of equality before one side of a step.
func (s *setter) equals(side template.HTML) template.HTML {
	return `<span class="equals">` + heard("=", s.Say("work-equals")+" ") + `</span> <span class="side">` + side + `</span>`
}
