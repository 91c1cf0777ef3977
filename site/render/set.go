package render

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"bindpost/site/bind"
)

// Set is all that is printed of one guide: its pages, and what stands of it on
// pages of the book. It is made of the leaf alone, so that it can be kept for as
// long as the leaf has the same [bind.Leaf.Key].
type Set struct {
	Page     Page
	Workings *Page           // nil where the book tells none
	Answer   template.HTML   // its short answer, as the contents have it
	Tables   []template.HTML // its lines in the list of tables
	Items    []bind.Item     // what leads to it in the index
	Find     []byte          // its stretch of what is looked through, see [Renderer.WriteFind]
}

// Sets hands over what was set of a leaf of the book.
type Sets func(*bind.Leaf) (*Set, error)

// Set sets a guide, which must be whole.
func (r *Renderer) Set(b *bind.Book, l *bind.Leaf) (*Set, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return nil, err
	}
	s, set := newSetter(r, w, l), &Set{}
	if set.Page, err = r.guidePage(s); err != nil {
		return nil, err
	}
	if l.HasWorkings() {
		page, err := r.workingsPage(b, s)
		if err != nil {
			return nil, err
		}
		set.Workings = &page
	}
	if set.Answer, err = newSetter(r, w, asSeenFromContents(l)).answer(l.Guide.Docket.Answer); err != nil {
		return nil, fmt.Errorf("setting the short answer of %s: %w", l.Guide.File, err)
	}
	said := s.passages()
	set.Tables, set.Items = s.tableLines(), items(l, said)
	set.Find, err = findPiece(l, said)
	return set, err
}

// asked hands over what was set of leaves while a page is set of it, and keeps
// the first error.
type asked struct {
	sets Sets
	err  error
}

func (a *asked) of(l *bind.Leaf) *Set {
	set, err := a.sets(l)
	if err != nil {
		a.err = cmp.Or(a.err, err)
		return &Set{}
	}
	return set
}

// SetAll sets every guide of a book of whole guides, one after another.
func (r *Renderer) SetAll(b *bind.Book) (Sets, error) {
	all := map[*bind.Leaf]*Set{}
	for _, l := range b.Leaves {
		set, err := r.Set(b, l)
		if err != nil {
			return nil, err
		}
		all[l] = set
	}
	return func(l *bind.Leaf) (*Set, error) { return all[l], nil }, nil
}

// passages returns what a guide says, its tables by their titles.
func (s *setter) passages() []bind.Passage {
	said := s.leaf.Passages()
	for i, p := range said {
		if p.Kind == bind.TablePassage {
			said[i].Text = s.tableWords(p.Table)
		}
	}
	return said
}

// LetGo gives the room of the pages back, see [Page.LetGo].
func (s *Set) LetGo() {
	s.Page.LetGo()
	if s.Workings != nil {
		s.Workings.LetGo()
	}
}

// Unpaged returns the set without the pages of the guide themselves, with what
// the pages of the book need of it: of the guide's page no more than which files
// it calls.
func (s *Set) Unpaged() *Set {
	small := *s
	small.Page, small.Workings = Page{Path: s.Page.Path, Needs: s.Page.Needs, Scripts: slices.Clone(s.Page.Scripts)}, nil
	small.Items = make([]bind.Item, len(s.Items))
	for i, item := range s.Items { // cut out of the guide's text, they would hold the whole of it
		item.Text, item.Code, item.Path = strings.Clone(item.Text), strings.Clone(item.Code), strings.Clone(item.Path)
		small.Items[i] = item
	}
	return &small
}
