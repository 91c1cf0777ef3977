package render_test

import (
	"fmt"
	"io"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/render"
	"bindpost/site/specimen"
	"bindpost/templates"
)

// specimenBook returns a book of so many specimen guides, and what renders it.
func specimenBook(b testing.TB, guides int) (*bind.Book, *render.Renderer) {
	b.Helper()
	r, err := render.New(templates.Files)
	if err != nil {
		b.Fatal(err)
	}
	edition := guide.Edition{Title: "The Long Shelf", Language: "en-GB", Topics: specimen.Topics, Workings: true}
	kit := guide.Kit{Library: trade.Library(), Edition: edition}
	var made []*guide.Guide
	for i := range guides {
		g, faults := guide.Read(fault.NewText(specimen.File(i), specimen.Guide(i)), kit)
		if faults.Stopped() {
			b.Fatal(faults)
		}
		made = append(made, g)
	}
	book, faults := bind.Bind(bind.Parts{Guides: made, Edition: edition, Library: kit.Library})
	if faults.Stopped() {
		b.Fatal(faults)
	}
	return book, r
}

// BenchmarkGuide makes the pages of guides, one after another.
func BenchmarkGuide(b *testing.B) {
	book, r := specimenBook(b, 40)
	i := 0
	for b.Loop() {
		p, err := r.Guide(book.Leaves[i%len(book.Leaves)])
		if err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(len(p.Body)))
		i++
	}
}

// BenchmarkWorkings makes the workings of guides, one after another.
func BenchmarkWorkings(b *testing.B) {
	book, r := specimenBook(b, 40)
	i := 0
	for b.Loop() {
		if _, err := r.Workings(book, book.Leaves[i%len(book.Leaves)]); err != nil {
			b.Fatal(err)
		}
		i++
	}
}

// BenchmarkSet sets all that is printed of guides, one after another.
func BenchmarkSet(b *testing.B) {
	book, r := specimenBook(b, 40)
	i := 0
	for b.Loop() {
		set, err := r.Set(book, book.Leaves[i%len(book.Leaves)])
		if err != nil {
			b.Fatal(err)
		}
		set.LetGo()
		i++
	}
}

// BenchmarkBack makes what a book has beside its guides: the contents, the lists
// at the back, and what is looked through for finding.
func BenchmarkBack(b *testing.B) {
	for _, guides := range []int{20, 200} {
		b.Run(fmt.Sprint(guides), func(b *testing.B) {
			book, r := specimenBook(b, guides)
			sets, err := r.SetAll(book)
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				contents, err := r.Contents(book, sets)
				if err != nil {
					b.Fatal(err)
				}
				back, err := r.Back(book, sets)
				if err != nil {
					b.Fatal(err)
				}
				for _, d := range append(back, contents) {
					if _, err := d.Write(io.Discard); err != nil {
						b.Fatal(err)
					}
				}
				stretch := func(l *bind.Leaf) ([]byte, error) {
					set, err := sets(l)
					return set.Find, err
				}
				if err := r.WriteFind(io.Discard, book, stretch); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
