package bind

import (
	"maps"
	"slices"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// Replace puts a guide that was made anew in the place of what the book holds of
// it, and binds anew the guides that quote it; it returns the leaves that it
// touched. Where the guide shows another face to the book than before, or
// anything is told of the book, it does nothing and returns nil: the whole is to
// be bound.
//
// Leaves are changed where they are, so that nobody may read the book meanwhile.
func (b *Book) Replace(o *Outline) []*Leaf {
	old := b.linker.leaves[o.Guide.File]
	if !b.sound || old == nil || !sameFace(old.outline, o) {
		return nil
	}
	before := old.Guide
	b.quoter.knowFigures(o.Guide)
	touched, faults := []*Leaf{old}, &fault.List{}
	for _, l := range b.Leaves {
		if l != old && l.quotes(o.Guide) {
			touched = append(touched, l)
		}
	}
	fresh := make([]*Leaf, len(touched))
	for i, l := range touched {
		outline := l.outline
		if l == old {
			outline = o
		}
		fresh[i] = newLeaf(outline, b.Edition)
		fresh[i].Previous, fresh[i].Next = l.Previous, l.Next
		b.join(fresh[i], faults)
	}
	if faults.Len() > 0 {
		b.quoter.knowFigures(before)
		return nil
	}
	for i, l := range touched {
		*l = *fresh[i]
	}
	b.stale = true
	return touched
}

// quotes reports whether a leaf names a figure of a guide.
func (l *Leaf) quotes(g *guide.Guide) bool {
	return slices.ContainsFunc(l.Guide.Quotes, func(q guide.Quote) bool { return g.Figures[q.Address] != nil })
}

// Settle gathers anew what stands at the back of the book, where a guide was
// replaced since.
func (b *Book) Settle() {
	if !b.stale {
		return
	}
	b.References, b.Cautions, b.Glossary, b.stale = nil, nil, nil, false
	b.setBack()
	b.setGlossary(&fault.List{}) // the terms are those of before, of which nothing was told
}

// sameFace reports whether two makings of one guide are the same to the rest of
// the book: its place, its codes, its blocks and their methods, what it takes
// from the copy, and what others may quote, whatever the figures are now.
func sameFace(x, y *Outline) bool {
	g, h := x.Guide, y.Guide
	return g.Docket.Code == h.Docket.Code && g.Docket.Question == h.Docket.Question && g.Docket.Order == h.Docket.Order &&
		slices.Equal(g.Docket.Topics, h.Docket.Topics) &&
		slices.EqualFunc(x.heads, y.heads, func(a, b Head) bool { return a.Code == b.Code }) &&
		slices.EqualFunc(x.pictures, y.pictures, func(a, b picture) bool { return a.destination == b.destination }) &&
		slices.EqualFunc(x.explains, y.explains, func(a, b explanation) bool { return a.term.Word == b.term.Word }) &&
		slices.EqualFunc(g.Tables, h.Tables, sameTable) &&
		slices.EqualFunc(g.Standing, h.Standing, func(a, b *guide.Standing) bool { return a.Name == b.Name }) &&
		maps.EqualFunc(g.Figures, h.Figures, sameNamed) &&
		!g.Lost && !h.Lost && len(g.Broken)+len(h.Broken) == 0
}

func sameTable(x, y *guide.Table) bool {
	return x.Name == y.Name && x.Number == y.Number && x.Method == y.Method && slices.Equal(x.Cautions, y.Cautions) &&
		slices.EqualFunc(x.Claims, y.Claims, func(a, b guide.Claim) bool { return slices.Equal(a.Results, b.Results) })
}

// sameNamed reports whether two figures of one address are the same thing,
// whatever their numbers.
func sameNamed(x, y *guide.Figure) bool {
	return x.Of == y.Of && x.Solved == y.Solved && slices.Equal(x.Rests, y.Rests)
}
