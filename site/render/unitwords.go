package render

import (
	"html/template"
	"regexp"
	"slices"
	"strings"
	"sync"

	"bindpost/calc/unit"
)

// unitKey heads the keys of the words of which spoken units are made. By itself
// it stands in every language but the first.
const unitKey = "unit-"

// Spoken says a unit in the words of the language.
func (w words) Spoken(u unit.Unit) string { return w.unitWords(u.Spoken()) }

// unitWord finds the words of which spoken units are made, the longest first,
// behind a prefix or none.
var unitWord = sync.OnceValue(func() *regexp.Regexp {
	words := slices.Clone(unit.SpokenWords())
	slices.SortStableFunc(words, func(a, b string) int { return len(b) - len(a) })
	for i, word := range words {
		words[i] = regexp.QuoteMeta(word)
	}
	return regexp.MustCompile(`\b(` + strings.Join(unit.SpokenPrefixes(), "|") + `)?(` + strings.Join(words, "|") + `)\b`)
})

// unitWords puts the language's words for units in the place of those that a
// text for listeners holds. A prefix stays before its unit.
func (w words) unitWords(text string) string {
	if w[unitKey] == nil {
		return text // the words are those that units were first spoken in
	}
	return unitWord().ReplaceAllStringFunc(text, func(found string) string {
		m := unitWord().FindStringSubmatch(found)
		return m[1] + w.sayOr(unitKey, m[2])
	})
}

// heardLabel is what is heard in the place of a formula.
var heardLabel = regexp.MustCompile(`aria-label="[^"]*"`)

// formula returns a formula whose units are heard in the words of the language.
func (w words) formula(math string) template.HTML {
	return template.HTML(heardLabel.ReplaceAllStringFunc(math, func(label string) string {
		words, _ := strings.CutPrefix(label, `aria-label=`)
		return `aria-label=` + w.unitWords(words)
	}))
}
