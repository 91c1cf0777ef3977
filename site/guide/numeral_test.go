package guide

import (
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// numeral is what [nextNumeral] finds, as a pattern.
var numeral = regexp.MustCompile(`(?i)[0-9]+(?:[.,][0-9]+)*(?:[ \x{00a0}-]?[0-9]+/[0-9]+|/[0-9]+|[\x{00a0} ]?[½⅓⅔¼¾⅛⅜⅝⅞])?|[½⅓⅔¼¾⅛⅜⅝⅞]|\b(?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety|hundred)\b`)

// TestNumeral holds what is looked for byte by byte to the pattern, in texts of
// all that a number may be made of and of what may stand beside it.
func TestNumeral(t *testing.T) {
	bits := []string{
		"0", "1", "33", "250", ".", ",", "/", "-", " ", "\u00a0", "½", "⅞", "¼", "two", "Ten", "seventeen", "sevenTeenth", "often", "hundred",
		"_", "a", "Z", "é", "−", "\xc2", "\xff", "W1-T1", "\n", "(", "x2", "m",
	}
	r := rand.New(rand.NewPCG(5, 6))
	for range 200_000 {
		var b strings.Builder
		for range 1 + r.IntN(9) {
			b.WriteString(bits[r.IntN(len(bits))])
		}
		s := b.String()
		var got [][]int
		for from, to := nextNumeral(s, 0); from < len(s); from, to = nextNumeral(s, to) {
			got = append(got, []int{from, to})
		}
		if want := numeral.FindAllStringIndex(s, -1); !slices.EqualFunc(got, want, slices.Equal[[]int]) {
			t.Fatalf("in %q it finds %v, and the pattern %v", s, got, want)
		}
	}
}
