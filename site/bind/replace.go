package bind

import (
	"maps"
	"slices"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// Replace puts guides that were made anew in the place of what the book holds of
// them, and binds anew the guides that quote them. Where one of them shows
// another face to the book than before, or anything is told of the book, it does
// nothing and reports false: the whole is to be bound.
//
// Leaves are changed where they are, so that nobody may read the book meanwhile.
func (b *Book) Replace(outlines []*Outline) bool {
	anew := map[*Leaf]*Outline{}
	for _, o := range outlines {
		l := b.linker.leaves[o.Guide.File]
		if !b.sound || l == nil || !sameFace(l.outline, o) {
			return false
		}
		anew[l] = o
	}
	for l := range anew {
		b.quoter.knowFigures(anew[l].Guide)
	}
	fresh, sound := b.joinedAnew(anew)
	if !sound {
		for l := range anew {
			b.quoter.knowFigures(l.Guide)
		}
		return false
	}
	for l, now := range fresh {
		*l = *now
	}
	b.stale = true
	return true
}

// joinedAnew binds guides that were made anew, and those that quote them, to the
// rest of the book, and reports whether nothing was told of them.
func (b *Book) joinedAnew(anew map[*Leaf]*Outline) (fresh map[*Leaf]*Leaf, sound bool) {
	fresh, faults := map[*Leaf]*Leaf{}, &fault.List{}
	join := func(l *Leaf, o *Outline) {
		now := newLeaf(o, b.Edition)
		now.Previous, now.Next = l.Previous, l.Next
		b.join(now, faults)
		now.key = now.Key()
		fresh[l] = now
	}
	for l, o := range anew {
		join(l, o)
	}
	for _, l := range b.Leaves {
		if anew[l] == nil && l.quotesOneOf(anew) {
			join(l, l.outline)
		}
	}
	return fresh, faults.Len() == 0
}

// quotesOneOf reports whether a leaf names a figure of one of some guides.
func (l *Leaf) quotesOneOf(guides map[*Leaf]*Outline) bool {
	return slices.ContainsFunc(l.Guide.Quotes, func(q guide.Quote) bool {
		for _, o := range guides {
			if o.Guide.Figures[q.Address] != nil {
				return true
			}
		}
		return false
	})
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
