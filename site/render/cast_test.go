package render_test

import (
	"bytes"
	"sync"
	"testing"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/bind"
	"bindpost/site/press"
	"bindpost/site/render"
	"bindpost/templates"
)

// TestCasts holds every page of the demonstration to the same page as
// html/template sets it, and every template to have a cast.
func TestCasts(t *testing.T) {
	for _, size := range []string{"12 pt", "18 pt"} {
		t.Run(size, func(t *testing.T) {
			book, faults := press.Bound(press.Order{
				Copy: content.Files, Library: trade.Library(), Templates: templates.Files, Setting: press.Setting{Type: size},
			})
			if faults.Stopped() {
				t.Fatal(faults)
			}
			r, err := render.New(templates.Files)
			if err != nil {
				t.Fatal(err)
			}
			cast, plain := allPages(t, r, book), allPages(t, r.WithoutCasts(), book)
			for i, p := range cast {
				if !bytes.Equal(p.Head, plain[i].Head) || !bytes.Equal(p.Body, plain[i].Body) {
					t.Errorf("%s differs from what html/template sets", p.Path)
				}
			}
			if names := r.Uncast(); names != nil {
				t.Errorf("these templates have no cast: %q", names)
			}
		})
	}
}

// TestCastsAtOnce makes and uses casts in several goroutines.
func TestCastsAtOnce(t *testing.T) {
	book, faults := press.Bound(press.Order{Copy: content.Files, Library: trade.Library(), Templates: templates.Files})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	r, err := render.New(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	want, err := render.New(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	for i := range 16 {
		all.Go(func() {
			l := book.Leaves[i%len(book.Leaves)]
			got, err := r.Set(book, l)
			if err != nil {
				t.Error(err)
				return
			}
			plain, err := want.WithoutCasts().Guide(l)
			if err != nil || !bytes.Equal(got.Page.HTML(), plain.HTML()) {
				t.Errorf("%s differs from what html/template sets: %v", l.Path, err)
			}
		})
	}
	all.Wait()
}

// allPages renders every page of a book.
func allPages(t *testing.T, r *render.Renderer, b *bind.Book) []render.Page {
	t.Helper()
	var pages []render.Page
	add := func(p render.Page, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, p)
	}
	sets, err := r.SetAll(b)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range b.Leaves {
		add(r.Guide(l))
		if l.HasWorkings() {
			add(r.Workings(b, l))
		}
	}
	all := drafts(t, r, b, sets)
	for _, rule := range b.Rules() {
		d, err := r.Rule(b, rule)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, d)
	}
	for _, d := range all {
		add(d.Set())
		var written bytes.Buffer
		page, err := d.Write(&written)
		if err != nil {
			t.Fatal(err)
		}
		if whole := pages[len(pages)-1]; page.Path != d.Path() || !bytes.Equal(written.Bytes(), whole.HTML()) {
			t.Errorf("%s differs where it is written while it is set", d.Path())
		}
	}
	return pages
}
