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
	found []sentence
}

func newSentenceFinder(l *Leaf) *sentenceFinder {
	f := &sentenceFinder{leaf: l, where: l.Guide.Docket.Code, heads: map[ast.Node]string{}}
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
}

// hasWords reports whether a node is a block of words and figures.
func hasWords(n ast.Node) bool {
	first := n.FirstChild()
	return first != nil && first.Type() == ast.TypeInline
}

// block parts the words of one block into sentences.
func (f *sentenceFinder) block(n ast.Node) []Sentence {
	var all []Sentence
	var s Sentence
	pieces, outline := f.blockPieces(n)
	end, at := sentenceEnd(outline), 0
	for _, p := range pieces {
		if p.term != nil {
			s.terms = append(s.terms, *p.term)
			continue
		}
		for at+p.length > end && p.Figure == nil {
			cut := end - at
			s.Pieces = append(s.Pieces, Piece{Words: p.Words[:cut]})
			p.Words, p.length, at = p.Words[cut:], p.length-cut, end
			all, s = append(all, s.trimmed()), Sentence{}
			end += sentenceEnd(outline[end:])
		}
		s.Pieces, at = append(s.Pieces, p.Piece), at+p.length
	}
	if s = s.trimmed(); s.Pieces != nil || s.terms != nil {
		all = append(all, s)
	}
	return all
}

// outlined is a piece with its length in the outline of its block, or a term
// that begins here.
type outlined struct {
	Piece
	length int
	term   *guide.Term
}

// blockPieces returns the pieces of a block, and its outline: its words, with
// a nought for each figure, so that no figure ends a sentence.
func (f *sentenceFinder) blockPieces(n ast.Node) (all []outlined, outline string) {
	all = make([]outlined, 0, n.ChildCount())
	var b strings.Builder
	if lines := n.Lines(); lines != nil && lines.Len() > 0 {
		b.Grow(lines.At(lines.Len()-1).Stop - lines.At(0).Start)
	}
	f.pieces(n, func(p Piece, t *guide.Term) {
		o := outlined{Piece: p, length: len(p.Words), term: t}
		if p.Figure != nil {
			o.length = 1
			b.WriteByte('0')
		}
		b.WriteString(p.Words)
		all = append(all, o)
	})
	return all, b.String()
}

// trimmed returns the sentence, its pieces in the same place, without space at its
// ends.
func (s Sentence) trimmed() Sentence {
	kept, last := s.Pieces[:0], len(s.Pieces)-1
	for i, p := range s.Pieces {
		if len(kept) == 0 {
			p.Words = strings.TrimLeft(p.Words, " ")
		}
		if i == last {
			p.Words = strings.TrimRight(p.Words, " ")
		}
		if p.Figure != nil || p.Words != "" {
			kept = append(kept, p)
		}
	}
	if s.Pieces = kept; len(kept) == 0 {
		s.Pieces = nil
	}
	return s
}

// text returns a sentence of the leaf as it is printed.
func (f *sentenceFinder) text(s Sentence) string {
	all := ""
	for _, p := range s.Pieces {
		if p.Figure != nil {
			all += f.figureText(p.Figure)
		}
		all += p.Words
	}
	return all
}

// pieces hands on the words, the figures and the terms below a node, in order.
func (f *sentenceFinder) pieces(n ast.Node, piece func(Piece, *guide.Term)) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *guide.FigureNode:
			piece(Piece{Figure: c}, nil)
		case *ast.Text:
			words, space := c.Segment.Value(f.leaf.Guide.Source), ""
			if c.SoftLineBreak() || c.HardLineBreak() {
				space = " "
			}
			piece(Piece{Words: string(words) + space}, nil)
		case *ast.String:
			piece(Piece{Words: string(c.Value)}, nil)
		case *guide.TermNode:
			piece(Piece{}, &c.Term)
			f.pieces(c, piece)
		default:
			f.pieces(c, piece)
		}
	}
}

// words returns what stands below a node as it is printed.
func (f *sentenceFinder) words(n ast.Node) string {
	all := ""
	f.pieces(n, func(p Piece, _ *guide.Term) {
		if p.Figure != nil {
			all += f.figureText(p.Figure)
		}
		all += p.Words
	})
	return all
}

// sentenceEnd returns where the first sentence of some words ends, which is
// their end where no other follows.
func sentenceEnd(words string) int {
	for i := range len(words) {
		if words[i] != ' ' || !endsSentence(words[:i]) {
			continue
		}
		next := strings.TrimLeft(words[i:], " ")
		if next == "" {
			continue
		}
		if first, _ := utf8.DecodeRuneInString(next); unicode.IsUpper(first) || unicode.IsDigit(first) || strings.ContainsRune("“\"'‘(", first) {
			return i
		}
	}
	return len(words)
}

// endsSentence reports whether words end in a stop, or in one before a closing
// quote or bracket.
func endsSentence(words string) bool {
	for words != "" {
		switch r, size := utf8.DecodeLastRuneInString(words); r {
		case '.', '!', '?':
			return true
		case '"', '\'', '”', '’', ')':
			words = words[:len(words)-size]
		default:
			return false
		}
	}
	return false
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
