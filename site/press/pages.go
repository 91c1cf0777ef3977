package press

import (
	"io"
	"maps"
	"slices"
	"sync"

	"bindpost/site/bind"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// setAll sets every guide of the book, several at a time.
func (f *Forme) setAll() error {
	errs := make([]error, len(f.book.Leaves))
	inParallel(len(errs), func(i int) { errs[i] = f.setOne(f.book.Leaves[i]) })
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (f *Forme) setOne(l *bind.Leaf) error {
	_, err := f.set(f.book, f.with, l, false)
	return err
}

// bookPages drafts the pages that are made of the whole book: in front the
// contents, and how it is read; the lists at the back; and of methods, the pages
// of their rules.
func (f *Forme) bookPages(sets render.Sets) (front, back, rules []render.Draft, err error) {
	contents, err := f.renderer.Contents(f.book, sets)
	if err != nil {
		return nil, nil, nil, err
	}
	reading, err := f.reading()
	if err != nil {
		return nil, nil, nil, err
	}
	if back, err = f.renderer.Back(f.book, sets); err != nil {
		return nil, nil, nil, err
	}
	for _, r := range f.book.Rules() {
		rule, err := f.renderer.Rule(f.book, r)
		if err != nil {
			return nil, nil, nil, err
		}
		rules = append(rules, rule)
	}
	return []render.Draft{contents, reading}, back, rules, nil
}

// filesOf returns the files that stand beside the pages: drawings, and the style
// and the scripts that they need.
func (f *Forme) filesOf(pages *wanted) ([]publish.File, error) {
	var files []publish.File
	for _, d := range f.book.Drawings {
		files = append(files, publish.File{Path: d.Path, Data: d.Data})
	}
	files = append(files, figureScripts(f.book.Library, pages.called)...)
	for _, name := range slices.Sorted(maps.Keys(pages.needs)) {
		data, err := f.templateFile(name)
		if err != nil {
			return nil, err
		}
		files = append(files, publish.File{Path: name, Data: data})
	}
	return files, nil
}

// wanted gathers what pages call and need, each once; pages may come from several
// goroutines.
type wanted struct {
	mu     sync.Mutex
	called map[string]bool
	needs  map[string]bool
}

func newWanted() *wanted { return &wanted{called: map[string]bool{}, needs: map[string]bool{}} }

func (w *wanted) by(p render.Page) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, name := range p.Scripts {
		w.called[name] = true
	}
	for _, name := range p.Needs {
		w.needs[name] = true
	}
}

// writeFind writes what is looked through for finding.
func (f *Forme) writeFind(w io.Writer) error {
	return f.renderer.WriteFind(w, f.book, func(l *bind.Leaf) ([]byte, error) {
		set, err := f.small(l)
		if err != nil {
			return nil, err
		}
		return set.Find, nil
	})
}

// writeLedger writes the record of what the book prints.
func (f *Forme) writeLedger(w io.Writer) error {
	line := func(l *bind.Leaf) bind.Line { return l.With(f.wholeOf(l)).Line(nil) }
	uses := func(l *bind.Leaf) ([]bind.Use, error) { return line(l).Uses, nil }
	return f.book.WriteLedger(w, f.order.Program, uses, func(l *bind.Leaf) ([]byte, error) { return line(l).Text, nil })
}

// PageOf returns the path in the manual of the page of a guide's file.
func PageOf(file string) string { return bind.PagePath(file) }
