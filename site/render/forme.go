package render

import (
	"bytes"
	"io"
	"sync"
)

// forme is where the type of a page is put together, piece after piece.
// goldmark and the templates write to it as it is. What is set in it is held, or
// handed on when there is enough of it.
type forme struct {
	bytes.Buffer
	to     io.Writer // nil where all is held
	handed int       // how much was handed on
	err    error     // why no more is taken
}

const (
	enough   = 64 << 10 // how much is handed on at once
	mostRoom = 1 << 20  // the room of a page of a guide; a longer page comes once
)

// formes keeps those that are free. Most pages of a book are as long as each
// other, so that one that was filled has the room for the next.
var formes = sync.Pool{New: func() any { return &forme{} }}

// set returns what is set in a forme.
func set(into func(*forme) error) (text []byte, err error) {
	err = withForme(func(f *forme) error {
		err := into(f)
		text = bytes.Clone(f.Bytes())
		return err
	})
	return text, err
}

// setText returns what is set in a forme as text.
func setText(into func(*forme) error) (text string, err error) {
	err = withForme(func(f *forme) error {
		err := into(f)
		text = f.String()
		return err
	})
	return text, err
}

func withForme(use func(*forme) error) error {
	f := formes.Get().(*forme)
	defer func() {
		if f.Cap() <= mostRoom {
			formes.Put(f)
		}
	}()
	f.Reset()
	f.to, f.handed, f.err = nil, 0, nil
	return use(f)
}

// length is how much was set.
func (f *forme) length() int { return f.handed + f.Len() }

// handOn hands on what is set, if there is enough of it and somebody to take it.
func (f *forme) handOn() {
	if f.to != nil && f.Len() >= enough {
		f.handAll()
	}
}

func (f *forme) handAll() {
	if f.err == nil {
		_, f.err = f.to.Write(f.Bytes())
	}
	f.handed += f.Len()
	f.Reset()
}

// end hands on the last piece, and returns why one was not taken.
func (f *forme) end() error {
	f.handAll()
	return f.err
}

// copyTo sets the same in another forme.
func (f *forme) copyTo(other *forme) error {
	_, err := other.Write(f.Bytes())
	return err
}

// again sets once more what was set in a forme before, and passes over the
// stretch of it that was handed on.
type again struct {
	forme *forme
	over  int // how long that stretch is
}

// Write sets what is not passed over.
func (a *again) Write(p []byte) (int, error) {
	over := min(a.over, len(p))
	a.over -= over
	a.forme.Write(p[over:])
	a.forme.handOn()
	return len(p), nil
}

// setAgain makes ready to set once more all that was set beyond a length.
func (f *forme) setAgain(from int) io.Writer {
	f.Truncate(max(from-f.handed, 0))
	return &again{f, max(f.handed-from, 0)}
}

// text writes words, escaped as the templates escape them.
func (f *forme) text(words string) {
	from := 0
	for i := range len(words) {
		if e := escapes[words[i]]; e != "" {
			f.WriteString(words[from:i])
			f.WriteString(e)
			from = i + 1
		}
	}
	f.WriteString(words[from:])
}

// escapes are what stands in HTML for a sign, "" for itself.
var escapes = [256]string{0: "\uFFFD", '"': "&#34;", '&': "&amp;", '\'': "&#39;", '+': "&#43;", '<': "&lt;", '>': "&gt;"}

// Buffered and Flush are asked for by goldmark, as of a writer with a file
// behind it.

// Buffered returns how much is not handed on: nothing.
func (f *forme) Buffered() int { return 0 }

// Flush has nothing to do.
func (f *forme) Flush() error { return nil }

// part is a stretch of a guide: its text before the first section, one
// section with its head, or the footnotes. It stands in pieces between which a
// printed side may end.
type part struct {
	*forme
	headed bool
	pieces int
}

// bound is how many pieces a head is bound to, itself the first, so that no
// printed side ends in a head alone.
const bound = 2

// piece begins the next piece.
func (p *part) piece() {
	switch {
	case p.headed && p.pieces == 0:
		p.WriteString("<section class=\"part\">\n<div class=\"opening\">\n")
	case p.headed && p.pieces == bound:
		p.WriteString("</div>\n")
	case p.pieces == 0:
		p.WriteString("<div class=\"part\">\n")
	}
	p.pieces++
}

// end ends the part; one without pieces leaves nothing.
func (p *part) end() {
	if p.pieces == 0 {
		return
	}
	if !p.headed || p.pieces <= bound {
		p.WriteString("</div>\n")
	}
	if p.headed {
		p.WriteString("</section>\n")
	}
}
