package press

import (
	"bytes"
	"cmp"
	"fmt"
	"io"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// Manual is a finished manual, not yet written.
type Manual struct {
	Title string
	Entry string // the file to open first
	Files []publish.File

	pages  []render.Page          // in the order of the book
	bound  func() ([]byte, error) // prints the booklet; nil where none is wanted
	ledger func(io.Writer) error  // writes the record of what it prints
}

// Make makes a whole manual. It is nil where a stop stands.
func Make(o Order) (*Manual, *fault.List) {
	f := NewForme(o)
	f.shelf.most, f.shelf.mostWhole = 0, 0
	faults := f.Press(Changes{Any: true})
	if faults.Stopped() {
		return nil, faults
	}
	if o.Guide != "" {
		code := codeIn(f.book, o.Guide)
		if code == "" {
			faults.Add(noGuide(o.Guide, f.book))
			return nil, faults
		}
		o.Guide = code
	}
	m, err := f.manual()
	if err != nil {
		// The guides passed every check: this is the program's mistake, never the author's.
		panic(fmt.Sprintf("press: %v", err))
	}
	if o.Print != nil {
		loose := *m // as it is before its pages are put together
		m.bound = func() ([]byte, error) { return loose.booklet(f.book, f.renderer, o.Print) }
	}
	if o.Single {
		m.single(f.book, o.Guide, f.renderer)
	}
	return m, faults
}

// Ledger writes the record of what the manual prints.
func (m *Manual) Ledger() ([]byte, error) {
	var out bytes.Buffer
	err := m.ledger(&out)
	return out.Bytes(), err
}

// manual makes every page of the book, and gathers what the pages need.
func (f *Forme) manual() (*Manual, error) {
	if err := f.setAll(); err != nil {
		return nil, err
	}
	m := &Manual{Title: f.book.Edition.Title, Entry: bind.ContentsPath, ledger: f.writeLedger}
	pages, err := f.allPages()
	if err != nil {
		return nil, err
	}
	all := newWanted()
	for _, p := range pages {
		m.add(p)
		all.by(p)
	}
	files, err := f.filesOf(all)
	if err != nil {
		return nil, err
	}
	var find bytes.Buffer
	if err := f.writeFind(&find); err != nil {
		return nil, err
	}
	m.Files = append(append(m.Files, files...), publish.File{Path: render.FindIndex, Data: find.Bytes()})
	return m, nil
}

// allPages makes the pages of the book, in their order.
func (f *Forme) allPages() ([]render.Page, error) {
	front, back, rules, err := f.bookPages(f.small)
	if err != nil {
		return nil, err
	}
	var pages, workings []render.Page
	add := func(drafts []render.Draft) {
		for _, d := range drafts {
			page, failed := d.Set()
			pages, err = append(pages, page), cmp.Or(err, failed)
		}
	}
	add(front)
	for _, l := range f.book.Leaves {
		set := f.mustSet(l)
		pages = append(pages, set.Page)
		if set.Workings != nil {
			workings = append(workings, *set.Workings)
		}
	}
	add(back)
	pages = append(pages, workings...)
	add(rules)
	return pages, err
}

// add takes a page into the manual.
func (m *Manual) add(p render.Page) {
	m.Files = append(m.Files, publish.File{Path: p.Path, Data: p.HTML()})
	m.pages = append(m.pages, p)
}
