package render

import (
	"html/template"

	"bindpost/site/guide"
)

// The phrases of what was compared, by the rule: where it holds, where it does
// not, and where a fact is missing. Rules that hold and say nothing are passed
// over.
var comparedKeys = map[string][3]string{
	"direction": {"", "hookup-direction-bad", ""},
	"twice":     {"", "hookup-twice-bad", ""},
	"sides":     {"", "hookup-sides-bad", ""},
	"stages":    {"hookup-stages", "hookup-stages-bad", "hookup-stages-unknown"},
	"level":     {"hookup-level", "hookup-level-bad", "hookup-level-unknown"},
	"ends":      {"hookup-ends", "hookup-ends-bad", "hookup-ends-unknown"},
	"bridging":  {"hookup-bridging", "hookup-bridging-bad", "hookup-bridging-unknown"},
	"wanted":    {"hookup-wanted", "hookup-wanted-bad", "hookup-wanted-unknown"},
	"load":      {"hookup-load", "hookup-load-bad", "hookup-load-unknown"},
	"howl":      {"hookup-howl", "hookup-howl-bad", ""},
	"ask":       {"", "hookup-ask-bad", ""},
}

// lines tells what each joint was held against, and what came of it.
func (t teller) lines() []template.HTML {
	var all []template.HTML
	for _, l := range t.hookup.Lines {
		var told []template.HTML
		for _, c := range l.Compared {
			if what := t.compared(c); what != "" {
				told = append(told, what)
			}
		}
		all = append(all, t.fill("hookup-line", "steps", t.stepsOf(l), "grade", "<b>"+asHTML(t.lineGrade(l))+"</b>", "compared", t.sentences(told)))
	}
	return all
}

// lineGrade says what came of one joint. One that fits, in a drawing that must
// not be connected, fits by itself only.
func (t teller) lineGrade(l guide.HookupLine) string {
	if l.Grade == "fits" && t.hookup.Grade == "do not connect" {
		return t.Say("hookup-fits-alone")
	}
	return t.sayOr("grade-", l.Grade)
}

// sentences puts clauses one behind another, each a sentence.
func (t teller) sentences(all []template.HTML) template.HTML {
	var text template.HTML
	for i, one := range all {
		if i > 0 {
			text += " "
		}
		text += capitalHTML(one) + "."
	}
	return text
}

// stepsOf names the leads of a line by their numbers.
func (t teller) stepsOf(l guide.HookupLine) template.HTML {
	first, last := stepNumber(l.Steps[0]), stepNumber(l.Steps[len(l.Steps)-1])
	if first == last {
		return t.fill("hookup-lead", "number", first)
	}
	return t.fill("hookup-leads", "first", first, "last", last)
}

// compared tells one rule, "" where it holds and has nothing to say.
func (t teller) compared(c guide.HookupCompared) template.HTML {
	keys, key := comparedKeys[c.Rule], ""
	switch {
	case c.Grade == "fits":
		key = keys[0]
	case !c.Known || c.Rule == "stages" && c.Grade == "doubtful":
		key = keys[2]
	default:
		key = keys[1]
	}
	if c.Rule == "level" && c.Grade == "fits" && c.Have != c.Want {
		key = "hookup-level-turned"
	}
	if key == "" {
		key = keys[1]
		if c.Grade == "fits" || key == "" {
			return ""
		}
	}
	told := t.fill(key, "have", t.computed(c.Have), "want", t.computed(c.Want), "count", t.computed(stageCount(c)))
	if c.Usual {
		told = t.fill("hookup-usual", "compared", told)
	}
	return told
}

func stageCount(c guide.HookupCompared) string {
	const digits = "0123456789"
	if c.Count < 0 || c.Count >= len(digits) {
		return ""
	}
	return digits[c.Count : c.Count+1]
}

// keys explains the lines and signs that a drawing has.
func (t teller) keys() []template.HTML {
	var has [5]bool
	for _, s := range t.hookup.Steps {
		switch class := leadClass(s); {
		case s.Ground:
			has[2] = true
		case s.Side == "right":
			has[0] = true
		case s.Side == "left":
			has[1] = true
		case class != "":
			has[3] = true
		}
		has[4] = has[4] || s.Speaker
	}
	all := []template.HTML{asHTML(t.Say("hookup-key"))}
	for i, key := range []string{"hookup-key-right", "hookup-key-left", "hookup-key-ground", "hookup-key-one", "hookup-key-speaker"} {
		if has[i] {
			all = append(all, asHTML(t.Say(key)))
		}
	}
	return all
}
