package method

import (
	"bindpost/calc/fault"
	"bindpost/calc/record"
)

// Regional returns the word that readers of the library's language have for a
// word of the trade that is called otherwise elsewhere, and false where the
// name is none of those.
func (l *Library) Regional(name string) (string, bool) {
	word, ok := l.regional[name]
	return word, ok
}

// RegionalNames returns the names of all such words, sorted.
func (l *Library) RegionalNames() []string { return sortedKeys(l.regional) }

// readRegional reads the words that differ by region, in rows of words akin.
func (l *Library) readRegional(n *record.Node, faults *fault.List) {
	faults.Join(n.Keys("a file of regional words", "words"))
	rows := n.Get("words")
	if rows == nil {
		return
	}
	for _, row := range rows.Items {
		words, fs := row.Words("words")
		faults.Join(fs)
		for _, w := range words {
			if _, twice := l.regional[w.Text]; twice {
				faults.Add(fault.At(w.Place, "%q stands twice", w.Text).Fix("take one of the two out"))
			}
			l.regional[w.Text] = w.Text
		}
	}
}

// regionalTexts visits the words that differ by region.
func (l *Library) regionalTexts(v visit) {
	if l.base != nil {
		return // they come with the program
	}
	for _, name := range l.RegionalNames() {
		word := l.regional[name]
		if v("term "+name, &word); word != l.regional[name] {
			l.regional[name] = word
		}
	}
}
