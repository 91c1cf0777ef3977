package press

import (
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// WholeEntry is the only page of a manual that was pressed as one page.
const WholeEntry = "manual.html"

// single puts the pages of the manual, or those of one guide, together into
// its only file.
func (m *Manual) single(book *bind.Book, guide string, r *render.Renderer) {
	pages, name := m.pages, WholeEntry
	if l := book.Leaf(guide); l != nil {
		name = strings.ReplaceAll(l.Path, "/", "-")
		pages = slices.DeleteFunc(slices.Clone(pages), func(p render.Page) bool { return !slices.Contains(pathsOf(book, l), p.Path) })
	}
	data, err := r.Together(book, pages, m.file)
	if err != nil {
		panic(fmt.Sprintf("press: %v", err)) // the pages are of the program's own making
	}
	m.Entry, m.Files = name, []publish.File{{Path: name, Data: data}}
}

// pathsOf returns the pages that tell of a guide: its own, and its workings.
func pathsOf(book *bind.Book, l *bind.Leaf) []string {
	paths := []string{l.Path}
	if w := book.Workings(l); w != nil {
		paths = append(paths, w.Path)
		for _, name := range w.Rules {
			paths = append(paths, bind.RulePath(name))
		}
	}
	return paths
}

// file returns a file of the manual by its path.
func (m *Manual) file(path string) ([]byte, error) {
	for _, f := range m.Files {
		if f.Path == path {
			return f.Data, nil
		}
	}
	return nil, fmt.Errorf("the manual has no file %q", path)
}

// codeIn finds a page code in whatever capitals it was typed; "" where no guide
// has it.
func codeIn(book *bind.Book, typed string) string {
	if book.Leaf(typed) != nil {
		return typed
	}
	for _, l := range book.Leaves {
		if code := l.Guide.Docket.Code; strings.EqualFold(code, typed) {
			return code
		}
	}
	return ""
}

// noGuide tells that the copy has no guide of a code.
func noGuide(code string, book *bind.Book) *fault.Fault {
	var codes []string
	for _, l := range book.Leaves {
		codes = append(codes, l.Guide.Docket.Code)
	}
	f := fault.At(fault.Place{Text: fault.NewText("the copy", "")}, "has no guide with the code %q", code).
		Want("a code that stands in the docket of a guide, such as %s", codes[0])
	if near := fault.Near(code, codes); near != "" {
		f.Fix("write %s", near)
	}
	return f
}
