package press

import (
	"io/fs"
	"slices"

	"bindpost/site/bind"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// renderAll makes every page, and gathers what the pages need.
func renderAll(book *bind.Book, r *render.Renderer, templates fs.FS) (*Manual, error) {
	pages, err := inOrder(book, r)
	if err != nil {
		return nil, err
	}
	m, needs := &Manual{Title: book.Edition.Title, Entry: bind.ContentsPath}, []string(nil)
	for _, p := range pages {
		m.add(p)
		needs = append(needs, p.Needs...)
	}
	for _, d := range book.Drawings {
		m.Files = append(m.Files, publish.File{Path: d.Path, Data: d.Data})
	}
	index, err := r.FindIndex(book)
	if err != nil {
		return nil, err
	}
	m.Files = append(m.Files, publish.File{Path: render.FindIndex, Data: index})
	m.Files = append(m.Files, figureScripts(book.Library, pages)...)
	slices.Sort(needs)
	for _, name := range slices.Compact(needs) {
		data, err := fs.ReadFile(templates, name)
		if err != nil {
			return nil, err
		}
		m.Files = append(m.Files, publish.File{Path: name, Data: data})
	}
	return m, nil
}

// inOrder makes the pages in the order of the book, several at a time: the
// contents, how it is read, the guides, the lists at the back, and the workings.
func inOrder(book *bind.Book, r *render.Renderer) ([]render.Page, error) {
	type job func() (render.Page, error)
	front := []job{
		func() (render.Page, error) { return r.Contents(book) },
		func() (render.Page, error) { return r.Reading(book) },
	}
	var rear []job
	for _, l := range book.Leaves {
		front = append(front, func() (render.Page, error) { return r.Guide(l) })
		if l.HasWorkings() {
			rear = append(rear, func() (render.Page, error) { return r.Workings(book, l) })
		}
	}
	for _, rule := range book.Rules() {
		rear = append(rear, func() (render.Page, error) { return r.Rule(book, rule) })
	}
	jobs := append(front, rear...)
	pages, errs := make([]render.Page, len(jobs)), make([]error, len(jobs))
	inParallel(len(jobs), func(i int) { pages[i], errs[i] = jobs[i]() })
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	back, err := r.Back(book)
	if err != nil {
		return nil, err
	}
	return slices.Insert(pages, len(front), back...), nil
}

// add takes a page into the manual.
func (m *Manual) add(p render.Page) {
	m.Files = append(m.Files, publish.File{Path: p.Path, Data: p.HTML()})
	m.pages = append(m.pages, p)
}
