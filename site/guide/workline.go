package guide

import (
	"fmt"
	"html"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// readWorks reads the points for which the working is shown.
func (b *block) readWorks() {
	for _, p := range b.workLines {
		if len(b.sheet.Gives) == 0 {
			b.fault(fault.At(p, "%s gives a verdict and has no working to show", b.sheet.Name).Fix("take this line out"))
		} else if when := b.condition(p); when != nil {
			b.works = append(b.works, picked{what: "this working", when: when, at: p})
		}
	}
}

// work makes the worked line of each result that the table shows, a step that
// two of them share once.
func (b *block) work(l picked) (Work, bool) {
	p, row, column := b.single(l)
	if p == nil {
		return Work{}, false
	}
	w := Work{Point: strings.Join(b.whereTexts(row, column), ", "), Values: p.Values()}
	var names []string
	for _, r := range b.results {
		names = append(names, r.Name)
	}
	done := map[workKey]int{}
	for n, steps := range b.method.Work(p.Values().Middle(), names...) {
		for i, step := range steps {
			if i == len(steps)-1 {
				step.Text = b.asShown(b.results[n], p, row, column)
			}
			b.addStep(&w, step, done)
		}
	}
	return w, len(w.Steps) > 0
}

// workKey tells the steps of a working apart.
type workKey struct{ method, name, value string }

// addStep adds a step that is not there yet. A result on which another rests
// stands once: with what it comes to, and rounded as its own cell is.
func (b *block) addStep(w *Work, step method.Worked, done map[workKey]int) {
	key := workKey{step.Method, step.Name, fmt.Sprint(step.Value)}
	at, twice := done[key]
	if !twice {
		done[key] = len(w.Steps)
		w.Steps = append(w.Steps, b.step(step))
		return
	}
	if known := &w.Steps[at]; step.Before != "" && known.Before == "" {
		known.Result, known.Before, known.Round = step.Text, step.Before, step.Round.Way()
	}
}

// asShown is a result as its cell prints it, which a limit may have given
// digits, with its unit.
func (b *block) asShown(r *method.Result, p *point, row, column int) string {
	v := p.outcome.Results.Of(r.Name)
	if b.limited { // the working is that of the middle
		return r.Text(v)
	}
	text, shown := r.Text(v), b.numberOf(r, p, row, column)
	if shown == "" {
		return text
	}
	return strings.Replace(text, r.Number(v), shown, 1)
}

// step sets one step of a worked line.
func (b *block) step(s method.Worked) WorkStep {
	w := WorkStep{Name: s.Name, Result: s.Text}
	if s.Before != s.Text {
		w.Before, w.Round = s.Before, s.Round.Way()
	}
	for _, r := range s.References {
		w.Sources = append(w.Sources, b.source(r))
	}
	if s.Rule == nil {
		w.RuleText, w.Rule = s.Borrowed, html.EscapeString(s.Borrowed)
		return w
	}
	w.RuleText = formula.Text(s.Rule)
	w.Rule = formula.MathML(s.Rule, formula.MathOptions{Symbol: s.Symbol})
	if with := formula.TextWith(s.With, s.Given); with != w.RuleText && with != s.Text {
		w.WithText = with
		w.With = formula.MathML(s.With, formula.MathOptions{Symbol: s.Symbol, Number: s.Given})
	}
	return w
}

// Comes is what the step comes to, in words where it was rounded.
func (w WorkStep) Comes() string {
	switch {
	case w.Before == "":
		return w.Result
	case w.Round == "":
		return w.Before + ", rounded: " + w.Result
	}
	return w.Before + ", rounded " + w.Round + ": " + w.Result
}

// source returns the place of a reference among the table's sources, from 0,
// and adds it where it is not there yet.
func (b *block) source(r *method.Reference) int {
	i := slices.IndexFunc(b.table.Sources, func(s *Source) bool { return s.ID == r.ID })
	if i < 0 {
		b.table.Sources = append(b.table.Sources, &r.Citation)
		i = len(b.table.Sources) - 1
	}
	return i
}
