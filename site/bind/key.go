package bind

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"maps"
	"slices"
	"strings"
)

// Key names by hash all that the pages of a leaf are made of: the guide, and
// what the book says of it. Two leaves of one key have the same pages, whatever
// book they stand in.
func (l *Leaf) Key() string {
	if l.key != "" {
		return l.key
	}
	h := sha256.New()
	fmt.Fprintf(h, "%s\n%s\n", l.Guide.Hash, l.Path)
	for _, of := range []map[string]string{l.Links, l.Named, l.Pictures} {
		writeSorted(h, of)
	}
	for _, g := range l.Guards {
		fmt.Fprintf(h, "guard %q %d\n", []string{g.Code, g.ID, g.Signal, g.Happens, g.How, g.Instead, g.Ask}, g.Part)
	}
	for _, c := range l.Cautions {
		fmt.Fprintf(h, "caution %q\n", c.ID)
	}
	for _, address := range slices.Sorted(maps.Keys(l.Quoted)) {
		f := l.Quoted[address]
		fmt.Fprintf(h, "quoted %q %d\n", []string{address, f.Number, f.Unit.Symbol(), f.Why}, f.Value.State)
	}
	for _, t := range []*Turn{l.Previous, l.Next} {
		if t != nil {
			fmt.Fprintf(h, "%q", []string{t.Code, t.Question, t.Path})
		}
		fmt.Fprintln(h)
	}
	return hex.EncodeToString(h.Sum(nil))
}

func writeSorted(h hash.Hash, of map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(of)) {
		fmt.Fprintf(h, "%q %q\n", name, of[name])
	}
	fmt.Fprintln(h)
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
// cannot be so. Its key tells afterwards whether it came true.
func (b *Book) Foresee(o *Outline) (*Leaf, bool) {
	known := b.linker.leaves[o.Guide.File]
	if known == nil || len(o.Guide.Quotes) > 0 {
		return nil, false
	}
	l := newLeaf(o, b.Edition)
	l.Previous, l.Next = known.Previous, known.Next
	l.Links, l.Named = b.linker.foreseen(l)
	l.Pictures = b.hung.foreseen(l)
	gravestFirst(l.Cautions)
	l.setGuards()
	return l, true
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
