package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"bindpost/calc/fault"
)

// Copy is an author's folder, read. Each text is named by its path in the
// copy, with slashes; lists are sorted by that path.
type Copy struct {
	Guides   []*fault.Text
	Methods  []*fault.Text
	Phrases  []*fault.Text // words of its own methods, a language each: phrases/en-US.txt
	Imprint  *fault.Text   // nil where there is none
	Standing *fault.Text   // nil where there is none
	Drawings []Drawing
	Lost     []string // files that are there and could not be read: nothing in them can be told to be missing
}

// Drawing is a picture of the copy, as it will stand in the manual. One that
// is written in letters, an SVG, is a text too, so that a fault in it has a
// place.
type Drawing struct {
	Path string // in the copy and in the manual, with slashes: "drawings/back-panel.svg"
	Data []byte
	Text *fault.Text // of a drawing that is no text, its name only
}

// Hash returns the SHA-256 of a text in hexadecimal, by which a stage names
// what it read. Byte order marks and the kind of line ends do not count, since
// no stage sees them.
func Hash(t *fault.Text) string { return HashOf([]byte(t.Source())) }

// HashOf names the bytes of a text as [Hash] does.
func HashOf(source []byte) string {
	sum := sha256.Sum256(source)
	return hex.EncodeToString(sum[:])
}

// ErrUnread is the cause of a fault where the system would not let something
// be read, which no change to the guides would mend.
var ErrUnread = errors.New("could not be read")

// Unread reports whether a fault on the list was caused by [ErrUnread].
func Unread(l *fault.List) bool {
	for _, f := range l.All() {
		if errors.Is(f, ErrUnread) {
			return true
		}
	}
	return false
}
