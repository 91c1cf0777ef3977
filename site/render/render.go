// Package render makes pages of the leaves of a book: the body of each page
// and the list of what it needs. It computes nothing and chooses no word: the
// figures come with the guide, each as it is printed, and every word beside
// the author's own comes from the phrases.
package render

import (
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// StyleSheet is the file among the templates that every page needs.
const StyleSheet = "style.css"

// Page is one finished page. Head and Body are its two pieces: the head names
// the files beside the page, the body holds whole elements with ids that are
// unique in the manual, so that bodies may also be put one after another.
type Page struct {
	Path     string // from the head of the manual, with slashes
	Title    string
	ID       string // of the element that is the whole body
	Code     string // as its strip has it
	Question string
	RunsOn   string // what short pages are called that share sides where they are printed as one; "" of a page that begins a side
	Head     []byte // up to the opening of the body
	Body     []byte
	Needs    []string // files of the templates, sorted
	Scripts  []string // files beside the page that its head calls, in their order; those of the templates are among Needs
	Later    []string // files that its scripts call by themselves when they are wanted
	Drawings []string // files of the copy, by their paths in it, sorted

	whole []byte // the file, of which the head and the body are stretches
}

// closing ends a page after its body.
const closing = "</main>\n</body>\n</html>\n"

// HTML returns the whole page as a file of its own, which is not to be changed.
func (p Page) HTML() []byte { return p.whole }

// wholes keeps the room of pages that were let go.
var wholes = sync.Pool{New: func() any { return new([]byte) }}

// LetGo gives the room of a page back, for the next one. Nobody may read what is
// set of it any more.
func (p *Page) LetGo() {
	whole := p.whole[:0]
	*p = p.unset()
	if cap(whole) <= mostRoom {
		wholes.Put(&whole)
	}
}

// unset returns the page without what was set of it.
func (p Page) unset() Page {
	p.Head, p.Body, p.whole = nil, nil, nil
	p.ID, p.Code, p.Question = strings.Clone(p.ID), strings.Clone(p.Code), strings.Clone(p.Question)
	return p
}

// Renderer makes pages. It may be used by several goroutines at once.
type Renderer struct {
	templates *foundry
	notes     *ownNotes
	markdowns *sync.Pool // of *markdown
	languages map[string]words
}

// New reads the page templates and the phrases of every language.
func New(files fs.FS) (*Renderer, error) {
	set, err := template.ParseFS(files, "*.html")
	if err != nil {
		return nil, fmt.Errorf("reading the page templates: %w", err)
	}
	if _, err := fs.Stat(files, StyleSheet); err != nil {
		return nil, fmt.Errorf("reading the style sheet: %w", err)
	}
	languages, err := readLanguages(files)
	if err != nil {
		return nil, err
	}
	return &Renderer{templates: &foundry{set: set}, notes: newOwnNotes(), markdowns: &sync.Pool{}, languages: languages}, nil
}

// Guide makes the page of one guide.
func (r *Renderer) Guide(l *bind.Leaf) (Page, error) {
	w, err := r.words(l.Edition.Language)
	if err != nil {
		return Page{}, err
	}
	return r.guidePage(newSetter(r, w, l))
}

func (r *Renderer) guidePage(s *setter) (Page, error) {
	l := s.leaf
	page, err := r.bound(s.guide, func() pageHead {
		return pageHead{
			words: s.words, Edition: l.Edition, Path: l.Path, ID: l.Guide.Docket.Code,
			Code: l.Guide.Docket.Code, Question: l.Guide.Docket.Question, Scripts: s.ownScripts(),
		}
	})
	if err != nil {
		return Page{}, fmt.Errorf("setting the page of %s: %w", l.Guide.File, err)
	}
	page.Drawings = l.Drawings
	return page, nil
}

// pageHead is what the head of a page is made from.
type pageHead struct {
	words
	guide.Edition
	Path     string
	ID       string
	Code     string
	Question string
	RunsOn   string
	Scripts  []string
	Later    []string
}

// Manual returns the manual and its edition for the foot of a printed side.
func (h pageHead) Manual() string {
	const joined = "-\u2060" // a date is not parted at the end of a line
	return strings.Trim(h.Edition.Title+" · "+strings.ReplaceAll(h.Edition.Date, "-", joined), " ·")
}

// Title returns the page's title as a browser shows it. The contents are the
// book's own first page, and a list at the back is named once.
func (h pageHead) Title() string {
	switch {
	case h.Path == bind.ContentsPath:
		return h.Edition.Title
	case h.ID != h.Code && strings.Contains(strings.ToLower(h.Question), strings.ToLower(h.Code)):
		return h.Question + " · " + h.Edition.Title
	}
	return strings.TrimSpace(h.Code+" "+h.Question) + " · " + h.Edition.Title
}

// Up returns the way from the page's folder to the head of the manual.
func (h pageHead) Up() string {
	return strings.Repeat("../", strings.Count(h.Path, "/"))
}

// Set returns the classes of pages that are set for one size of paper, and of
// those in large type.
func (h pageHead) Set() string {
	var classes []string
	if p := h.Edition.Paper; slices.Contains(guide.Papers, p) {
		classes = append(classes, "paper-"+strings.ToLower(p))
	}
	if h.Edition.Large() {
		classes = append(classes, "large-type")
	}
	return strings.Join(classes, " ")
}

// page is the page before anything is set of it.
func (h pageHead) page() Page {
	return Page{
		Path: h.Path, Title: h.Title(), ID: h.ID, Code: h.Code, Question: h.Question, RunsOn: h.RunsOn,
		Needs: needs(h.Scripts), Scripts: h.Scripts, Later: h.Later,
	}
}

// bound sets the body of a page, and then its head, which names what the body
// has been found to need.
func (r *Renderer) bound(body func(*forme) error, head func() pageHead) (page Page, err error) {
	err = withForme(func(below *forme) error {
		if err := body(below); err != nil {
			return err
		}
		page, err = Draft{r, head(), below.copyTo}.Set()
		return err
	})
	return page, err
}

// needs returns the files of the templates that a page needs: the style sheet,
// and those of its scripts that are not made for the manual.
func needs(scripts []string) []string {
	all := []string{StyleSheet}
	for _, name := range scripts {
		if slices.Contains(Beside, name) {
			all = append(all, name)
		}
	}
	slices.Sort(all)
	return all
}

// strip is the ruled strip at the head of a page.
type strip struct {
	words
	CodeLabel, Code         string
	QuestionLabel, Question string
	Cells                   []labelled
}

// labelled is one cell of a strip or one line of a caution.
type labelled struct{ Label, Value string }

// stripCells returns the small cells of a strip; what the imprint does not
// say has no cell.
func stripCells(w words, e guide.Edition) []labelled {
	var cells []labelled
	for _, c := range []labelled{
		{w.Say("strip-manual"), e.Title},
		{w.Say("strip-publisher"), e.Publisher},
		{w.Say("strip-edition"), e.Date},
		{w.Say("strip-measures"), e.Measures},
	} {
		if c.Value != "" {
			cells = append(cells, c)
		}
	}
	return cells
}
