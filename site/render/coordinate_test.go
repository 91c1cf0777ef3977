package render

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestCoordinate holds the hundredths of a drawing to the shortest decimal of the
// number.
func TestCoordinate(t *testing.T) {
	try := func(v float64) {
		t.Helper()
		want := strconv.FormatFloat(hundredths(v)/shown+0, 'f', -1, 64)
		if got := coordinate(v); got != want {
			t.Errorf("%v is written %s, want %s", v, got, want)
		}
	}
	for _, v := range []float64{0, math.Copysign(0, -1), -0.001, 0.005, 0.1, -0.1, 0.01, -0.09, 100, 99.995, 1e12, -1e14, 1e15, 1e300, math.Inf(1), math.Inf(-1), math.NaN()} {
		try(v)
	}
	r := rand.New(rand.NewPCG(3, 100))
	for range 100_000 {
		try((r.Float64() - 0.5) * math.Pow(10, 12*r.Float64()))
	}
}
