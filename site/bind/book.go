// Package bind makes one book of finished guides. It is the only stage that
// sees all of them: it puts them in order, numbers their headings, turns the
// links between their files into links between pages, and finds what two
// guides may not share. It hands on leaves, each of which holds all that its
// page needs, so that any page can be made alone.
package bind

import (
	"cmp"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/site/folder"
	"bindpost/site/guide"
)

// ContentsPath is the page of the contents, and the page to open first.
const ContentsPath = "index.html"

// Book is all guides of a copy in their order.
type Book struct {
	Edition    guide.Edition
	Topics     []Topic          // those that hold a guide, in the order of the contents
	Leaves     []*Leaf          // in the order in which the book is read
	Drawings   []folder.Drawing // those that a guide shows, by path
	References []Cited
	Cautions   []Heeded
	Glossary   []Explained     // by the alphabet
	Library    *method.Library // the methods that the guides were made with

	linker *linker
	hung   *gallery
	quoter *quoter
	sound  bool // nothing was told when it was bound
	stale  bool // what is gathered from all guides is older than one of them, see Settle
}

// Parts are what a book is made of.
type Parts struct {
	Guides   []*guide.Guide
	Outlines []*Outline // of the guides, in the same order; nil where they are still to be made
	Edition  guide.Edition
	Drawings []folder.Drawing
	Standing []*guide.Standing
	Methods  []*method.Sheet // the author's own
	Library  *method.Library // all that the guides were made with
	Lost     []string        // files that are there and could not be read
}

// Topic is one part of the contents.
type Topic struct {
	Name   string  // "" holds the guides that name no topic
	Leaves []*Leaf // the guides that stand under it
	Also   []Turn  // guides that stand under another topic and name this one too
}

// Size returns how many guides stand under the topic; where none does, how many
// name it.
func (t Topic) Size() int {
	if len(t.Leaves) == 0 {
		return len(t.Also)
	}
	return len(t.Leaves)
}

// Leaf is one guide in its place in the book.
type Leaf struct {
	Guide    *guide.Guide
	Edition  guide.Edition
	Path     string                   // of its page, with slashes: "speaker-wire.html"
	Heads    []Head                   // in the order of the guide
	Links    []Link                   // those that lead to guides, each destination once
	Pictures map[string]string        // files of drawings by the destination of a picture
	Cautions []*guide.Caution         // those of the guide, and the warnings of figures that it quotes, gravest first
	Guards   []Guard                  // the same, each in its place, in the order of the page
	Drawings []string                 // the drawings that the page shows, by their paths in the manual, sorted
	Quoted   map[string]*guide.Figure // figures of other guides, by address
	Previous *Turn
	Next     *Turn

	outline *Outline
	key     string // see Key; "" until the leaf stands in its place
}

// Turn is what a page says of another page.
type Turn struct {
	Code     string
	Question string
	Path     string
}

// turn returns what other pages say of the leaf.
func (l *Leaf) turn() Turn {
	return Turn{Code: l.Guide.Docket.Code, Question: l.Guide.Docket.Question, Path: l.Path}
}

// Leaf returns the guide of a page code, and nil where the book has none.
func (b *Book) Leaf(code string) *Leaf {
	for _, l := range b.Leaves {
		if l.Guide.Docket.Code == code {
			return l
		}
	}
	return nil
}

// PagePath returns the path of the page of a guide's file.
func PagePath(file string) string {
	return strings.TrimSuffix(file, path.Ext(file)) + ".html"
}

// Bind makes the book of its parts. The guides may come in any order; the book
// is the same. With a stop on the list the book is not fit to print.
func Bind(p Parts) (*Book, *fault.List) {
	guides, edition, faults := p.Guides, p.Edition, &fault.List{}
	b := &Book{Edition: edition, Library: p.Library}
	outlines := p.outlines()
	for _, g := range inOrder(guides, b.topicOrder(guides)) {
		b.Leaves = append(b.Leaves, newLeaf(outlines[g], edition))
	}
	checkNames(b.Leaves, faults)
	checkTopics(b.Leaves, edition.Topics, faults)
	b.linker, b.hung, b.quoter = newLinker(b.Leaves), newGallery(p.Drawings, p.Lost), newQuoter(b.Leaves)
	for _, l := range b.Leaves {
		b.join(l, faults)
	}
	b.hung.check(faults)
	b.Drawings = b.hung.kept()
	unused(p, b.hung, faults)
	b.setTurns()
	b.setTopics(b.topicOrder(guides))
	b.setBack()
	b.setGlossary(faults)
	for _, l := range b.Leaves {
		l.key = l.Key()
	}
	b.sound = faults.Len() == 0
	return b, faults
}

// join binds one leaf to the rest of the book: where its links and pictures
// lead, which figures of other guides it names, and where its cautions stand.
func (b *Book) join(l *Leaf, faults *fault.List) {
	b.linker.faults, b.hung.faults, b.quoter.faults = faults, faults, faults
	l.Links = b.linker.links(l)
	l.Pictures = b.hung.hang(l)
	b.quoter.quote(l)
	l.setGuards()
}

// newLeaf returns a guide as a leaf that stands nowhere yet.
func newLeaf(o *Outline, e guide.Edition) *Leaf {
	return &Leaf{
		Guide: o.Guide, Edition: e, Path: PagePath(o.Guide.File), Cautions: slices.Clone(o.Guide.Cautions), Heads: o.heads, outline: o,
	}
}

// outlines returns the outline of each guide.
func (p Parts) outlines() map[*guide.Guide]*Outline {
	all := make(map[*guide.Guide]*Outline, len(p.Guides))
	for i, g := range p.Guides {
		if p.Outlines != nil {
			all[g] = p.Outlines[i]
		} else {
			all[g] = NewOutline(g)
		}
	}
	return all
}

// topicOrder returns the topics in the order of the contents: those of the
// imprint, then others by name, which stand only beside a fault or where the
// imprint names none.
func (b *Book) topicOrder(guides []*guide.Guide) []string {
	order := slices.Clone(b.Edition.Topics)
	var others []string
	for _, g := range guides {
		for _, t := range g.Docket.Topics {
			if !slices.Contains(order, t) && !slices.Contains(others, t) {
				others = append(others, t)
			}
		}
	}
	slices.Sort(others)
	return append(order, others...)
}

// inOrder returns the guides as they follow each other in the book: by the
// topic they stand under, then by their order in it, then by code. Guides of
// no topic come last.
func inOrder(guides []*guide.Guide, topics []string) []*guide.Guide {
	rank := func(g *guide.Guide) int {
		if len(g.Docket.Topics) == 0 {
			return len(topics)
		}
		return slices.Index(topics, g.Docket.Topics[0])
	}
	sorted := slices.Clone(guides)
	slices.SortFunc(sorted, func(x, y *guide.Guide) int {
		return cmp.Or(
			cmp.Compare(rank(x), rank(y)),
			cmp.Compare(x.Docket.Order, y.Docket.Order),
			cmp.Compare(x.Docket.Code, y.Docket.Code),
			cmp.Compare(x.File, y.File),
		)
	})
	return sorted
}

// setTurns tells each leaf which pages come before and after it.
func (b *Book) setTurns() {
	for i, l := range b.Leaves {
		if i > 0 {
			t := b.Leaves[i-1].turn()
			l.Previous = &t
		}
		if i < len(b.Leaves)-1 {
			t := b.Leaves[i+1].turn()
			l.Next = &t
		}
	}
}

// setTopics groups the leaves for the contents.
func (b *Book) setTopics(order []string) {
	at := map[string]int{}
	for i, name := range order {
		at[name] = i
	}
	topics := make([]Topic, len(order)+1)
	for i, name := range order {
		topics[i].Name = name
	}
	for _, l := range b.Leaves {
		named := l.Guide.Docket.Topics
		if len(named) == 0 {
			topics[len(order)].Leaves = append(topics[len(order)].Leaves, l)
			continue
		}
		topics[at[named[0]]].Leaves = append(topics[at[named[0]]].Leaves, l)
		for _, name := range named[1:] {
			topics[at[name]].Also = append(topics[at[name]].Also, l.turn())
		}
	}
	for _, t := range topics {
		if len(t.Leaves)+len(t.Also) > 0 {
			b.Topics = append(b.Topics, t)
		}
	}
}
