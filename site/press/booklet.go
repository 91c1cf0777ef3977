package press

import (
	"errors"
	"fmt"
	"maps"

	"bindpost/site/bind"
	"bindpost/site/render"
)

// BookletName is the file of the booklet in a manual.
const BookletName = "booklet.pdf"

// Print makes a PDF of a page that needs no file beside it.
type Print func(page []byte) ([]byte, error)

// mostPrints is how often a booklet is printed before its side numbers must
// have come to rest. Two times is usual: with numbers that are guessed, and with
// those that were found.
const mostPrints = 5

// booklet prints the whole manual with the numbers of its sides in the contents
// and at the back, which only a print can tell.
func (m *Manual) booklet(book *bind.Book, r *render.Renderer, print Print) ([]byte, error) {
	var sides map[string]int
	for range mostPrints {
		page, err := r.Booklet(book, m.pages, m.file, sides)
		if err != nil {
			return nil, err
		}
		pdf, err := print(page)
		if err != nil {
			return nil, err
		}
		found, err := destinations(pdf)
		if err != nil {
			return nil, fmt.Errorf("reading the booklet back: %w", err)
		}
		if maps.Equal(found, sides) {
			return signed(dated(pdf, book.Edition.Date)), nil
		}
		sides = found
	}
	return nil, errors.New("the numbers of the booklet's sides do not come to rest")
}
