package bind

import (
	"cmp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// GlossaryPath is the page of the terms that the guides explain.
const GlossaryPath = "glossary.html"

// Explained is a term with the sentence that explains it.
type Explained struct {
	Term     guide.Term
	Leaf     *Leaf // of the sentence
	Sentence Sentence
	Also     []string // other words for it
	Where    []Spot   // every guide that explains it, that of the sentence first
}

// TermID returns the id of the words that a guide marks as a term.
func TermID(g *guide.Guide, t guide.Term) string { return g.Docket.Code + "-term-" + t.ID() }

// setGlossary gathers the terms by the alphabet. One that two guides explain
// stands with the sentence that comes first in the book.
func (b *Book) setGlossary(faults *fault.List) {
	known := map[string]*Explained{}
	for _, l := range b.Leaves {
		for _, x := range l.outline.explains {
			e := Explained{Term: x.term, Leaf: l, Sentence: x.sentence}
			e.Where = []Spot{{l.Guide.Docket.Code, l.Path + "#" + TermID(l.Guide, e.Term)}}
			first := known[e.Term.ID()]
			if first == nil {
				known[e.Term.ID()] = &e
				continue
			}
			first.Where = append(first.Where, e.Where...)
			faults.Add(note(e.Term.Place, "%q is explained in %s too", e.Term.Word, first.Leaf.Guide.File).
				Fix("take it out of one of the two, if the other will do; the glossary prints that of %s and names both", first.Leaf.Guide.Docket.Code))
		}
	}
	for _, e := range known {
		e.Also = slices.DeleteFunc(b.otherWords(e.Term.Word), func(word string) bool {
			return known[guide.Term{Word: word}.ID()] != nil // it has an entry of its own
		})
		b.Glossary = append(b.Glossary, *e)
	}
	slices.SortFunc(b.Glossary, func(x, y Explained) int { return byAlphabet(x.Term.Word, y.Term.Word) })
}

// otherWords returns the other words for a term of the trade.
func (b *Book) otherWords(word string) []string {
	if b.Library == nil {
		return nil
	}
	for _, t := range b.Library.Terms() {
		if strings.EqualFold(t.Name, word) {
			return slices.Clone(t.Also)
		}
	}
	return nil
}

// byAlphabet compares two words as an index orders them: capital and small
// letters are the same, and so are a space and a hyphen.
func byAlphabet(x, y string) int {
	key := strings.NewReplacer("-", " ").Replace
	return cmp.Or(cmp.Compare(strings.ToLower(key(x)), strings.ToLower(key(y))), cmp.Compare(x, y))
}

// explain notes the terms of a block of the guide with the sentences that explain
// them. A term that heads a definition is explained by all that stands below it.
func (o *Outline) explain(n ast.Node, p *parter) {
	for _, s := range o.said[n] {
		terms := s.terms
		if below := definition(n); below != nil && terms != nil {
			s = p.whole(below)
		}
		for _, t := range terms {
			o.explains = append(o.explains, explanation{t, s})
		}
	}
}

// definition returns what stands below the head of a definition; nil of any
// other block.
func definition(n ast.Node) ast.Node {
	if n.Kind() != extast.KindDefinitionTerm {
		return nil
	}
	below := n.NextSibling()
	for below != nil && below.Kind() == extast.KindDefinitionTerm {
		below = below.NextSibling()
	}
	if below == nil {
		return nil
	}
	return below.FirstChild()
}
