package bind

import (
	"cmp"
	"slices"
	"strings"

	"bindpost/calc/method"
	"bindpost/site/guide"
)

// The pages that the book has beside its contents and its guides.
const (
	ReadingPath    = "reading-this-book.html"
	TablesPath     = "tables.html"
	ReferencesPath = "references.html"
	CautionsPath   = "cautions.html"
)

// Spot is a place in the book that another page names: a table or a guide.
type Spot struct {
	Code string // "K3-T2"
	Path string // from the head of the manual: "speaker-wire.html#K3-T2"
}

// Cited is a reference on which tables rest, or of which the prose of guides names
// a standing figure: [Book.WhereCited].
type Cited struct{ *guide.Source }

// Heeded is a caution that stands in the book: [Book.WhereHeeded].
type Heeded struct{ *guide.Caution }

// setBack gathers what stands at the back of the book. References and
// cautions stand in an order of their own, each once: the strongest mark
// first, the gravest signal first, then by their words.
func (b *Book) setBack() {
	cited, heeded := map[string]Cited{}, map[string]Heeded{}
	cite := func(s *guide.Source) {
		if _, known := cited[s.ID]; !known {
			cited[s.ID] = Cited{s}
		}
	}
	for _, l := range b.Leaves {
		for _, t := range l.Guide.Tables {
			for _, s := range t.Sources {
				cite(s)
			}
		}
		for _, s := range l.Guide.Standing {
			cite(&s.Source)
		}
		for _, c := range l.Guards {
			if _, known := heeded[c.ID]; !known {
				heeded[c.ID] = Heeded{c.Caution}
			}
		}
	}
	for _, c := range cited {
		b.References = append(b.References, c)
	}
	slices.SortFunc(b.References, func(x, y Cited) int {
		return cmp.Or(cmp.Compare(slices.Index(method.Marks, x.Mark), slices.Index(method.Marks, y.Mark)), cmp.Compare(x.Title, y.Title), cmp.Compare(x.ID, y.ID))
	})
	for _, h := range heeded {
		b.Cautions = append(b.Cautions, h)
	}
	slices.SortFunc(b.Cautions, func(x, y Heeded) int {
		return cmp.Or(cmp.Compare(slices.Index(method.Signals, x.Signal), slices.Index(method.Signals, y.Signal)), cmp.Compare(x.ID, y.ID))
	})
}

// WhereCited returns, by the id of each reference, every table that rests on it,
// and every guide whose prose names a standing figure of it, in the order of the
// book. In a large book that is much.
func (b *Book) WhereCited() map[string][]Spot {
	where := map[string][]Spot{}
	for _, l := range b.Leaves {
		for _, t := range l.Guide.Tables {
			here := Spot{t.Number, l.Path + "#" + t.Number}
			for _, s := range t.Sources {
				where[s.ID] = append(where[s.ID], here)
			}
		}
		for _, s := range l.Guide.Standing {
			before := where[s.Source.ID]
			if len(before) == 0 || !onPage(before[len(before)-1], l) {
				where[s.Source.ID] = append(before, Spot{l.Guide.Docket.Code, l.Path})
			}
		}
	}
	return where
}

// WhereHeeded returns, by the id of each caution, every place where it stands, in
// the order of the book.
func (b *Book) WhereHeeded() map[string][]Spot {
	where := map[string][]Spot{}
	for _, l := range b.Leaves {
		for _, c := range l.Guards {
			where[c.ID] = append(where[c.ID], Spot{c.Code, l.Path + "#" + c.Code})
		}
	}
	return where
}

// onPage reports whether a spot lies on a leaf's page.
func onPage(at Spot, l *Leaf) bool {
	page, _, _ := strings.Cut(at.Path, "#")
	return page == l.Path
}

// HasTables reports whether a guide of the book holds a table.
func (b *Book) HasTables() bool {
	return slices.ContainsFunc(b.Leaves, func(l *Leaf) bool { return len(l.Guide.Tables) > 0 })
}
