package bind

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

// parter parts the blocks of one guide into sentences. What it reads a block
// into serves for the next one too.
type parter struct {
	source  []byte
	outline []byte    // the words of a block, with a nought for each figure, so that no figure ends a sentence
	pieces  []stretch // of the block
	now     []stretch // of the sentence that is being parted from it
	found   []Sentence
	room    []Piece // for the pieces of sentences
}

// stretch is where a piece lies in the outline of its block, or a term that
// begins there.
type stretch struct {
	from, to int
	figure   *guide.FigureNode // nil of words
	term     *guide.Term
}

// part parts the words of one block into sentences.
func (p *parter) part(n ast.Node) []Sentence {
	outline := p.read(n)
	var terms []guide.Term
	end := sentenceEnd(outline)
	p.now, p.found = p.now[:0], p.found[:0]
	for _, s := range p.pieces {
		if s.term != nil {
			terms = append(terms, *s.term)
			continue
		}
		for s.to > end && s.figure == nil {
			p.now = append(p.now, stretch{from: s.from, to: end})
			p.found = append(p.found, p.sentence(outline, terms))
			p.now, terms, s.from = p.now[:0], nil, end
			end += sentenceEnd(outline[end:])
		}
		p.now = append(p.now, s)
	}
	if s := p.sentence(outline, terms); s.Pieces != nil || s.terms != nil {
		p.found = append(p.found, s)
	}
	return slices.Clone(p.found)
}

// whole returns the words of a block as one sentence.
func (p *parter) whole(n ast.Node) Sentence {
	outline := p.read(n)
	p.now = slices.DeleteFunc(append(p.now[:0], p.pieces...), func(s stretch) bool { return s.term != nil })
	return p.sentence(outline, nil)
}

// sentence makes a sentence of the pieces that were parted from a block, without
// space at its ends.
func (p *parter) sentence(outline string, terms []guide.Term) Sentence {
	kept, last, figures := p.now[:0], len(p.now)-1, false
	for i, s := range p.now {
		if s.figure == nil && len(kept) == 0 {
			s.from = s.to - len(strings.TrimLeft(outline[s.from:s.to], " "))
		}
		if s.figure == nil && i == last {
			s.to = s.from + len(strings.TrimRight(outline[s.from:s.to], " "))
		}
		if s.from < s.to {
			kept, figures = append(kept, s), figures || s.figure != nil
		}
	}
	said := Sentence{terms: terms}
	if len(kept) == 0 {
		return said
	}
	said.Pieces = p.put(outline, kept)
	if !figures {
		said.words = outline[kept[0].from:kept[len(kept)-1].to]
	}
	return said
}

// put makes pieces, those of many sentences in one row.
func (p *parter) put(outline string, all []stretch) []Piece {
	const row = 64
	if cap(p.room)-len(p.room) < len(all) {
		p.room = make([]Piece, 0, max(row, len(all)))
	}
	from := len(p.room)
	for _, s := range all {
		if s.figure != nil {
			p.room = append(p.room, Piece{Figure: s.figure})
		} else {
			p.room = append(p.room, Piece{Words: outline[s.from:s.to]})
		}
	}
	return p.room[from:len(p.room):len(p.room)]
}

// read reads a block, and returns its outline.
func (p *parter) read(n ast.Node) string {
	p.outline, p.pieces = p.outline[:0], p.pieces[:0]
	p.below(n)
	return string(p.outline)
}

// below reads the words, the figures and the terms below a node, in order.
func (p *parter) below(n ast.Node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		from := len(p.outline)
		switch c := c.(type) {
		case *guide.FigureNode:
			p.outline = append(p.outline, '0')
			p.pieces = append(p.pieces, stretch{from: from, to: from + 1, figure: c})
		case *ast.Text:
			p.outline = append(p.outline, c.Segment.Value(p.source)...)
			if c.SoftLineBreak() || c.HardLineBreak() {
				p.outline = append(p.outline, ' ')
			}
			p.pieces = append(p.pieces, stretch{from: from, to: len(p.outline)})
		case *ast.String:
			p.outline = append(p.outline, c.Value...)
			p.pieces = append(p.pieces, stretch{from: from, to: len(p.outline)})
		case *guide.TermNode:
			p.pieces = append(p.pieces, stretch{term: &c.Term})
			p.below(c)
		default:
			p.below(c)
		}
	}
}
