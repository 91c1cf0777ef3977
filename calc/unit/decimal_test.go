package unit

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestFloat holds the quick way from figures to a number to the general one.
func TestFloat(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200_000 {
		x := math.Exp(120*r.Float64()-60) * float64(1-2*r.IntN(2))
		d := cut(x).round(r.IntN(kept+1), Rounding(r.IntN(3)))
		text := "0." + string(d.figures[:d.count]) + "e" + strconv.Itoa(d.point)
		if d.negative {
			text = "-" + text
		}
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := d.float(); got != want {
			t.Fatalf("%s is %v, and %v is wanted", text, got, want)
		}
	}
}

// TestWholeDecimal holds whole numbers to the text that stands for them.
func TestWholeDecimal(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 200_000 {
		x := math.Trunc(math.Exp(28*r.Float64())) * math.Pow10(r.IntN(4)) * float64(1-2*r.IntN(2))
		if i < 3 {
			x = []float64{0, wholeBelow - 1, -wholeBelow}[i]
		}
		got, want := cut(x), cutText(x)
		same := string(got.figures[:got.count]) == string(want.figures[:want.count])
		if !same || got.negative != want.negative || got.point != want.point {
			t.Fatalf("%v is %+v, and %+v is wanted", x, got, want)
		}
	}
}
