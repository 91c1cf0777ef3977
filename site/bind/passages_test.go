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

// TestSentenceEndBackwards holds the end of a sentence, which is found by its
// stop, to the first space with a stop before it and a head behind it.
func TestSentenceEndBackwards(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	signs := []string{"a", "B", "5", " ", " ", ".", ".", "!", "?", "\"", "'", "”", "’", ")", "(", "“", "Ω", "\xff"}
	for range 200_000 {
		text := ""
		for range r.IntN(9) {
			text += signs[r.IntN(len(signs))]
		}
		want := len(text)
		for i := range text {
			if stops := strings.TrimRight(text[:i], "\"'”’)"); text[i] == ' ' && stops != "" && strings.ContainsAny(stops[len(stops)-1:], ".!?") && opensSentence(text[i:]) {
				want = i
				break
			}
		}
		if got := sentenceEnd(text); got != want {
			t.Fatalf("%q ends its first sentence at %d, want %d", text, got, want)
		}
	}
}
