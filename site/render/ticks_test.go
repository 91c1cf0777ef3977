package render

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// written writes a ruling: the labels as they are printed, the ends of the
// frame behind them where these have none.
func (t ticks) written() string {
	var labels []string
	for i, v := range t.labelled {
		labels = append(labels, fmt.Sprintf("%.*f", t.places[i], v))
	}
	return fmt.Sprintf("%s in %g to %g", strings.Join(labels, " "), t.from, t.to)
}

func roomy(ticks) bool { return true }

func TestTicks(t *testing.T) {
	atMost := func(n int) func(ticks) bool { return func(t ticks) bool { return len(t.labelled) <= n } }
	cases := []struct {
		name string
		r    rulings
		want string
	}{
		{"from nothing", rulings{hi: 0.66}, "0.0 0.2 0.4 0.6 0.8 in 0 to 0.8"},
		{"a round end", rulings{hi: 15}, "0.0 2.5 5.0 7.5 10.0 12.5 15.0 in 0 to 15"},
		{"steps of 2.5", rulings{lo: 3, hi: 15}, "2.5 5.0 7.5 10.0 12.5 15.0 in 2.5 to 15"},
		{"a narrow piece", rulings{lo: 94.9, hi: 102.5}, "94 96 98 100 102 104 in 94 to 104"},
		{"below nothing", rulings{lo: -3.1, hi: 1.2}, "-4 -3 -2 -1 0 1 2 in -4 to 2"},
		{"very small", rulings{hi: 2.4e-6}, "0.0000000 0.0000005 0.0000010 0.0000015 0.0000020 0.0000025 in 0 to 2.5e-06"},
		{"very large", rulings{hi: 1.1e9}, "0 200000000 400000000 600000000 800000000 1000000000 1200000000 in 0 to 1.2e+09"},
		{"all the same", rulings{lo: 8, hi: 8}, "7.0 7.5 8.0 8.5 9.0 in 7 to 9"},
		{"nothing at all", rulings{}, "-1.0 -0.5 0.0 0.5 1.0 in -1 to 1"},
		{"whole", rulings{lo: 10, hi: 18, whole: true}, "10 12 14 16 18 in 10 to 18"},
		{"whole and few", rulings{lo: 12, hi: 14, whole: true}, "12 13 14 in 12 to 14"},
		{"little room", rulings{hi: 15, fits: atMost(4)}, "0 5 10 15 in 0 to 15"},
		{"the table's own", rulings{lo: 3, hi: 15, own: []float64{3, 6, 9, 12, 15}}, "3 6 9 12 15 in 3 to 15"},
		{"its own, with places", rulings{lo: 0.1, hi: 0.4, own: []float64{0.1, 0.2, 0.30000000000000004, 0.4}}, "0.1 0.2 0.3 0.4 in 0.1 to 0.4"},
		{"its own are uneven", rulings{lo: 0.75, hi: 4, own: []float64{0.75, 1, 1.5, 2.5, 4}}, "0 1 2 3 4 in 0 to 4"},
		{"its own are three", rulings{lo: 3, hi: 9, own: []float64{3, 6, 9}}, "3 4 5 6 7 8 9 in 3 to 9"},
		{"its own do not reach", rulings{lo: 0, hi: 12, own: []float64{3, 6, 9, 12}}, "0 2 4 6 8 10 12 in 0 to 12"},
		{"by tens", rulings{lo: 2.3, hi: 90, tens: true}, "2 5 10 20 50 100 in 2 to 100"},
		{"by tens, below one", rulings{lo: 0.03, hi: 0.66, tens: true}, "0.02 0.05 0.1 0.2 0.5 1 in 0.02 to 1"},
		{"by tens, to the end", rulings{lo: 0.01, hi: 1, tens: true}, "0.01 0.02 0.05 0.1 0.2 0.5 1 in 0.01 to 1"},
		{"all that is heard", rulings{lo: 20, hi: 20000, tens: true}, "20 100 200 1000 2000 10000 20000 in 20 to 20000"},
		{"all that is heard, little room", rulings{lo: 20, hi: 20000, tens: true, fits: atMost(4)}, "100 1000 10000 in 20 to 20000"},
		{"many decades", rulings{lo: 1e-3, hi: 1e9, tens: true}, "0.001 0.1 10 1000 100000 10000000 1000000000 in 0.001 to 1e+09"},
		{"inside a decade", rulings{lo: 6, hi: 7, tens: true}, "6.0 6.2 6.4 6.6 6.8 7.0 in 6 to 7"},
		{"its own by tens", rulings{lo: 2, hi: 5, tens: true, own: []float64{2, 3, 4, 5}}, "2 3 4 5 in 2 to 5"},
		{"octaves by tens", rulings{lo: 31.5, hi: 250, tens: true, own: []float64{31.5, 63, 125, 250}}, "31.5 63 125 250 in 31.5 to 250"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			if c.r.fits == nil {
				c.r.fits = roomy
			}
			if got := c.r.ticks().written(); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

// TestTicksHold tries rulings of every size: the figures lie in the frame, the
// labels rise and are as printed, and there are five to seven of them where a
// side is ruled evenly, and two to seven by tens.
func TestTicksHold(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 5))
	for range 20_000 {
		r := rulings{fits: roomy, tens: random.IntN(2) == 0}
		r.lo = math.Pow(10, 9*random.Float64()-4)
		r.hi = r.lo * math.Pow(10, 4*random.Float64())
		if !r.tens && random.IntN(2) == 0 {
			r.lo = -r.lo
		}
		got := r.ticks()
		if got.from > r.lo+1e-9*math.Abs(r.lo) || got.to < r.hi-1e-9*math.Abs(r.hi) {
			t.Fatalf("%g to %g does not lie in %g to %g", r.lo, r.hi, got.from, got.to)
		}
		least := leastLabels
		if r.tens {
			least = 2
		}
		if n := len(got.labelled); n < least || n > mostLabels {
			t.Fatalf("%g to %g (tens: %v) has %d labels: %s", r.lo, r.hi, r.tens, n, got.written())
		}
		for i, v := range got.labelled {
			if i > 0 && v <= got.labelled[i-1] {
				t.Fatalf("the labels do not rise: %s", got.written())
			}
			var printed float64
			if _, err := fmt.Sscan(fmt.Sprintf("%.*f", got.places[i], v), &printed); err != nil || math.Abs(printed-v) > 1e-9*math.Abs(v) {
				t.Fatalf("the label %g prints as %g", v, printed)
			}
		}
	}
}
