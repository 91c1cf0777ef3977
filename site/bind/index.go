package bind

import (
	"iter"
	"slices"
	"strings"
	"unicode"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// IndexPath is the page of the index by the alphabet, at whose head words are
// found.
const IndexPath = "a-to-z.html"

// Item is what the index leads to: a question, a heading or a table.
type Item struct {
	Spot
	Text     string // its words
	Question bool
}

// IndexHead is one entry of the index by the alphabet.
type IndexHead struct {
	Word      string
	See       []string // other entries to look under
	Explained []Spot   // where the word is explained
	Questions []*Item  // that have the word, in the order of the book
	Also      []*Spot  // headings and tables that have it
}

// Index puts items under the key words of their text. A word of the trade
// gathers what has any other word for it, and these say where to look. Words
// that are passed over head nothing.
func (b *Book) Index(items iter.Seq[*Item], passedOver []string) []*IndexHead {
	x := &indexer{heads: map[string]*IndexHead{}, main: map[string][]string{}, phrases: map[string][]string{}, passed: map[string]bool{}}
	for _, w := range passedOver {
		x.passed[w] = true
	}
	x.learn(b.terms())
	for _, e := range b.Glossary {
		if x.main[fold(e.Term.Word)] == nil {
			x.know(e.Term.Word, e.Term.Word)
		}
		for _, main := range x.main[fold(e.Term.Word)] {
			x.head(main).explain(e.Where, fold(main) == fold(e.Term.Word))
		}
	}
	for i := range items {
		x.put(i)
	}
	x.addSee(b.terms())
	return x.sorted()
}

// explain adds guides that explain the entry, each once: one may explain it under
// two of its words, and then the place of the entry's own word is told.
func (h *IndexHead) explain(where []Spot, own bool) {
	for _, spot := range where {
		at := slices.IndexFunc(h.Explained, func(s Spot) bool { return s.Code == spot.Code })
		switch {
		case at < 0:
			h.Explained = append(h.Explained, spot)
		case own:
			h.Explained[at] = spot
		}
	}
}

// terms returns the words of the trade that the book was made with.
func (b *Book) terms() []method.Term {
	if b.Library == nil {
		return nil
	}
	return b.Library.Terms()
}

type indexer struct {
	heads   map[string]*IndexHead
	main    map[string][]string // the entries of a word, by the word in small letters
	phrases map[string][]string // known words of more than one part, by the first
	passed  map[string]bool
}

func (x *indexer) learn(terms []method.Term) {
	for _, t := range terms {
		x.know(t.Name, t.Name)
		for _, a := range t.Others() {
			x.know(a, t.Name)
		}
	}
}

func (x *indexer) know(word, main string) {
	key := fold(word)
	if first, _, several := strings.Cut(key, " "); several && x.main[key] == nil {
		x.phrases[first] = append(x.phrases[first], key)
	}
	x.main[key] = append(x.main[key], main)
}

// fold returns a word as words are compared: in small letters, its hyphens as
// spaces.
func fold(word string) string { return strings.ReplaceAll(strings.ToLower(word), "-", " ") }

func (x *indexer) head(word string) *IndexHead {
	if x.heads[word] == nil {
		x.heads[word] = &IndexHead{Word: word}
	}
	return x.heads[word]
}

// put files an item under each of its key words, under each once.
func (x *indexer) put(i *Item) {
	under := map[string]bool{}
	for _, w := range x.keyWords(i.Text) {
		if under[w] {
			continue
		}
		under[w] = true
		h := x.head(w)
		if i.Question {
			h.Questions = append(h.Questions, i)
		} else {
			h.Also = append(h.Also, &i.Spot)
		}
	}
}

// possessives takes the endings off owners.
var possessives = strings.NewReplacer("'s", "", "’s", "")

// keyWords returns the entries under which a text belongs, in its order: words
// of the trade by their entries, and the others that are not passed over.
func (x *indexer) keyWords(text string) []string {
	text = possessives.Replace(text)
	words := strings.FieldsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-'’", r)
	})
	singular := make([]string, len(words))
	for i, w := range words {
		singular[i] = x.single(fold(w))
	}
	keys := x.phrasesIn(strings.Join(singular, " ") + " ")
	for i, w := range words {
		keys = append(keys, x.keysOf(w, singular[i])...)
	}
	return keys
}

// phrasesIn returns the entries of the known words of several parts in a run of
// words, each with a space behind it.
func (x *indexer) phrasesIn(run string) []string {
	var keys []string
	for run != "" {
		first, rest, _ := strings.Cut(run, " ")
		for _, p := range x.phrases[first] {
			if after, ok := strings.CutPrefix(run, p); ok && (strings.HasPrefix(after, " ") || strings.HasPrefix(after, "s ")) {
				keys = append(keys, x.main[p]...)
			}
		}
		run = rest
	}
	return keys
}

// single returns a word of the trade for more than one of it, and any other
// word as it is.
func (x *indexer) single(word string) string {
	for _, ending := range []string{"s", "es"} {
		if one, ok := strings.CutSuffix(word, ending); ok && x.main[one] != nil {
			return one
		}
	}
	return word
}

// keysOf returns the entries of one word. One that is no word of the trade has
// an entry where it is long enough to be told from the small change of speech.
func (x *indexer) keysOf(typed, word string) []string {
	if known := x.main[word]; known != nil && (!x.passed[word] || isSigns(typed)) {
		return known
	}
	const shortest = 4
	letters := strings.Trim(strings.ToLower(typed), "-'’")
	switch {
	case x.passed[letters] || len([]rune(letters)) < shortest:
		return nil
	case !unicode.IsLetter([]rune(letters)[0]):
		return nil
	}
	return []string{letters}
}

// isSigns reports whether a word is an abbreviation in capitals, as AM is, and
// no small word.
func isSigns(typed string) bool {
	return len(typed) > 1 && typed == strings.ToUpper(typed)
}

// addSee adds the other words for the entries that are there.
func (x *indexer) addSee(terms []method.Term) {
	for _, t := range terms {
		if x.heads[t.Name] == nil {
			continue
		}
		for _, a := range t.Others() {
			if strings.HasPrefix(fold(a), fold(t.Name)) || x.single(fold(a)) != fold(a) {
				continue // it would stand beside the entry, or beside one of it
			}
			h := x.head(a)
			h.See = append(h.See, t.Name)
		}
	}
}

func (x *indexer) sorted() []*IndexHead {
	var all []*IndexHead
	for _, h := range x.heads {
		// A plain word is looked under where a question has it; heads and tables
		// alone have too many of them.
		if h.Questions != nil || h.Explained != nil || h.See != nil || x.main[fold(h.Word)] != nil {
			all = append(all, h)
		}
	}
	slices.SortFunc(all, func(a, b *IndexHead) int { return byAlphabet(a.Word, b.Word) })
	return all
}

// Thesaurus is what finding knows of words: those that mean the same, and what
// is meant by one mistyped.
type Thesaurus struct {
	Alike    [][]string
	Misspelt [][2]string // the word as it is typed, and the one that is meant
}

// Thesaurus returns the words of the trade for finding.
func (b *Book) Thesaurus() Thesaurus {
	var t Thesaurus
	for _, term := range b.terms() {
		alike := append([]string{term.Name}, term.Others()...)
		if len(alike) > 1 {
			t.Alike = append(t.Alike, alike)
		}
		for _, typed := range term.Misspelt {
			meant := fault.Near(typed, alike)
			if meant == "" {
				meant = term.Name
			}
			t.Misspelt = append(t.Misspelt, [2]string{typed, meant})
		}
	}
	return t
}
