package press

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/folder"
)

// mostFew is how many guides may have changed for them to be put in the book
// one by one.
const mostFew = 16

// fewGuides returns the texts of the guides that have changed, where nothing but
// a few guides may have: guides that the copy has already, and of which nothing
// is to be told in reading them.
func (f *Forme) fewGuides(c Changes) (texts []*fault.Text, few bool) {
	if c.Any || f.copied == nil || f.stale || f.book == nil || len(c.Paths) > mostFew || f.faults.Len() > 0 {
		return nil, false
	}
	for _, p := range c.Paths {
		at := f.place(p)
		if at < 0 {
			return nil, false
		}
		t, ok := folder.ReadGuide(f.order.Copy, p)
		if !ok || t.Name() != f.copied.Guides[at].Name() {
			return nil, false
		}
		texts = append(texts, t)
	}
	return texts, true
}

// place returns where the guide of a file stands among those of the copy; -1
// where the copy has none.
func (f *Forme) place(file string) int {
	at, found := slices.BinarySearchFunc(f.copied.Guides, file, func(t *fault.Text, name string) int {
		switch {
		case t.Name() < name:
			return -1
		case t.Name() > name:
			return 1
		}
		return 0
	})
	if !found {
		return -1
	}
	return at
}

// pressFew makes the guides of a few texts and puts them in the book. It does
// nothing and reports false where anything is to be told of them, or of the book
// with them in it.
func (f *Forme) pressFew(texts []*fault.Text) bool {
	var fresh []*made
	for _, t := range texts {
		m := f.guides[t.Name()]
		if f.stands(m, t) {
			continue
		}
		if m = f.make(t); m.outline == nil || m.faults.Len() > 0 {
			return false
		}
		fresh = append(fresh, m)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	outlines := make([]*bind.Outline, len(fresh))
	for i, m := range fresh {
		outlines[i] = m.outline
	}
	if !f.book.Replace(outlines) {
		return false
	}
	for _, m := range fresh {
		g := m.outline.Guide
		f.guides[g.File], f.copied.Guides[f.place(g.File)] = m, g.Text
	}
	if fresh != nil {
		f.pages = newPages(f.book)
	}
	return true
}
