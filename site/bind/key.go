package bind

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"maps"
	"slices"
	"strings"
	"sync"

	"bindpost/site/guide"
)

// Key names by hash all that the pages of a leaf are made of: the guide, and
// what the book says of it. Two leaves of one key have the same pages, whatever
// book they stand in.
func (l *Leaf) Key() string {
	if l.key != "" {
		return l.key
	}
	held := allFields.Get().(*fields)
	defer allFields.Put(held)
	f := (*held)[:0]
	f = f.texts(l.Guide.Hash, l.Path)
	f = f.number(len(l.Links))
	for _, k := range l.Links {
		f = f.texts(k.Typed, k.Page, k.Named)
	}
	f = f.number(len(l.Pictures))
	for _, name := range namesIn(l.Pictures) {
		f = f.texts(name, l.Pictures[name])
	}
	f = f.number(len(l.Guards))
	for _, g := range l.Guards {
		f = f.texts(g.Code, g.ID, g.Signal, g.Happens, g.How, g.Instead, g.Ask).number(g.Part)
	}
	f = f.number(len(l.Cautions))
	for _, c := range l.Cautions {
		f = f.texts(c.ID)
	}
	f = f.number(len(l.Quoted))
	for _, address := range namesIn(l.Quoted) {
		q := l.Quoted[address]
		f = f.texts(address, q.Number, q.Unit.Symbol(), q.Why).number(int(q.State))
	}
	f = f.turn(l.Previous).turn(l.Next)
	sum := sha256.Sum256(f)
	*held = f
	return hex.EncodeToString(sum[:])
}

// fields are numbers and texts one behind another, each text behind its length,
// so that two different rows of fields never are the same bytes.
type fields []byte

// allFields keeps those that are free.
var allFields = sync.Pool{New: func() any { return &fields{} }}

func (f fields) number(n int) fields { return binary.AppendVarint(f, int64(n)) }

func (f fields) texts(all ...string) fields {
	for _, t := range all {
		f = append(f.number(len(t)), t...)
	}
	return f
}

func (f fields) turn(t *Turn) fields {
	if t == nil {
		return f.number(0)
	}
	return f.number(1).texts(t.Code, t.Question, t.Path)
}

// namesIn returns the names of some things in their order.
func namesIn[V any](of map[string]V) []string {
	if len(of) == 0 {
		return nil
	}
	return slices.Sorted(maps.Keys(of))
}

// With returns the leaf with its guide whole, as its pages are made from it. The
// outline is of the same guide, read again.
func (l *Leaf) With(whole *Outline) *Leaf {
	here := *l
	here.Guide, here.Heads, here.outline = whole.Guide, whole.heads, whole
	return &here
}

// Foresee returns the leaf that a guide will be in the next book, if nothing of
// it that the guide's pages print has changed since this one; false where that
// cannot be so, or it prints figures of guides that are not made yet. Its key
// tells afterwards whether it came true.
func (b *Book) Foresee(o *Outline) (*Leaf, bool) {
	known := b.linker.leaves[o.Guide.File]
	if known == nil {
		return nil, false
	}
	l := newLeaf(o, b.Edition)
	if !b.foreseeQuotes(l) {
		return nil, false
	}
	l.Previous, l.Next = known.Previous, known.Next
	l.Links = b.linker.foreseen(l)
	l.Pictures = b.hung.foreseen(l)
	l.setGuards()
	return l, true
}

// Made tells the book of a guide that was made, so that what others print of its
// figures can be foreseen. Guides may be made by several goroutines.
func (b *Book) Made(g *guide.Guide) {
	b.quoter.making.Lock()
	defer b.quoter.making.Unlock()
	b.quoter.knowFigures(g)
}

// foreseeQuotes finds the figures that a leaf names in the guides that are made
// already; false where one of them is not.
func (b *Book) foreseeQuotes(l *Leaf) bool {
	b.quoter.making.RLock()
	defer b.quoter.making.RUnlock()
	return b.quoter.find(l, func(guide.Quote) {}) == len(l.Guide.Quotes)
}

// LeafAt returns the guide whose page has a path, and nil where the book has
// none there.
func (b *Book) LeafAt(page string) *Leaf {
	l := b.linker.leaves[strings.TrimSuffix(page, ".html")+".md"]
	if l == nil || l.Path != page {
		return nil
	}
	return l
}
