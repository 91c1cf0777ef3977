package guide

import (
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

// LineWord is a word that may head a line of a calc block, beside the values
// that the method takes.
type LineWord struct {
	Word  string
	Help  string
	Twice bool // it may stand more than once
	keep  func(b *block, l line)
}

// LineWords is the table of line words, from which the reader of blocks and
// every list of them is made.
func LineWords() []LineWord {
	return []LineWord{
		{"name", "The block's own name, by which figures are called: letters, digits and -.", false,
			func(b *block, l line) { b.named = l.rest }},
		{"rows", "The value that runs down the table.", false,
			func(b *block, l line) { b.rows.named = l.rest }},
		{"columns", "The value that runs across the table.", false,
			func(b *block, l line) { b.columns.named = l.rest }},
		{"show", "The results to print, parted by commas.", false,
			func(b *block, l line) { b.show = l.rest }},
		{"limit", `What a figure must meet, and the words for one that does not: loss at most 0.5 dB, beyond: "too thin".`, true,
			func(b *block, l line) { b.limitLines = append(b.limitLines, l.rest) }},
		{"figure", "A figure for the prose: name = result, when a value is so and so.", true,
			func(b *block, l line) { b.figureLines = append(b.figureLines, l.rest) }},
		{"work", "The point for which the working is shown with its numbers.", true,
			func(b *block, l line) { b.workLines = append(b.workLines, l.rest) }},
	}
}

// readLines sorts the lines of a block into line words and values.
func (b *block) readLines(lines []line) {
	words := LineWords()
	first := map[string]bool{}
	for _, l := range lines {
		word := l.word.String()
		known := lineWord(words, word)
		if first[word] && (known == nil || !known.Twice) {
			b.fault(fault.At(l.word, "%q stands twice in this block", word).Fix("take one of the two out"))
			continue
		}
		first[word] = true
		switch {
		case l.rest.String() == "":
			b.fault(fault.At(l.word, "nothing stands after %q", word).Want("%s: and what it says", word))
			b.empty, b.unsure = append(b.empty, word), true
		case known != nil:
			known.keep(b, l)
		case b.sheet.Input(word) != nil:
			b.valueLines = append(b.valueLines, l)
		default:
			b.fault(b.unknownWord(words, l.word))
			b.unsure = true
		}
	}
}

func lineWord(words []LineWord, word string) *LineWord {
	for i := range words {
		if words[i].Word == word {
			return &words[i]
		}
	}
	return nil
}

// unknownWord is the fault of a line that begins with no word known.
func (b *block) unknownWord(words []LineWord, at fault.Place) *fault.Fault {
	var names []string
	for _, in := range b.sheet.Takes {
		names = append(names, in.Name)
	}
	values := strings.Join(names, ", ")
	for _, w := range words {
		names = append(names, w.Word)
	}
	f := fault.At(at, "%s does not take %q", b.sheet.Name, at).
		Want("a value it takes (%s) or a line word (%s)", values, strings.Join(names[len(b.sheet.Takes):], ", "))
	if near := fault.Near(at.String(), names); near != "" {
		f.Fix("%s", near)
	}
	return f
}
