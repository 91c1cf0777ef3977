package bind

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// TestOneSpaced holds words put one space apart to their fields.
func TestOneSpaced(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	signs := []string{"a", "word", "“", "Ω", " ", " ", "\n", "\t", "\u00a0", "\u2028", "."}
	for range 100_000 {
		text := ""
		for range r.IntN(6) {
			text += signs[r.IntN(len(signs))]
		}
		if got, want := oneSpaced(text), strings.Join(strings.Fields(text), " "); got != want {
			t.Fatalf("%q becomes %q, want %q", text, got, want)
		}
	}
}

// TestSentenceEnd ends the first sentence of some words where another follows.
func TestSentenceEnd(t *testing.T) {
	for words, want := range map[string]string{
		"One. Two.": "One.", "One (of two.) Two": "One (of two.)", "It is no. 5 here": "It is no.", "at e.g. five": "at e.g. five",
		"“One.” “Two.”": "“One.”", "One!  Two": "One!", "One. ": "One. ", "": "", "’ Two": "’ Two", "Ω. Ω": "Ω.",
	} {
		if got := words[:sentenceEnd(words)]; got != want {
			t.Errorf("%q ends its first sentence behind %q, want %q", words, got, want)
		}
	}
}
