package press

import (
	"encoding/binary"
	"errors"
	"html/template"

	"bindpost/site/bind"
	"bindpost/site/render"
)

// What the pages of the book need of a guide is little, and of all guides it is
// much: while the manual is written it lies in the spool.

// setPiece appends what the pages of the book need of a guide.
func setPiece(to []byte, s *render.Set) []byte {
	to = appendTexts(to, len(s.Page.Needs), func(i int) string { return s.Page.Needs[i] })
	to = appendTexts(to, len(s.Page.Scripts), func(i int) string { return s.Page.Scripts[i] })
	to = appendTexts(to, 1, func(int) string { return string(s.Answer) })
	to = appendTexts(to, len(s.Tables), func(i int) string { return string(s.Tables[i]) })
	return appendTexts(to, itemTexts*len(s.Items), func(i int) string { return itemText(&s.Items[i/itemTexts], i%itemTexts) })
}

// itemTexts is how many texts an item of the index is kept in.
const itemTexts = 4

func itemText(i *bind.Item, n int) string {
	question := ""
	if i.Question {
		question = "?"
	}
	return [itemTexts]string{i.Code, i.Path, i.Text, question}[n]
}

// setOfPiece reads what [setPiece] wrote.
func setOfPiece(piece []byte) (*render.Set, error) {
	r, s := textsReader{rest: piece}, &render.Set{}
	s.Page.Needs, s.Page.Scripts = r.texts(), r.texts()
	if answer := r.texts(); len(answer) == 1 {
		s.Answer = template.HTML(answer[0])
	}
	for _, line := range r.texts() {
		s.Tables = append(s.Tables, template.HTML(line))
	}
	texts := r.texts()
	s.Items = make([]bind.Item, len(texts)/itemTexts)
	for i := range s.Items {
		t := texts[i*itemTexts:]
		s.Items[i] = bind.Item{Spot: bind.Spot{Code: t[0], Path: t[1]}, Text: t[2], Question: t[3] != ""}
	}
	if err := r.ended(); err != nil {
		return nil, err
	}
	return s, nil
}

// usesPiece appends which figures the sentences of a guide print, and where.
func usesPiece(to []byte, uses []bind.Use) []byte {
	return appendTexts(to, 2*len(uses), func(i int) string {
		if i%2 > 0 {
			return uses[i/2].Where
		}
		return uses[i/2].Address
	})
}

// usesOfPiece reads what [usesPiece] wrote.
func usesOfPiece(piece []byte) ([]bind.Use, error) {
	r := textsReader{rest: piece}
	texts := r.texts()
	uses := make([]bind.Use, len(texts)/2)
	for i := range uses {
		uses[i] = bind.Use{Address: texts[2*i], Where: texts[2*i+1]}
	}
	return uses, r.ended()
}

// errOddPiece is a slip of ours: the spool hands over only what was put there.
var errOddPiece = errors.New("what was kept of a guide is not as it was written")

// appendTexts appends texts: how many there are, how long each is, and then all
// of them.
func appendTexts(to []byte, n int, text func(int) string) []byte {
	to = binary.AppendUvarint(to, uint64(n))
	for i := range n {
		to = binary.AppendUvarint(to, uint64(len(text(i))))
	}
	for i := range n {
		to = append(to, text(i)...)
	}
	return to
}

// textsReader reads texts one row after another.
type textsReader struct {
	rest  []byte
	short bool // a row was not whole
}

// ended returns an error where a row was not whole, or more follows.
func (r *textsReader) ended() error {
	if r.short || len(r.rest) > 0 {
		return errOddPiece
	}
	return nil
}

// texts reads the next row, all of it cut out of one text.
func (r *textsReader) texts() []string {
	ends := make([]int, r.number())
	for i := range ends {
		ends[i] = r.number()
		if i > 0 {
			ends[i] += ends[i-1]
		}
	}
	if len(ends) == 0 {
		return nil
	}
	length := ends[len(ends)-1]
	if length > len(r.rest) {
		r.short = true
		return nil
	}
	all, texts, from := string(r.rest[:length]), make([]string, len(ends)), 0
	for i, end := range ends {
		texts[i], from = all[from:end], end
	}
	r.rest = r.rest[length:]
	return texts
}

// number reads a number, which is less than what remains or equal to it.
func (r *textsReader) number() int {
	n, size := binary.Uvarint(r.rest)
	if size <= 0 || n > uint64(len(r.rest)-size) {
		r.short, r.rest = true, nil
		return 0
	}
	r.rest = r.rest[size:]
	return int(n)
}
