package guide

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"bindpost/calc/unit"
)

// PieceKind says what a piece of a block's text is.
type PieceKind uint8

// The kinds of pieces.
const (
	PlainPiece  PieceKind = iota
	WordPiece             // a word of ours at the head of a line, or of the block
	ValuePiece            // the name of a value at the head of a line
	NamePiece             // a name inside a line: of the method, a value, a result, the block
	NumberPiece           // a number
	UnitPiece             // its unit
	QuotedPiece           // words in quotation marks
	JoinPiece             // a small word by which a line hangs together
)

// Piece is a stretch of a block's text.
type Piece struct {
	Kind PieceKind
	Text string
}

// Pieces parts the block of a table, as its author wrote it, in pieces, which
// together are its text.
func (t *Table) Pieces() []Piece {
	const most = 100 // of most blocks
	p := pieces{names: t.names(), all: make([]Piece, 0, most), text: strings.TrimRight(t.Block.String(), "\n")}
	opening := true
	for line := range strings.SplitAfterSeq(p.text, "\n") {
		if opening {
			p.info(line)
			opening = false
			continue
		}
		p.line(line)
	}
	return p.all
}

// RulePieces parts a line of a method's working in pieces; names are those that
// its lines know.
func RulePieces(line string, names map[string]bool) []Piece {
	p := pieces{names: names, text: line}
	name, rest, found := strings.Cut(line, " = ")
	if found {
		p.add(NamePiece, name)
		p.add(PlainPiece, " = ")
		line = rest
	}
	p.rest(line)
	return p.all
}

// names are those that may stand in the lines of a table's block.
func (t *Table) names() map[string]bool {
	names := map[string]bool{t.Name: true, t.Method: true}
	for _, a := range []*Axis{t.Rows, t.Columns} {
		if a != nil {
			names[a.Name] = true
		}
	}
	for _, h := range t.Results {
		names[h.Name] = true
	}
	for _, h := range t.Taken {
		names[h.Name] = true
	}
	for _, b := range t.Beside {
		names[b.Name] = true
	}
	return names
}

// pieces gathers the pieces of a text.
type pieces struct {
	names map[string]bool
	all   []Piece
	text  string // which they are parted from
	at    int    // how far
}

// add takes one more piece; plain ones are joined to the plain one before.
func (p *pieces) add(kind PieceKind, text string) {
	p.at += len(text)
	if last := len(p.all) - 1; kind == PlainPiece && last >= 0 && p.all[last].Kind == PlainPiece {
		p.all[last].Text = p.joined(p.all[last].Text, text)
		return
	}
	if text != "" {
		p.all = append(p.all, Piece{kind, text})
	}
}

// joined returns two pieces as one: as they stand in the text, where they do.
func (p *pieces) joined(before, text string) string {
	if from := p.at - len(text) - len(before); from >= 0 && p.at <= len(p.text) {
		both := p.text[from:p.at]
		if both[:len(before)] == before && both[len(before):] == text {
			return both
		}
	}
	return before + text
}

// info parts the line that opens a block.
func (p *pieces) info(line string) {
	word := strings.TrimSpace(line)
	if i := strings.IndexAny(word, " \t"); i >= 0 {
		word = word[:i]
	}
	_, rest, _ := strings.Cut(line, word)
	p.add(WordPiece, word)
	name := strings.TrimSpace(rest)
	if name == "" {
		p.add(PlainPiece, rest)
		return
	}
	before, after, _ := strings.Cut(rest, name)
	p.add(PlainPiece, before)
	p.add(NamePiece, name)
	p.add(PlainPiece, after)
}

// line parts a line at its first colon: a word, and what it says.
func (p *pieces) line(line string) {
	head, rest, found := strings.Cut(line, ":")
	word := strings.TrimSpace(head)
	if !found || word == "" {
		p.add(PlainPiece, line)
		return
	}
	before, after, _ := strings.Cut(head, word)
	kind := ValuePiece
	if lineWords()[word] {
		kind = WordPiece
	}
	p.add(PlainPiece, before)
	p.add(kind, word)
	p.add(PlainPiece, after+":")
	said, prose := inProse(word, rest)
	p.rest(said)
	p.add(PlainPiece, prose)
}

// lineWords are the words that may head a line of any block.
var lineWords = sync.OnceValue(func() map[string]bool {
	all := map[string]bool{}
	for _, w := range Words() {
		if w.Block != "" {
			all[w.Word] = true
		}
	}
	return all
})

// inProse parts what is said in words of the author's own from the rest of a
// line: no word of it is one of ours.
func inProse(word, rest string) (said, prose string) {
	switch word {
	case "question", "caption":
		return "", rest
	case "ask":
		if name, question, found := strings.Cut(rest, "="); found {
			return name + "=", question
		}
	case "rule", "otherwise":
		if before, answer, found := strings.Cut(rest, "answer:"); found {
			return before + "answer:", answer
		}
	}
	return rest, ""
}

// joins reports whether a word is one of the small words of lines.
func joins(word string) bool {
	switch word {
	case "and", "answer", "at", "because", "beyond", "by", "cautions", "each", "for", "given", "in", "is", "least", "most", "not", "of", "or", "over",
		"to", "verdict", "when", "where", "with":
		return true
	}
	return false
}

// rest parts what a line says.
func (p *pieces) rest(text string) {
	for text != "" {
		switch r, size := utf8.DecodeRuneInString(text); {
		case r == '"':
			text = p.quoted(text)
		case unit.ScanNumber(text) > 0:
			text = p.number(text)
		case unicode.IsLetter(r):
			text = p.word(text)
		default:
			end := size + plainRun(text[size:])
			p.add(PlainPiece, text[:end])
			text = text[end:]
		}
	}
}

// plainRun returns how much of a text is neither a word nor a number nor quoted.
func plainRun(text string) int {
	end := strings.IndexFunc(text, func(r rune) bool { return r == '"' || r >= '0' && r <= '9' || unicode.IsLetter(r) })
	if end < 0 {
		return len(text)
	}
	return end
}

func (p *pieces) quoted(text string) (rest string) {
	end := strings.IndexByte(text[1:], '"')
	if end < 0 {
		p.add(PlainPiece, text)
		return ""
	}
	p.add(QuotedPiece, text[:end+2])
	return text[end+2:]
}

// number parts a number, and its unit where one follows.
func (p *pieces) number(text string) (rest string) {
	n := unit.ScanNumber(text)
	p.add(NumberPiece, text[:n])
	text = text[n:]
	spaced := strings.TrimLeft(text, " ")
	if _, n := unit.ScanUnit(spaced); n > 0 {
		p.add(PlainPiece, text[:len(text)-len(spaced)])
		p.add(UnitPiece, spaced[:n])
		return spaced[n:]
	}
	return text
}

func (p *pieces) word(text string) (rest string) {
	end := strings.IndexFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("-_'’.", r)
	})
	if end < 0 {
		end = len(text)
	}
	word := strings.TrimRight(text[:end], ".'’-")
	if word == "" {
		word = text[:end]
	}
	switch {
	case p.names[word]:
		p.add(NamePiece, word)
	case joins(word):
		p.add(JoinPiece, word)
	default:
		p.add(PlainPiece, word)
	}
	return text[len(word):]
}
