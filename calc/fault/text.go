package fault

import (
	"hash/crc32"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"unicode/utf8"
)

// Text is a named source text: a guide, a method file, or what was typed at
// the command line. Offsets into it are bytes; lines and columns are made
// from them only when a fault is printed. It may be used by several goroutines.
type Text struct {
	name string
	size int
	held atomic.Pointer[body]  // nil where it was let go
	load func() (string, bool) // brings it back
	sum  uint32
}

// NewText names a source text. A byte order mark at its head is dropped and
// line ends are made plain newlines, so that offsets, columns and everything
// read later agree whichever editor wrote the file.
func NewText(name, source string) *Text {
	source = plain(source)
	t := &Text{name: name, size: len(source)}
	t.held.Store(&body{source: source})
	return t
}

// body is the source of a text, with its lines once somebody asks for them.
type body struct {
	source string
	once   sync.Once
	starts []int // offset of the first byte of each line
}

func (b *body) lines() []int {
	b.once.Do(func() {
		b.starts = []int{0}
		for i := range len(b.source) {
			if b.source[i] == '\n' {
				b.starts = append(b.starts, i+1)
			}
		}
	})
	return b.starts
}

func plain(source string) string {
	source = strings.TrimPrefix(source, "\ufeff")
	if strings.ContainsRune(source, '\r') {
		source = strings.ReplaceAll(source, "\r\n", "\n")
		source = strings.ReplaceAll(source, "\r", "\n")
	}
	return source
}

// Name returns the name under which faults report the text.
func (t *Text) Name() string { return t.name }

// Source returns the whole text, with plain newlines.
func (t *Text) Source() string { return t.body().source }

// body returns the source, brought back where it was let go.
func (t *Text) body() *body {
	if held := t.held.Load(); held != nil {
		return held
	}
	source, ok := t.load()
	if source = plain(source); !ok || len(source) != t.size || crc32.ChecksumIEEE([]byte(source)) != t.sum {
		// It is another text now. Places in this one hold, and show nothing.
		source = strings.Repeat(" ", t.size)
	}
	return &body{source: source}
}

// LetGo lets go of the source, for somebody who holds thousands of texts of which
// few are looked at again. Whenever it is wanted it is brought back as it was
// read, without being held: load returns it as [NewText] took it, or false where
// it is not there any more.
func (t *Text) LetGo(load func() (string, bool)) {
	t.load, t.sum = load, crc32.ChecksumIEEE([]byte(t.Source()))
	t.held.Store(nil)
}

// All returns the place that covers the whole text.
func (t *Text) All() Place { return Place{Text: t, Start: 0, End: t.size} }

// Place returns the place from byte offset start up to end. Offsets outside
// the text are moved to its nearest end.
func (t *Text) Place(start, end int) Place {
	start = min(max(start, 0), t.size)
	end = min(max(end, start), t.size)
	return Place{Text: t, Start: start, End: end}
}

// Offset returns the byte offset of a line and column, both counted from 1,
// columns in runes. A line or column past the end gives the nearest offset
// that exists.
func (t *Text) Offset(line, column int) int {
	if line < 1 {
		return 0
	}
	starts := t.body().lines()
	if line > len(starts) {
		return t.size
	}
	at := starts[line-1]
	rest := t.Line(line)
	for column > 1 && rest != "" {
		_, size := utf8.DecodeRuneInString(rest)
		at, rest, column = at+size, rest[size:], column-1
	}
	return at
}

// Line returns line n, counted from 1, without its newline; "" when there is
// no such line.
func (t *Text) Line(n int) string {
	b := t.body()
	if n < 1 || n > len(b.lines()) {
		return ""
	}
	line := b.source[b.lines()[n-1]:]
	if i := strings.IndexByte(line, '\n'); i >= 0 {
		line = line[:i]
	}
	return line
}

// Position returns the line and column of a byte offset, both counted from 1,
// columns in runes.
func (t *Text) Position(offset int) (line, column int) {
	offset = min(max(offset, 0), t.size)
	b := t.body()
	line = sort.SearchInts(b.lines(), offset+1)
	return line, utf8.RuneCountInString(b.source[b.lines()[line-1]:offset]) + 1
}

// Place is a stretch of a text, from byte Start up to but not including End.
// The zero Place stands for no place at all.
type Place struct {
	Text       *Text
	Start, End int
}

// String returns the text that the place covers.
func (p Place) String() string {
	if p.Text == nil {
		return ""
	}
	return p.Text.Source()[p.Start:p.End]
}

// Sub returns the place from start up to end, counted in bytes from the head
// of p. Offsets outside the text are moved to its nearest end.
func (p Place) Sub(start, end int) Place {
	if p.Text == nil {
		return p
	}
	return p.Text.Place(p.Start+start, p.Start+end)
}

// To returns the place from the head of p to the end of q, which must lie in
// the same text.
func (p Place) To(q Place) Place {
	p.End = max(p.End, q.End)
	return p
}

// Trim returns the place without the white space, no-break spaces included,
// at its two ends.
func (p Place) Trim() Place {
	s := p.String()
	trimmed := strings.TrimSpace(s)
	if len(trimmed) == len(s) {
		return p
	}
	left := strings.Index(s, trimmed)
	return p.Sub(left, left+len(trimmed))
}

// FirstLine returns the part of the place that stands in its first line.
func (p Place) FirstLine() Place {
	if i := strings.IndexByte(p.String(), '\n'); i >= 0 {
		return p.Sub(0, i)
	}
	return p
}

// Before reports whether p comes before q: by name of text, then by offset.
func (p Place) Before(q Place) bool {
	pn, qn := p.name(), q.name()
	if pn != qn {
		return pn < qn
	}
	if p.Start != q.Start {
		return p.Start < q.Start
	}
	return p.End < q.End
}

func (p Place) name() string {
	if p.Text == nil {
		return ""
	}
	return p.Text.name
}
