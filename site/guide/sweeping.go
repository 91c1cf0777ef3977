package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// sweeping are the words that say of one figure what only a proof over a whole
// range can: beside a computed figure they ask for a claim.
var sweeping = []string{"always", "any", "never", "enough", "up to", "at least"}

// tellSweeping tells of sweeping words in one sentence with a computed figure of
// a block that proves nothing. A value that the author typed himself says
// nothing that could be proved, and an answer put backwards is proved.
func (r *reader) tellSweeping(s *saying) {
	text := s.text.String()
	for start := 0; start < len(text); {
		end := start + sentenceEnd(text[start:])
		if word, at := sweepingWord(text[start:end]); word != "" {
			if t := r.unprovedIn(s, start, end); t != nil {
				r.faults.Add(fault.At(s.place(r, start+at, start+at+len(word)), "%q says more than one figure can, and the block %q proves nothing", word, t.Name).
					Want("a claim in that block, which is proved over all that its values run through; or another word").
					Fix("%s", claimFor(t)))
			}
		}
		start = end
	}
}

// unprovedIn returns the table of the first computed figure in a piece of a text
// whose block proves nothing; nil where there is none.
func (r *reader) unprovedIn(s *saying, start, end int) *Table {
	for i := start; i < end; i++ {
		f := s.figures[i]
		if f == nil || f.Figure == nil || f.Figure.Solved || f.Figure.Of != "" {
			continue
		}
		if t := r.unproved(f); t != nil {
			return t
		}
	}
	return nil
}

// claimFor is a claim line for a table.
func claimFor(t *Table) string {
	if len(t.Limits) > 0 {
		return "claim: " + t.Limits[0].Text
	}
	name := "loss"
	if len(t.Results) > 0 {
		name = t.Results[0].Name
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

// unproved returns the table of a figure's block where that has no claim; nil
// where it has one, and for what is no figure of a block of this guide.
func (r *reader) unproved(f *FigureNode) *Table {
	block, _, _ := strings.Cut(f.Address, ".")
	i := slices.IndexFunc(r.guide.Tables, func(t *Table) bool { return t.Name == block })
	if i < 0 || len(r.guide.Tables[i].Claims) > 0 {
		return nil
	}
	return r.guide.Tables[i]
}
