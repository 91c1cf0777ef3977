// Package wording finds kept wordings in what authors write: words of a
// danger that must bring their caution, and advice that is never printed.
//
// A wording is words in their order, as a person of the trade would write them
// down: "fit|put ... bigger|larger fuse". Beside plain words stand
//
//	bigger|larger   one of these
//	fus*            a word that begins so
//	...             up to six words, whatever they are
//
// A wording is met within one sentence. Small words (a, the, your, its, ...) may
// stand anywhere between; capitals, hyphens and apostrophes count for nothing.
package wording

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Pattern is a wording, read.
type Pattern struct {
	written string
	words   []token
}

// token is one word of a wording.
type token struct {
	any   []string // what it may be
	stems []string // what it may begin with
	gap   bool     // other words may stand before it
	bits  uint64   // of the outlines of what it may be
}

const gapWord = "..."

// Read reads a wording.
func Read(s string) (Pattern, error) {
	p := Pattern{written: s}
	gap := false
	for _, field := range strings.Fields(strings.ReplaceAll(strings.ToLower(s), "-", " ")) {
		if field == gapWord {
			gap = len(p.words) > 0
			continue
		}
		t := token{gap: gap}
		for _, w := range strings.Split(field, "|") {
			bare, begins := strings.CutSuffix(w, "*")
			if bare == "" || strings.ContainsAny(bare, "*.,;:!?'") {
				return p, fmt.Errorf("%q is no word that can be looked for", w)
			}
			if begins {
				t.stems = append(t.stems, bare)
			} else {
				t.any, t.bits = append(t.any, bare), t.bits|outlineOf(bare).bit()
			}
		}
		p.words, gap = append(p.words, t), false
	}
	if len(p.words) == 0 {
		return p, errors.New("a wording without a word")
	}
	return p, nil
}

// String returns the wording as it was written.
func (p Pattern) String() string { return p.written }

// mostBetween is how many words a gap may hold.
const mostBetween = 6

// Find returns the words of a text, from and up to, that the wording is met by.
func (p *Pattern) Find(text []Word) (from, to int, found bool) {
	for from := range text {
		if p.words[0].is(&text[from]) {
			if to, ok := meets(text, from+1, p.words[1:]); ok {
				return from, to, true
			}
		}
	}
	return 0, 0, false
}

// meets reports whether the words from a place on meet the rest of a wording,
// the first word of which stands before it, and where it ends.
func meets(text []Word, at int, rest []token) (to int, ok bool) {
	if len(rest) == 0 {
		return at, true
	}
	between := 0
	for i := at; i < len(text); i++ {
		if text[i-1].Ends {
			return 0, false
		}
		if rest[0].is(&text[i]) {
			if to, ok := meets(text, i+1, rest[1:]); ok {
				return to, true
			}
		}
		switch {
		case text[i].small: // counts for nothing
		case !rest[0].gap || text[i].denies:
			return 0, false
		default:
			if between++; between > mostBetween {
				return 0, false
			}
		}
	}
	return 0, false
}

func (t *token) is(word *Word) bool {
	if t.bits&word.outline.bit() != 0 && slices.Contains(t.any, word.Text) {
		return true
	}
	for _, stem := range t.stems {
		if strings.HasPrefix(word.Text, stem) {
			return true
		}
	}
	return false
}

// denies reports whether a gap does not reach over a word: it turns what is said
// round.
func denies(word string) bool {
	switch word {
	case "never", "not", "dont", "cannot", "cant", "mustnt", "shouldnt", "wont", "nobody", "nor", "neither", "isnt", "arent", "doesnt", "avoid", "refuse":
		return true
	}
	return false
}

// isSmall reports whether a word may stand between any two of a wording.
func isSmall(word string) bool {
	switch word {
	case "a", "an", "the", "your", "its", "his", "her", "their", "my", "our", "this", "that", "these", "those", "of", "some", "just", "simply", "then", "easily":
		return true
	}
	return false
}
