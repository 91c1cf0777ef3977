package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
)

// Term is a word of the trade with the other words for it.
type Term struct {
	Name     string
	Also     []string // other words for the same thing
	Kin      []string // words for what goes with it, under which people look for it
	Misspelt []string // ways in which one of them is often mistyped
}

// Others returns the words that lead to the term.
func (t Term) Others() []string { return slices.Concat(t.Also, t.Kin) }

// Terms returns the words of the trade, by name.
func (l *Library) Terms() []Term {
	all := make([]Term, 0, len(l.terms))
	for _, name := range sortedKeys(l.terms) {
		all = append(all, l.terms[name])
	}
	return all
}

// readTerms reads words of the trade by name. A word that has an entry is no
// other word for something else, and what is told to be mistyped is no word.
func (l *Library) readTerms(n *record.Node, faults *fault.List) {
	names, others := map[string]bool{}, map[string]bool{}
	for _, e := range n.Entries {
		names[strings.ToLower(e.Key.Text)] = true
	}
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("a term", "also", "kin", "misspelt"))
		other := func(word *record.Node) {
			others[strings.ToLower(word.Text)] = true
			if names[strings.ToLower(word.Text)] {
				faults.Add(fault.At(word.Place, "%q has an entry of its own", word.Text).Want("another word for %s that has none", e.Key.Text))
			}
		}
		l.terms[e.Key.Text] = Term{Name: e.Key.Text, Also: termWords(e, "also", other, faults), Kin: termWords(e, "kin", other, faults)}
	}
	for _, e := range n.Entries {
		t := l.terms[e.Key.Text]
		t.Misspelt = termWords(e, "misspelt", func(word *record.Node) {
			if key := strings.ToLower(word.Text); names[key] || others[key] {
				faults.Add(fault.At(word.Place, "%q is a word, and stands among those mistyped", word.Text).Fix("take it out"))
			}
		}, faults)
		l.terms[t.Name] = t
	}
}

// termWords reads one line of a term and has each word looked at. A word that
// stands twice in it is told.
func termWords(e record.Entry, key string, look func(*record.Node), faults *fault.List) []string {
	var all []string
	words, fs := e.Value.Get(key).Words(key)
	faults.Join(fs)
	seen := map[string]bool{}
	for _, w := range words {
		if seen[w.Text] {
			faults.Add(fault.At(w.Place, "%q stands twice", w.Text).Fix("take one of the two out"))
			continue
		}
		seen[w.Text] = true
		look(w)
		all = append(all, w.Text)
	}
	return all
}
