package guide

import (
	"sort"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
)

// saying is the words of one block of text: a paragraph, a heading, a cell.
// Pieces that are no words, such as figures, stand in it as one sign.
type saying struct {
	text    strings.Builder
	runs    []run        // the whole of the text, in order
	figures []saidFigure // in the order of the text
	marked  bool         // it stands in a list under a mark that says never to do it
}

// run is a stretch of a saying's text that stands in the guide as it is; or,
// held, one that was put in the place of something else, and is told there.
type run struct {
	at, place int // its first byte in the text, and in the guide
	held      bool
}

// saidFigure is a figure among words, by the place of its sign in the text.
type saidFigure struct {
	at   int
	node *FigureNode
}

// The signs that stand for what is no word.
const (
	figureSign = '\x01'
	otherSign  = '\x02'
)

// saying gathers the words below a block.
func (r *reader) saying(n ast.Node) *saying {
	s := &saying{}
	if from, to, ok := extent(n); ok {
		s.text.Grow(to - from)
	}
	s.gather(n, r.source)
	return s
}

// extent returns where the lines of a block stand in the guide; false of one
// that keeps none.
func extent(n ast.Node) (from, to int, ok bool) {
	if n.Type() != ast.TypeBlock || n.Lines().Len() == 0 {
		return 0, 0, false
	}
	return n.Lines().At(0).Start, n.Lines().At(n.Lines().Len() - 1).Stop, true
}

func (s *saying) gather(n ast.Node, source []byte) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			s.begin(c.Segment.Start, false)
			s.text.Write(c.Segment.Value(source))
			if c.SoftLineBreak() || c.HardLineBreak() {
				s.say(" ", c.Segment.Stop)
			}
		case *FigureNode:
			s.figures = append(s.figures, saidFigure{s.text.Len(), c})
			s.say(string(figureSign), c.Pos())
		case *ast.String:
			if sign, ok := signOf(c); ok {
				s.sayWord(string(c.Value), sign)
			}
		case *ast.CodeSpan, *ast.AutoLink:
			s.say(string(otherSign), 0)
		default:
			s.gather(c, source)
		}
	}
}

// say says words that stand at a place of the guide.
func (s *saying) say(words string, place int) {
	s.begin(place, false)
	s.text.WriteString(words)
}

// sayWord says a word that was put in the place of its sign: what is found in
// it is told at the sign.
func (s *saying) sayWord(word string, sign [2]int) {
	if word == "" {
		return
	}
	s.begin(sign[0], true)
	s.text.WriteString(word[:len(word)-1])
	s.begin(sign[1]-1, true)
	s.text.WriteString(word[len(word)-1:])
}

// sayHeld says words that stand nowhere by themselves, and are told at one
// place of the guide.
func (s *saying) sayHeld(words string, place int) {
	s.begin(place, true)
	s.text.WriteString(words)
}

// begin begins a run at the end of the text, unless what follows goes on as the
// last does.
func (s *saying) begin(place int, held bool) {
	at := s.text.Len()
	if last := len(s.runs) - 1; !held && last >= 0 && !s.runs[last].held && s.runs[last].place+at-s.runs[last].at == place {
		return
	}
	s.runs = append(s.runs, run{at, place, held})
}

// place returns the place in the guide of a stretch of the words.
func (s *saying) place(r *reader, start, end int) fault.Place {
	return r.text.Place(s.placeOf(start), s.placeOf(end-1)+1)
}

// placeOf returns where a byte of the text stands in the guide.
func (s *saying) placeOf(at int) int {
	r := s.runs[sort.Search(len(s.runs), func(i int) bool { return s.runs[i].at > at })-1]
	if r.held {
		return r.place
	}
	return r.place + at - r.at
}

// figuresIn returns the figures in a stretch of the text.
func (s *saying) figuresIn(start, end int) []saidFigure {
	from := sort.Search(len(s.figures), func(i int) bool { return s.figures[i].at >= start })
	to := sort.Search(len(s.figures), func(i int) bool { return s.figures[i].at >= end })
	return s.figures[from:to]
}
