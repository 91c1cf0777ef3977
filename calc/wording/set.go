package wording

import (
	"slices"
	"strings"
)

// Set is many wordings, looked for in one go. It does not change and may be
// used by several goroutines.
type Set struct {
	patterns []Pattern
	plain    map[string][]int // by a first word
	stems    map[string][]int // by the first letters of one that only begins so
}

// headLetters is how many letters of a stem its place in the set goes by.
const headLetters = 2

// NewSet returns a set of wordings.
func NewSet(patterns []Pattern) *Set {
	s := &Set{patterns: patterns, plain: map[string][]int{}, stems: map[string][]int{}}
	for i, p := range patterns {
		for _, w := range p.words[0].any {
			if stem, begins := strings.CutSuffix(w, "*"); begins {
				s.stems[head(stem)] = append(s.stems[head(stem)], i)
			} else {
				s.plain[w] = append(s.plain[w], i)
			}
		}
	}
	return s
}

func head(word string) string { return word[:min(headLetters, len(word))] }

// Match is where a wording of a set is met: its number, and the words from and
// up to.
type Match struct {
	Pattern  int
	From, To int
}

// Find returns every place of a text at which a wording of the set is met, in
// the order of the text and then of the set.
func (s *Set) Find(text []Word) []Match {
	var all []Match
	for from, w := range text {
		begin := slices.Concat(s.plain[w.Text], s.stems[head(w.Text)], s.stems[w.Text[:1]])
		slices.Sort(begin)
		for _, i := range slices.Compact(begin) {
			p := s.patterns[i]
			if to, ok := p.meets(text, from, p.words, true); ok {
				all = append(all, Match{Pattern: i, From: from, To: to})
			}
		}
	}
	return all
}
