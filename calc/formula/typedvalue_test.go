package formula

import (
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/unit"
)

// TestEndsValue: where the end of a plain reading is taken for the end of a
// value, reading the value itself finds nothing more.
func TestEndsValue(t *testing.T) {
	pieces := []string{"1", "8", "33", "0.5", "-", "−", "+", " ", " ", "/", "½", "ft", "in", "'", "h", "min", "AWG", "dB", "SPL", "ohms", "per", "e3", "× 10³", ",", "and", " and ", " or ", "run is 9 m", "°", "C"}
	r, ended := rand.New(rand.NewPCG(5, 6)), 0
	for range 200_000 {
		var b strings.Builder
		for range 1 + r.IntN(6) {
			b.WriteString(pieces[r.IntN(len(pieces))])
		}
		s := b.String()
		plain := plainLength(s)
		if plain == 0 || !endsValue(s[plain:]) {
			continue
		}
		if ended++; unit.ScanValue(s) > plain || shapeLength(s) > 0 {
			t.Fatalf("%q goes on behind its first %d bytes", s, plain)
		}
	}
	if ended < 10_000 {
		t.Errorf("only %d values ended", ended)
	}
}
