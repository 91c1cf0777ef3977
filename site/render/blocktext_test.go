package render

import (
	"math/rand/v2"
	"testing"

	"bindpost/site/guide"
)

// TestBlockText holds the setting of blocks to that of the formatter, whatever
// pieces they have; none is empty.
func TestBlockText(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	texts := []string{"x", "run", " \n", "\n", ": ", "9", `"too thin"`, "<a> & 'b'", "Ω", "two\nlines\n", "\n\n"}
	for range 10_000 {
		var pieces []guide.Piece
		for range r.IntN(6) {
			pieces = append(pieces, guide.Piece{Kind: guide.PieceKind(r.IntN(len(pieceTypes))), Text: texts[r.IntN(len(texts))]})
		}
		got, err := blockText(pieces)
		if err != nil {
			t.Fatal(err)
		}
		want, err := formatted(pieces)
		if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Fatalf("%q is set as\n%s\nand the formatter sets it as\n%s", pieces, got, want)
		}
	}
}
