package wording_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/wording"
)

// TestFind looks for wordings in sentences.
func TestFind(t *testing.T) {
	for _, c := range []struct{ name, pattern, text, want string }{
		{"plain", "bigger fuse", "Put a bigger fuse in.", "bigger fuse"},
		{"one of", "big|bigger fuse", "A Bigger Fuse.", "Bigger Fuse"},
		{"begins so", "fus*", "Two fuses.", "fuses"},
		{"a gap", "fit ... fuse", "Fit one that is a larger fuse.", "Fit one that is a larger fuse"},
		{"a gap too wide", "fit ... fuse", "Fit one two three four five six seven fuse.", ""},
		{"small words", "lift earth", "Lift the old set's earth.", ""},
		{"small words between", "lift earth", "Lift that earth.", "Lift that earth"},
		{"no gap", "fit fuse", "Fit one fuse.", ""},
		{"across sentences", "fit ... fuse", "Fit it. The fuse goes.", ""},
		{"not in a gap", "fit ... fuse", "Fit it and never a fuse.", ""},
		{"hyphens", "two-core lead", "A two core lead, a two-core lead.", "two core lead"},
		{"apostrophes", "dont fit", "Don’t fit it.", "Don’t fit"},
		{"within a word", "fuse", "It is refused.", ""},
		{"a number", "5 amp", "A 5 amp one.", "5 amp"},
		{"a point inside a number", "fit ... fuse", "Fit the 2.5 amp fuse.", "Fit the 2.5 amp fuse"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := wording.Read(c.pattern)
			if err != nil {
				t.Fatal(err)
			}
			words, got := wording.Split(c.text), ""
			if from, to, ok := p.Find(words); ok {
				got = c.text[words[from].Start:words[to-1].End]
			}
			if got != c.want {
				t.Errorf("%q in %q is %q, and %q is wanted", c.pattern, c.text, got, c.want)
			}
			if found := wording.NewSet([]wording.Pattern{p}).Find(words); (len(found) > 0) != (c.want != "") {
				t.Errorf("a set of it finds %v", found)
			}
		})
	}
}

// TestRefused: what is no wording is told.
func TestRefused(t *testing.T) {
	for _, s := range []string{"", "...", "a||b", "*", "fuse.", "x*y"} {
		if p, err := wording.Read(s); err == nil {
			t.Errorf("%q is read as %v", s, p)
		}
	}
}

// TestSetFindsAll: a set finds what its wordings find one by one, at every word
// of a text.
func TestSetFindsAll(t *testing.T) {
	vocabulary := []string{"fit", "fits", "fuse", "fuses", "fusing", "f", "a", "earth", "Earth", "the", "never", "don't", "don’t", "b", "bé", "é", "two-core"}
	wordings := []string{"fit", "fit|fits ... fuse", "fus*|fu* earth", "f* ... a", "f*", "fit|f* fuse", "b*", "earth|ea* never", "é*", "dont ... fuse", "two core", "a|b|a ... fus*"}
	var patterns []wording.Pattern
	for _, w := range wordings {
		p, err := wording.Read(w)
		if err != nil {
			t.Fatal(err)
		}
		patterns = append(patterns, p)
	}
	set, r := wording.NewSet(patterns), rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		var b strings.Builder
		for range r.IntN(14) {
			b.WriteString(vocabulary[r.IntN(len(vocabulary))] + []string{" ", " ", ". ", "-", ", "}[r.IntN(5)])
		}
		words := wording.Split(b.String())
		var want []wording.Match
		for from := range words {
			for i, p := range patterns {
				// Only at its first word, so that each place is tried by itself.
				if at, to, ok := p.Find(words[from:]); ok && at == 0 {
					want = append(want, wording.Match{Pattern: i, From: from, To: from + to})
				}
			}
		}
		if got := set.Find(words); !slices.Equal(got, want) {
			t.Fatalf("in %q a set finds %v, and its wordings %v", b.String(), got, want)
		}
	}
}
