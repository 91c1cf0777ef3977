package press

import (
	"io"
	"slices"

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

// bookPages makes the pages that are made of the whole book, in their order: the
// contents, how it is read, and the lists at the back; and behind the workings
// of guides the rules of methods.
func (f *Forme) bookPages() (front, rear []render.Page, err error) {
	contents, err := f.renderer.Contents(f.book, f.small)
	if err != nil {
		return nil, nil, err
	}
	reading, err := f.reading()
	if err != nil {
		return nil, nil, err
	}
	back, err := f.renderer.Back(f.book, f.small)
	if err != nil {
		return nil, nil, err
	}
	for _, rule := range f.book.Rules() {
		page, err := f.renderer.Rule(f.book, rule)
		if err != nil {
			return nil, nil, err
		}
		rear = append(rear, page)
	}
	return append([]render.Page{contents, reading}, back...), rear, nil
}

// filesOf returns the files that stand beside the pages: drawings, and the style
// and the scripts that they need.
func (f *Forme) filesOf(pages []render.Page) ([]publish.File, error) {
	var files []publish.File
	for _, d := range f.book.Drawings {
		files = append(files, publish.File{Path: d.Path, Data: d.Data})
	}
	var called, needs []string
	for _, p := range pages {
		called, needs = append(called, p.Scripts...), append(needs, p.Needs...)
	}
	return f.beside(files, called, needs)
}

// beside adds the scripts that are called and the files of the templates that
// are needed, each once.
func (f *Forme) beside(files []publish.File, called, needs []string) ([]publish.File, error) {
	files = append(files, figureScripts(f.book.Library, called)...)
	slices.Sort(needs)
	for _, name := range slices.Compact(needs) {
		data, err := f.templateFile(name)
		if err != nil {
			return nil, err
		}
		files = append(files, publish.File{Path: name, Data: data})
	}
	return files, nil
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
	return f.book.WriteLedger(w, f.order.Program, func(l *bind.Leaf) (bind.Line, error) {
		return l.With(f.wholeOf(l)).Line()
	})
}
