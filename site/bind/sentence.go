package bind

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

// Piece is a part of a sentence: words, or a figure.
type Piece struct {
	Words  string
	Figure *guide.FigureNode // nil of words
}

// Sentence is a sentence of a guide as it is printed.
type Sentence struct {
	Pieces []Piece
	words  string       // all of it, where it holds no figure
	terms  []guide.Term // that it explains
}

// sentence is a sentence of a guide that holds figures.
type sentence struct {
	where   string // code of the section, or of the guide
	form    string // as it was written: figures by their addresses
	text    string // as it is printed
	figures []string
}

// sentences finds the sentences of a leaf that hold figures, those of the
// short answer first.
func sentences(l *Leaf) []sentence {
	f := newSentenceFinder(l)
	f.walk(l.Guide.Docket.Answer)
	f.walk(l.Guide.Tree)
	return f.found
}

type sentenceFinder struct {
	leaf  *Leaf
	where string
	heads map[ast.Node]string
	said  map[ast.Node][]Sentence // of each block, where they are parted already
	found []sentence

	parter parter
}

func newSentenceFinder(l *Leaf) *sentenceFinder {
	f := &sentenceFinder{leaf: l, where: l.Guide.Docket.Code, heads: make(map[ast.Node]string, len(l.Heads)), parter: parter{source: l.Guide.Source}}
	if l.outline != nil {
		f.said = l.outline.said
	}
	for _, h := range l.Heads {
		f.heads[h.Node] = h.Code
	}
	return f
}

// walk looks for figures below a node. A block whose children are text and
// figures is read as sentences.
func (f *sentenceFinder) walk(n ast.Node) {
	if n == nil {
		return
	}
	if code, ok := f.heads[n]; ok {
		f.where = code
	}
	if !hasWords(n) {
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			f.walk(c)
		}
		return
	}
	for _, said := range f.block(n) {
		if said.words == "" {
			f.find(said)
		}
	}
}

// find notes a sentence, if it holds a figure.
func (f *sentenceFinder) find(said Sentence) {
	s := sentence{where: f.where}
	for _, p := range said.Pieces {
		if p.Figure == nil {
			s.form, s.text = s.form+p.Words, s.text+p.Words
			continue
		}
		s.form += "<figure:" + p.Figure.Address + ">"
		s.text += f.figureText(p.Figure)
		s.figures = append(s.figures, p.Figure.Address)
	}
	if s.figures != nil {
		f.found = append(f.found, s)
	}
}

// hasWords reports whether a node is a block of words and figures.
func hasWords(n ast.Node) bool {
	first := n.FirstChild()
	return first != nil && first.Type() == ast.TypeInline
}

// block returns the sentences of one block.
func (f *sentenceFinder) block(n ast.Node) []Sentence {
	if said, parted := f.said[n]; parted {
		return said
	}
	return f.parter.part(n)
}

// text returns a sentence of the leaf as it is printed.
func (f *sentenceFinder) text(s Sentence) string {
	if s.words != "" {
		return s.words
	}
	all := ""
	for _, p := range s.Pieces {
		if p.Figure != nil {
			all += f.figureText(p.Figure)
		}
		all += p.Words
	}
	return all
}

// words returns what stands below a node as it is printed.
func (f *sentenceFinder) words(n ast.Node) string {
	outline, all, from := f.parter.read(n), "", 0
	for _, s := range f.parter.pieces {
		if s.figure != nil {
			all += outline[from:s.from] + f.figureText(s.figure)
			from = s.to
		}
	}
	return all + outline[from:]
}

// sentenceEnd returns where the first sentence of some words ends, which is
// their end where no other follows: behind a stop, and what is closed behind it,
// before a space and the head of the next.
func sentenceEnd(words string) int {
	for i := range len(words) {
		if c := words[i]; c != '.' && c != '!' && c != '?' {
			continue
		}
		end := i + 1
		for closing(words[end:]) > 0 {
			end += closing(words[end:])
		}
		if opensSentence(words[end:]) {
			return end
		}
	}
	return len(words)
}

// closing returns how long the closing quote or bracket is with which words
// begin; 0 where they begin with none.
func closing(words string) int {
	switch r, size := utf8.DecodeRuneInString(words); r {
	case '"', '\'', '”', '’', ')':
		return size
	}
	return 0
}

// opensSentence reports whether words are a space and the head of a sentence.
func opensSentence(words string) bool {
	next := strings.TrimLeft(words, " ")
	if next == "" || len(next) == len(words) {
		return false
	}
	first, _ := utf8.DecodeRuneInString(next)
	return unicode.IsUpper(first) || unicode.IsDigit(first) || strings.ContainsRune("“\"'‘(", first)
}

// figureText is a figure as it stands in a sentence.
func (f *sentenceFinder) figureText(n *guide.FigureNode) string {
	figure := n.Figure
	if figure == nil {
		figure = f.leaf.Quoted[n.Address]
	}
	if figure == nil {
		return ""
	}
	return withUnit(figure.Number, figure.Unit, figure.Why)
}
