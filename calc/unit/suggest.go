package unit

import (
	"sort"
	"strings"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// Unknown returns the fault for a word at a place where a unit should stand,
// with the units that it might have meant.
func Unknown(p fault.Place) *fault.Fault {
	s := p.String()
	f := fault.At(p, "%s is not a unit", quoted(s)).Want("a unit, such as m, ohm, W, dB or AWG")
	if near := Near(s); len(near) > 0 {
		f.Fix("%s", strings.Join(near, " or "))
	}
	return f
}

// Near returns up to three units that a misspelt one may stand for, the
// likeliest first.
func Near(word string) []string {
	if utf8.RuneCountInString(word) > 20 {
		return nil
	}
	best, least := []string{}, 2
	for spelling := range index() {
		d := distance(word, spelling)
		if strings.EqualFold(word, spelling) {
			d = 0
		}
		if d < least {
			best, least = best[:0], d
		}
		if d == least {
			best = append(best, spelling)
		}
	}
	sort.Strings(best)
	return best[:min(3, len(best))]
}

// distance counts single changes between two words, up to 2.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	switch {
	case len(x) == 0 && len(y) == 0:
		return 0
	case len(x) <= 1 && len(y) <= 1:
		return 1
	case len(x) == 2 && len(y) == 2 && x[0] == y[1] && x[1] == y[0]:
		return 1
	}
	return 2
}

// quoted quotes what an author wrote, cut to a length that fits a sentence.
func quoted(s string) string {
	const longest = 40
	runes := []rune(s)
	if len(runes) > longest {
		s = string(runes[:longest]) + "…"
	}
	return "\"" + strings.Map(func(r rune) rune {
		if isSpace(r) {
			return ' '
		}
		return r
	}, s) + "\""
}
