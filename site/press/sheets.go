package press

import (
	"bytes"
	"fmt"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/render"
)

// pages are those pages and files of a book that are made of the whole of it,
// each made when it is first asked for.
type pages struct {
	book  *bind.Book
	ready map[string][]byte
	back  []render.Draft // the lists at the back, once they are drafted
	rules []bind.Rule    // once they are gathered
}

func newPages(b *bind.Book) *pages { return &pages{book: b, ready: map[string][]byte{}} }

// Page returns a file of the manual by its path, as a press of the copy would
// write it; false where the manual has none of that path, or nothing was pressed
// yet. Where a stop stands it is the file of the last press without one.
func (f *Forme) Page(p string) ([]byte, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.book == nil {
		return nil, false
	}
	if l := f.book.LeafAt(p); l != nil {
		return f.mustSet(l).Page.HTML(), true
	}
	if code, ok := strings.CutPrefix(strings.TrimSuffix(p, ".html"), "workings/"); ok {
		if l := f.book.Leaf(code); l != nil && l.HasWorkings() && l.WorkingsPath() == p {
			return f.mustSet(l).Workings.HTML(), true
		}
		return nil, false
	}
	if data, made := f.pages.ready[p]; made {
		return data, data != nil
	}
	data, err := f.bookFile(p)
	if err != nil {
		panic(fmt.Sprintf("press: %v", err)) // the guides passed every check: this is the program's mistake
	}
	f.pages.ready[p] = data
	return data, data != nil
}

// Title returns the title of the manual that was last pressed without a stop.
func (f *Forme) Title() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.book == nil {
		return ""
	}
	return f.book.Edition.Title
}

// bookFile makes a file that is made of the whole book; nil where the manual
// has none of that path.
func (f *Forme) bookFile(p string) ([]byte, error) {
	f.book.Settle()
	switch {
	case p == bind.ContentsPath:
		return html(f.renderer.Contents(f.book, f.small))
	case p == bind.ReadingPath:
		return html(f.reading())
	case p == render.FindIndex:
		var find bytes.Buffer
		err := f.writeFind(&find)
		return find.Bytes(), err
	case strings.HasPrefix(p, "rules/"):
		return f.rule(strings.TrimSuffix(strings.TrimPrefix(p, "rules/"), ".html"))
	case p == render.FiguresScript || strings.HasPrefix(p, "methods/"):
		return f.script(p), nil
	}
	for _, d := range f.book.Drawings {
		if d.Path == p {
			return d.Data, nil
		}
	}
	if path.Ext(p) == ".html" {
		return f.list(p)
	}
	if slices.Contains(render.Beside, p) {
		return f.templateFile(p)
	}
	return nil, nil
}

func html(d render.Draft, err error) ([]byte, error) {
	if err != nil {
		return nil, err
	}
	p, err := d.Set()
	return p.HTML(), err
}

// list makes one of the lists at the back.
func (f *Forme) list(p string) ([]byte, error) {
	if f.pages.back == nil {
		back, err := f.renderer.Back(f.book, f.small)
		if err != nil {
			return nil, err
		}
		f.pages.back = back
	}
	for _, one := range f.pages.back {
		if one.Path() == p {
			return html(one, nil)
		}
	}
	return nil, nil
}

// rule makes the page of the rule of a method.
func (f *Forme) rule(name string) ([]byte, error) {
	if f.pages.rules == nil {
		f.pages.rules = f.book.Rules()
	}
	for _, r := range f.pages.rules {
		if r.Name == name {
			return html(f.renderer.Rule(f.book, r))
		}
	}
	return nil, nil
}

// reading makes the page that tells how the book is read, by a table of its own.
func (f *Forme) reading() (render.Draft, error) {
	l := render.Example(f.book)
	if l != nil {
		l = l.With(f.wholeOf(l))
	}
	return f.renderer.Reading(f.book, l)
}

// script returns a script with which methods are worked, if a page of the book
// can call it.
func (f *Forme) script(p string) []byte {
	for _, file := range figureScripts(f.book.Library, map[string]bool{p: true}) {
		return file.Data
	}
	return nil
}

// small hands over what the pages of the book need of a leaf.
func (f *Forme) small(l *bind.Leaf) (*render.Set, error) { return f.set(f.book, f.with, l, false) }

// mustSet returns what is set of a leaf, with its pages.
func (f *Forme) mustSet(l *bind.Leaf) *render.Set {
	set, err := f.set(f.book, f.with, l, true)
	if err != nil {
		panic(fmt.Sprintf("press: %v", err)) // the guides passed every check: this is the program's mistake
	}
	return set
}

// set sets a leaf, if it is not set already.
func (f *Forme) set(b *bind.Book, with guide.Kit, l *bind.Leaf, paged bool) (*render.Set, error) {
	file, key := l.Guide.File, l.Key()
	if set := f.shelf.get(file, key, paged); set != nil {
		return set, nil
	}
	set, err := f.renderer.Set(b, l.With(f.whole(with, l)))
	if err != nil {
		return nil, err
	}
	f.shelf.put(file, key, set)
	return set, nil
}

func (f *Forme) wholeOf(l *bind.Leaf) *bind.Outline { return f.whole(f.with, l) }

// whole returns the guide of a leaf whole. Where it is not held, it is read once
// more, and is the same.
func (f *Forme) whole(with guide.Kit, l *bind.Leaf) *bind.Outline {
	if o := f.shelf.held(l.Guide.File, l.Guide.Hash); o != nil {
		return o
	}
	text := l.Guide.Text
	g, _ := read(fault.NewText(text.Name(), text.Source()), with) // a text that was let go is brought back once
	return bind.NewOutline(g)
}
