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

// Cited is a reference with every table that rests on it, and every guide
// whose prose names a standing figure of it.
type Cited struct {
	guide.Source
	Where []Spot
}

// Heeded is a caution with every place where it stands.
type Heeded struct {
	*guide.Caution
	Where []Spot
}

// setBack gathers what stands at the back of the book. References and
// cautions stand in an order of their own, each once: the strongest mark
// first, the gravest signal first, then by their words.
func (b *Book) setBack() {
	cited, heeded := map[string]*Cited{}, map[string]*Heeded{}
	for _, l := range b.Leaves {
		for _, t := range l.Guide.Tables {
			here := Spot{t.Number, l.Path + "#" + t.Number}
			for _, s := range t.Sources {
				cite(cited, s, here)
			}
		}
		here := Spot{l.Guide.Docket.Code, l.Path}
		for _, s := range l.Guide.Standing {
			if c := cited[s.Source.ID]; c == nil || !slices.ContainsFunc(c.Where, func(at Spot) bool { return onPage(at, l) }) {
				cite(cited, s.Source, here)
			}
		}
		for _, c := range l.Guards {
			if heeded[c.ID] == nil {
				heeded[c.ID] = &Heeded{Caution: c.Caution}
			}
			heeded[c.ID].Where = append(heeded[c.ID].Where, Spot{c.Code, l.Path + "#" + c.Code})
		}
	}
	for _, c := range cited {
		b.References = append(b.References, *c)
	}
	slices.SortFunc(b.References, func(x, y Cited) int {
		return cmp.Or(cmp.Compare(slices.Index(method.Marks, x.Mark), slices.Index(method.Marks, y.Mark)), cmp.Compare(x.Title, y.Title), cmp.Compare(x.ID, y.ID))
	})
	for _, h := range heeded {
		b.Cautions = append(b.Cautions, *h)
	}
	slices.SortFunc(b.Cautions, func(x, y Heeded) int {
		return cmp.Or(cmp.Compare(slices.Index(method.Signals, x.Signal), slices.Index(method.Signals, y.Signal)), cmp.Compare(x.ID, y.ID))
	})
}

func cite(cited map[string]*Cited, s guide.Source, at Spot) {
	if cited[s.ID] == nil {
		cited[s.ID] = &Cited{Source: s}
	}
	cited[s.ID].Where = append(cited[s.ID].Where, at)
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
