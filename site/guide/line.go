package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// line is one line of a block: a word, a colon, and the rest.
type line struct {
	word, rest fault.Place
}

// splitLine parts a line of a block at its first colon.
func splitLine(p fault.Place) (line, *fault.Fault) {
	s := p.String()
	i := strings.IndexByte(s, ':')
	if i < 0 {
		return line{}, fault.At(p, "this line has no colon").Want("a word, a colon and what it says: run: 9 m")
	}
	return line{word: p.Sub(0, i).Trim(), rest: p.Sub(i+1, len(s)).Trim()}, nil
}

// readLines sorts the lines of a block into line words and values.
func (b *block) readLines(lines []line) {
	rows := calcRows()
	first := map[string]bool{}
	for _, l := range lines {
		word := l.word.String()
		known := find(rows, word)
		if first[word] && (known == nil || !known.Twice) {
			b.fault(fault.At(l.word, "%q stands twice in this block", word).Fix("take one of the two out"))
			continue
		}
		first[word] = true
		switch {
		case known == nil && b.sheet.Input(word) == nil:
			b.fault(b.unknownWord(rows, l.word))
			b.unsure = true
		case l.rest.String() == "":
			b.fault(fault.At(l.word, "nothing stands after %q", word).Fix("%s", b.sample(known, word)))
			b.empty, b.unsure = append(b.empty, word), true
		case known != nil:
			known.keep(b, l)
		default:
			b.valueLines = append(b.valueLines, l)
		}
	}
}

// sample returns a whole line with a word at its head.
func (b *block) sample(known *row[*block], word string) string {
	if known != nil {
		return known.Example
	}
	return b.sheet.Input(word).Sample(": ")
}

// unknownWord is the fault of a line that begins with no word known.
func (b *block) unknownWord(rows []row[*block], at fault.Place) *fault.Fault {
	word := at.String()
	if b.sheet.Result(word) != nil {
		return fault.At(at, "%s gives %q and does not take it", b.sheet.Name, word).Fix("show: %s", word)
	}
	var values []string
	for _, in := range b.sheet.Takes {
		values = append(values, in.Name)
	}
	words := spelled(rows)
	f := fault.At(at, "%s does not take %q", b.sheet.Name, word).
		Want("a value it takes (%s) or a line word (%s)", strings.Join(values, ", "), strings.Join(words, ", "))
	if near := fault.Near(word, slices.Concat(values, words)); near != "" {
		f.Fix("%s", near)
	}
	return f
}
