package fault

import (
	"math/rand/v2"
	"testing"
)

// TestDistance holds the distance of two words, which keeps three rows of its
// table, to what it is by definition.
func TestDistance(t *testing.T) {
	var changes func(a, b []rune) int
	changes = func(a, b []rune) int {
		if len(a) == 0 || len(b) == 0 {
			return len(a) + len(b)
		}
		last := func(w []rune, n int) rune { return w[len(w)-n] }
		change := 1
		if last(a, 1) == last(b, 1) {
			change = 0
		}
		shortA, shortB := a[:len(a)-1], b[:len(b)-1]
		d := min(changes(shortA, b)+1, changes(a, shortB)+1, changes(shortA, shortB)+change)
		if len(a) > 1 && len(b) > 1 && last(a, 1) == last(b, 2) && last(a, 2) == last(b, 1) {
			d = min(d, changes(a[:len(a)-2], b[:len(b)-2])+1)
		}
		return d
	}
	r := rand.New(rand.NewPCG(1, 5))
	word := func() []rune {
		w := make([]rune, r.IntN(6))
		for i := range w {
			w[i] = []rune("abΩ")[r.IntN(3)]
		}
		return w
	}
	for range 3_000 {
		a, b := word(), word()
		if got, want := distance(a, b), changes(a, b); got != want {
			t.Fatalf("%q is %d changes from %q, want %d", string(a), got, string(b), want)
		}
	}
}
