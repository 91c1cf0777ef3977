package bind_test

import (
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/specimen"
)

// specimenBook returns a book of so many specimen guides, each whole.
func specimenBook(b *testing.B, guides int) *bind.Book {
	b.Helper()
	p := bind.Parts{Library: trade.Library(), Edition: guide.Edition{Title: "The Long Shelf", Language: "en-GB", Topics: specimen.Topics, Workings: true}}
	for i := range guides {
		g, faults := guide.Read(fault.NewText(specimen.File(i), specimen.Guide(i)), guide.Kit{Library: p.Library, Edition: p.Edition})
		if faults.Stopped() {
			b.Fatal(faults)
		}
		p.Guides = append(p.Guides, g)
	}
	book, faults := bind.Bind(p)
	if faults.Stopped() {
		b.Fatal(faults)
	}
	return book
}

// BenchmarkLeaf makes what is made of each leaf, one after another: the outline
// of its guide, its key, what it says, and its line of the ledger.
func BenchmarkLeaf(b *testing.B) {
	book := specimenBook(b, 40)
	var room []byte
	for _, c := range []struct {
		name string
		of   func(*bind.Leaf)
	}{
		{"outline", func(l *bind.Leaf) { bind.NewOutline(l.Guide) }},
		{"light", func(l *bind.Leaf) { bind.NewOutline(l.Guide).Light() }},
		{"key", func(l *bind.Leaf) { l.Key() }},
		{"passages", func(l *bind.Leaf) { l.Passages() }},
		{"line", func(l *bind.Leaf) { room = l.Line(room).Text }},
	} {
		b.Run(c.name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				c.of(book.Leaves[i%len(book.Leaves)])
			}
		})
	}
}

// BenchmarkBind binds a book of guides whose outlines are made.
func BenchmarkBind(b *testing.B) {
	book := specimenBook(b, 200)
	p := bind.Parts{Library: book.Library, Edition: book.Edition}
	for _, l := range book.Leaves {
		o := bind.NewOutline(l.Guide).Light()
		p.Guides, p.Outlines = append(p.Guides, o.Guide), append(p.Outlines, o)
	}
	for b.Loop() {
		bind.Bind(p)
	}
}
