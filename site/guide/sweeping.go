package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// sweeping are the words that say of one figure what only a proof over a whole
// range can: beside a computed figure they ask for a claim.
var sweeping = []string{"always", "any", "never", "enough", "up to", "at least"}

// Sweep is a sweeping word in one sentence with a figure of another guide: only
// the whole book can say whether its block proves anything.
type Sweep struct {
	Word    string
	Place   fault.Place
	Address string
}

// tellSweeping tells of sweeping words in one sentence with a computed figure of
// a block that proves nothing. A value that the author typed himself says
// nothing that could be proved, and an answer put backwards is proved.
func (r *reader) tellSweeping(s *saying) {
	text := s.text.String()
	for start := 0; start < len(text) && len(s.figures) > 0; {
		end := start + sentenceEnd(text[start:])
		if figures := s.figuresIn(start, end); len(figures) > 0 {
			if word, at := sweepingWord(text[start:end]); word != "" {
				r.sweep(figures, Sweep{Word: word, Place: s.place(r, start+at, start+at+len(word))})
			}
		}
		start = end
	}
}

// sweep tells of the first computed figure in a sentence whose block proves
// nothing, and keeps those of other guides for the book.
func (r *reader) sweep(figures []saidFigure, w Sweep) {
	for _, said := range figures {
		f := said.node
		if f.Figure == nil {
			w.Address = f.Address
			r.guide.Sweeps = append(r.guide.Sweeps, w)
			continue
		}
		if block, _, _ := strings.Cut(f.Address, "."); f.Figure.Sweepable() {
			for _, t := range r.guide.Tables {
				if t.Name == block && !t.Proves(f.Figure) {
					r.faults.Add(w.Unproved(t, f.Figure))
					return
				}
			}
		}
	}
}

// Sweepable reports whether a word that sweeps over more than one figure asks a
// proof of the block of this one: it is computed, and no answer put backwards.
func (f *Figure) Sweepable() bool { return !f.Solved && f.Of == "" }

// Proves reports whether a table has a claim about the result that a figure is.
func (t *Table) Proves(f *Figure) bool {
	return slices.ContainsFunc(t.Claims, func(c Claim) bool {
		return slices.ContainsFunc(f.Rests, func(name string) bool { return slices.Contains(c.Results, name) })
	})
}

// Unproved is the fault of a sweeping word beside a figure of a table that has no
// claim about it.
func (w Sweep) Unproved(t *Table, f *Figure) *fault.Fault {
	name := strings.Join(f.Rests, ", ")
	return fault.At(w.Place, "%q says more than one figure can, and the block %q proves nothing about %s", w.Word, t.Name, words(name)).
		Want("a claim about it in that block, which is proved over all that its values run through; or another word").
		Fix("%s", claimFor(t, name))
}

// claimFor is a claim line about a result of a table.
func claimFor(t *Table, name string) string {
	for _, l := range t.Limits {
		if first, _, _ := strings.Cut(l.Text, " "); first == name {
			return "claim: " + l.Text
		}
	}
	return "claim: " + name + " at most …"
}

// sentenceEnd is where the sentence at the head of a text ends, behind its mark.
func sentenceEnd(text string) int {
	for i, c := range text {
		if (c == '.' || c == '!' || c == '?') && (i+1 == len(text) || strings.ContainsRune(" \n)", rune(text[i+1]))) {
			return i + 1
		}
	}
	return len(text)
}

func sweepingWord(clause string) (word string, at int) {
	low := strings.ToLower(clause)
	for _, w := range sweeping {
		for from := 0; ; {
			i := strings.Index(low[from:], w)
			if i < 0 {
				break
			}
			i += from
			if wordEdge(low, i) && wordEdge(low, i+len(w)) {
				return clause[i : i+len(w)], i
			}
			from = i + 1
		}
	}
	return "", 0
}

// wordEdge reports whether no letter stands on one side of a place in a text.
func wordEdge(s string, at int) bool {
	letter := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= 'a' && s[i] <= 'z' }
	return !letter(at-1) || !letter(at)
}
