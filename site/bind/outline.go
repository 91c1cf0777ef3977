package bind

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

// Outline is all that a book must know of one guide to take it in. It is a pure
// function of the guide, so that it is made once however often the book is
// bound.
type Outline struct {
	Guide *guide.Guide // whole or light

	heads    []Head
	links    []mention
	pictures []picture
	explains []explanation
	said     map[ast.Node][]Sentence // of a whole guide: what each of its blocks says
}

// mention is a link or a picture by its destination, and where in the guide's
// text it stands; -1 where that is not known.
type mention struct {
	destination string
	at          int
}

// picture is a picture that a guide shows, and whether words stand for it.
type picture struct {
	mention
	worded bool
}

// explanation is a term with the sentence that explains it.
type explanation struct {
	term     guide.Term
	sentence Sentence
}

// NewOutline takes out of a whole guide what the book must know of it.
func NewOutline(g *guide.Guide) *Outline {
	o := &Outline{Guide: g, heads: heads(g), said: map[ast.Node][]Sentence{}}
	p := &parter{source: g.Source}
	for _, tree := range []ast.Node{g.Docket.Answer, g.Tree} {
		visit(tree, func(n ast.Node) {
			switch n := n.(type) {
			case *ast.Link:
				o.links = append(o.links, mention{string(n.Destination), n.Pos()})
			case *ast.Image:
				o.pictures = append(o.pictures, picture{mention{string(n.Destination), n.Pos()}, worded(g, n)})
			}
			if n.Type() == ast.TypeBlock && hasWords(n) {
				o.said[n] = p.part(n)
				if tree == g.Tree {
					o.explain(n, p)
				}
			}
		})
	}
	return o
}

// Light returns the outline of the guide made light. It holds no node of the
// guide's tree.
func (o *Outline) Light() *Outline {
	light := *o
	light.Guide, light.said = o.Guide.Light(), nil
	light.heads = make([]Head, len(o.heads))
	for i, h := range o.heads {
		h.Node, h.Code = nil, strings.Clone(h.Code)
		light.heads[i] = h
	}
	light.explains = make([]explanation, len(o.explains))
	for i, e := range o.explains {
		e.term.Word = strings.Clone(e.term.Word)
		light.explains[i] = explanation{e.term, e.sentence.light()}
	}
	return &light
}

// light returns the sentence with figures that stand in no tree.
func (s Sentence) light() Sentence {
	light := Sentence{Pieces: make([]Piece, len(s.Pieces))}
	for i, p := range s.Pieces {
		if p.Figure != nil {
			alone := &guide.FigureNode{Address: strings.Clone(p.Figure.Address)}
			if p.Figure.Figure != nil {
				alone.Figure = p.Figure.Figure.Light()
			}
			p.Figure = alone
		}
		p.Words = strings.Clone(p.Words) // no more is held than this sentence
		light.Pieces[i] = p
	}
	return light
}

// worded reports whether words stand for a picture.
func worded(g *guide.Guide, n *ast.Image) bool {
	words := false
	visit(n, func(c ast.Node) {
		switch c := c.(type) {
		case *ast.Text:
			words = words || len(bytes.TrimSpace(c.Segment.Value(g.Source))) > 0
		case *ast.String, *guide.FigureNode:
			words = true
		}
	})
	return words
}
