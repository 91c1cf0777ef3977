package wording

import (
	"math"
	"math/bits"
	"slices"
)

// Set is many wordings, looked for in one go. It does not change and may be
// used by several goroutines.
type Set struct {
	patterns []Pattern
	needs    []need           // of each wording
	plain    map[string][]int // by a first word: the wordings that begin with it, or with a stem of it
	stems    map[string][]int // by the first letters of one that only begins so
	// Most words of a text are passed over by these.
	outlines marks // of first words
	heads    marks // of what begins as a stem does
	// The same as plain, by the bytes of their outlines: what passes is found here.
	firsts [1 << 8][]first
}

// first is a first word, with the wordings that begin with it.
type first struct {
	word  string
	begin []int
}

// headLetters is how many letters of a stem its place in the set goes by.
const headLetters = 2

// NewSet returns a set of wordings.
func NewSet(patterns []Pattern) *Set {
	s := &Set{patterns: patterns, needs: make([]need, len(patterns)), plain: map[string][]int{}, stems: map[string][]int{}}
	for i, p := range patterns {
		s.needs[i] = needOf(p)
		for _, w := range p.words[0].any {
			s.outlines.add(uint16(outlineOf(w)))
			s.plain[w] = once(s.plain[w], i)
		}
		for _, stem := range p.words[0].stems {
			s.addHeads(stem)
			s.stems[head(stem)] = once(s.stems[head(stem)], i)
		}
	}
	for w, begin := range s.plain {
		word := Word{Text: w, outline: outlineOf(w)}
		s.plain[w] = inOrder(begin, slices.DeleteFunc(slices.Clone(s.begun(w)), func(i int) bool { return !patterns[i].words[0].is(&word) }))
		at := word.outline.byte()
		s.firsts[at] = append(s.firsts[at], first{w, s.plain[w]})
	}
	return s
}

func head(word string) string { return word[:min(headLetters, len(word))] }

// addHeads marks the heads of all words that begin as a stem does.
func (s *Set) addHeads(stem string) {
	first, last := headOf(stem), headOf(stem)
	if len(stem) == 1 {
		last |= 0xff
	}
	for at := int(first); at <= int(last); at++ {
		s.heads.add(uint16(at))
	}
}

// once adds the wording that is being read to a list, unless it is its last.
func once(list []int, i int) []int {
	if n := len(list); n > 0 && list[n-1] == i {
		return list
	}
	return append(list, i)
}

// begun are the wordings of which a stem at their head begins as this word does.
func (s *Set) begun(word string) []int { return inOrder(s.stems[head(word)], s.stems[word[:1]]) }

// inOrder joins two lists of wordings, each wording once; neither is changed.
func inOrder(a, b []int) []int {
	switch {
	case len(b) == 0:
		return a
	case len(a) == 0:
		return b
	}
	all := slices.Concat(a, b)
	slices.Sort(all)
	return slices.Compact(all)
}

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
	var sentence uint64 // the bits of its words
	for from := range text {
		if from == 0 || text[from-1].Ends {
			sentence = sentenceBits(text[from:])
		}
		begin, sure := s.begin(&text[from])
		for _, i := range begin {
			p := &s.patterns[i]
			if !s.needs[i].in(sentence) || !sure && !p.words[0].is(&text[from]) {
				continue
			}
			if to, ok := meets(text, from+1, p.words[1:]); ok {
				all = append(all, Match{Pattern: i, From: from, To: to})
			}
		}
	}
	return all
}

// need are the bits of two words of a wording behind its first: one of each stands
// in every sentence in which it is met.
type need [2]uint64

// needOf returns those of the two words that may be the fewest.
func needOf(p Pattern) need {
	n := need{math.MaxUint64, math.MaxUint64}
	for _, t := range p.words[1:] {
		b := t.bits
		if len(t.stems) > 0 {
			continue
		}
		if bits.OnesCount64(b) < bits.OnesCount64(n[0]) {
			b, n[0] = n[0], b
		}
		if bits.OnesCount64(b) < bits.OnesCount64(n[1]) {
			n[1] = b
		}
	}
	return n
}

func (n *need) in(sentence uint64) bool { return n[0]&sentence != 0 && n[1]&sentence != 0 }

// sentenceBits are the bits of the words of a text up to the end of its first
// sentence.
func sentenceBits(text []Word) uint64 {
	var all uint64
	for i := range text {
		all |= text[i].outline.bit()
		if text[i].Ends {
			break
		}
	}
	return all
}

// begin returns the wordings that begin with a word; or, not sure, those that may.
func (s *Set) begin(word *Word) (all []int, sure bool) {
	if s.outlines.has(uint16(word.outline)) {
		for i, list := 0, s.firsts[word.outline.byte()]; i < len(list); i++ {
			if list[i].word == word.Text {
				return list[i].begin, true
			}
		}
	}
	if s.heads.has(headOf(word.Text)) {
		return s.begun(word.Text), false
	}
	return nil, false
}

// marks are a bit for each number.
type marks [1 << 16 / 64]uint64

func (m *marks) add(i uint16)      { m[i/64] |= 1 << (i % 64) }
func (m *marks) has(i uint16) bool { return m[i/64]&(1<<(i%64)) != 0 }

// headOf is the first two bytes of a word.
func headOf(word string) uint16 {
	if len(word) == 1 {
		return uint16(word[0]) << 8
	}
	return uint16(word[0])<<8 | uint16(word[1])
}
