package bind

import (
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

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
	f := sentenceFinder{leaf: l, where: l.Guide.Docket.Code, heads: map[ast.Node]string{}}
	for _, h := range l.Heads {
		f.heads[h.Node] = h.Code
	}
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

// walk looks for figures below a node. A block whose children are text and
// figures is read as sentences.
func (f *sentenceFinder) walk(n ast.Node) {
	if n == nil {
		return
	}
	if code, ok := f.heads[n]; ok {
		f.where = code
	}
	if first := n.FirstChild(); first != nil && first.Type() == ast.TypeInline {
		f.read(n)
		return
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		f.walk(c)
	}
}

// read parts the words of one block into sentences and keeps those that hold
// figures.
func (f *sentenceFinder) read(n ast.Node) {
	s := sentence{where: f.where}
	keep := func() {
		s.form, s.text = strings.TrimSpace(s.form), strings.TrimSpace(s.text)
		if s.figures != nil {
			f.found = append(f.found, s)
		}
		s = sentence{where: f.where}
	}
	f.pieces(n, func(words string, figure *guide.FigureNode) {
		if figure != nil {
			s.form += "<figure:" + figure.Address + ">"
			s.text += f.figureText(figure)
			s.figures = append(s.figures, figure.Address)
			return
		}
		for {
			end := sentenceEnd(words)
			s.form, s.text = s.form+words[:end], s.text+words[:end]
			if end == len(words) {
				return
			}
			words = words[end:]
			keep()
		}
	})
	keep()
}

// pieces hands on the words and the figures below a node, in order.
func (f *sentenceFinder) pieces(n ast.Node, piece func(words string, figure *guide.FigureNode)) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *guide.FigureNode:
			piece("", c)
		case *ast.Text:
			words := string(c.Segment.Value(f.leaf.Guide.Source))
			if c.SoftLineBreak() || c.HardLineBreak() {
				words += " "
			}
			piece(words, nil)
		case *ast.String:
			piece(string(c.Value), nil)
		default:
			f.pieces(c, piece)
		}
	}
}

// words returns what stands below a node as it is printed.
func (f *sentenceFinder) words(n ast.Node) string {
	all := ""
	f.pieces(n, func(piece string, figure *guide.FigureNode) {
		if figure != nil {
			piece = f.figureText(figure)
		}
		all += piece
	})
	return all
}

// sentenceEnd returns where the first sentence of some words ends, which is
// their end where no other follows.
func sentenceEnd(words string) int {
	for i, r := range words {
		if r != ' ' || i == 0 || !strings.ContainsRune(".!?", rune(words[i-1])) {
			continue
		}
		next := strings.TrimLeft(words[i:], " ")
		if next == "" {
			continue
		}
		if first := []rune(next)[0]; unicode.IsUpper(first) || unicode.IsDigit(first) || strings.ContainsRune("“\"'‘(", first) {
			return i
		}
	}
	return len(words)
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
