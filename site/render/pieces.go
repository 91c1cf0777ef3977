package render

import (
	"html/template"
	"iter"
	"slices"
	"strings"

	"bindpost/site/bind"
)

// pieces is HTML that is made piece after piece when it is set: a row of places
// may be as long as the book.
type pieces = iter.Seq[template.HTML]

// inOne returns what is ready as one piece.
func inOne(ready template.HTML) pieces { return slices.Values([]template.HTML{ready}) }

// eachInOne returns each of several as one piece.
func eachInOne(ready []template.HTML) []pieces {
	all := make([]pieces, len(ready))
	for i, r := range ready {
		all[i] = inOne(r)
	}
	return all
}

// inTurn returns pieces of several one after another.
func inTurn(all ...pieces) pieces {
	return func(yield func(template.HTML) bool) {
		for _, some := range all {
			for p := range some {
				if !yield(p) {
					return
				}
			}
		}
	}
}

// joinPieces puts pieces together.
func joinPieces(all pieces) template.HTML {
	var b strings.Builder
	for p := range all {
		b.WriteString(string(p))
	}
	return template.HTML(b.String())
}

// filling is [words.fill] in pieces, of which a slot may take some.
func (w words) filling(key string, slots ...any) pieces {
	return func(yield func(template.HTML) bool) {
		for i, part := range w.saying(key).parts {
			fills := inOne(template.HTML(part))
			if i%2 > 0 {
				fills = slotPieces(part, slots)
			}
			for p := range fills {
				if !yield(p) {
					return
				}
			}
		}
	}
}

// slotPieces returns what fills a slot.
func slotPieces(name string, slots []any) pieces {
	for i := 0; i+1 < len(slots); i += 2 {
		if long, ok := slots[i+1].(pieces); ok && slots[i] == name {
			return long
		}
	}
	return inOne(template.HTML(slotNamed(name, slots)))
}

// joining puts n things in a row as a sentence does: "a, b and c".
func (w words) joining(n int, thing func(int) template.HTML) pieces {
	switch n {
	case 0:
		return inTurn()
	case 1:
		return inOne(thing(0))
	}
	return w.filling("table-join-last", "first", w.row(n-1, thing), "second", thing(n-1))
}

// row puts n things in a row: "a, b, c".
func (w words) row(n int, thing func(int) template.HTML) pieces {
	join := w.saying("table-join").parts
	if len(join) != 5 || join[1] != "first" { // a language that says them the other way round
		row := thing(0)
		for i := 1; i < n; i++ {
			row = w.fill("table-join", "first", row, "second", thing(i))
		}
		return inOne(row)
	}
	return func(yield func(template.HTML) bool) {
		if !yield(template.HTML(strings.Repeat(join[0], n-1)) + thing(0)) {
			return
		}
		for i := 1; i < n; i++ {
			if !yield(template.HTML(join[2]) + thing(i) + template.HTML(join[4])) {
				return
			}
		}
	}
}

// spots names places of the book in a row, each a link.
func (w words) spots(all []bind.Spot) pieces {
	return w.joining(len(all), func(i int) template.HTML { return link(all[i].Path, asHTML(all[i].Code)) })
}

// commaed names n places one after another, as an index does.
func commaed(n int, place func(int) bind.Spot) pieces {
	return func(yield func(template.HTML) bool) {
		before := template.HTML("")
		for i := range n {
			at := place(i)
			if !yield(before + link(at.Path, asHTML(at.Code))) {
				return
			}
			before = ", "
		}
	}
}
