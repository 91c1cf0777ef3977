package trade

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// resultOf works one result at typed values.
func resultOf(t *testing.T, name, result string, typed ...string) formula.Value {
	t.Helper()
	m := methodOf(t, name)
	return m.Run(valuesOf(t, m, typed...), result).Results.Of(result)
}

// TestOneWayAgainstOutAndBack holds the wire of a run to both of its
// conductors: ngspice 39.3 gives 0.41886 dB for 15 m of 16 AWG with two legs
// and 0.21195 dB with one, which is the trap (testdata/outside/wire-loop.cir).
func TestOneWayAgainstOutAndBack(t *testing.T) {
	got := resultOf(t, "speaker-wire", "loss", "gauge=16 AWG", "strands=solid", "run=15 m", "load=8 ohm").Number
	if math.Abs(got-0.4188566435) > 1e-6 {
		t.Errorf("15 m one way lose %v dB, and 0.41886 dB are lost out and back", got)
	}
	m := methodOf(t, "speaker-wire").Sheet()
	if in, out := m.Input("run").Sense, m.Result("wire").Sense; in != "one way" || out != "out and back" {
		t.Errorf("the run is said to be %q and the wire %q", in, out)
	}
	bought := methodOf(t, "wire-to-buy").Sheet().Result("length")
	_, faults := m.Input("run").Take(method.Handed{
		Value: formula.Quantity(15), Text: "15 m", Unit: bought.Unit, Sense: bought.Sense, Place: fault.NewText("test", "x").All(),
	})
	if !faults.Stopped() {
		t.Error("a length of wire bought passes for a run one way")
	}
}

// TestMetricSizesAreNames looks sizes up and does not work them out: of a size
// that the standard does not name there is no resistance, and a bought 2.5 mm2
// of class 5 may have 7.98 ohm/km (IEC 60228, as reproduced), where so much
// copper has 6.90 ohm/km (GNU units 2.22).
func TestMetricSizesAreNames(t *testing.T) {
	m := methodOf(t, "speaker-wire")
	_, faults := m.Sheet().Input("size").Read(fault.NewText("test", "2 mm2").All())
	if told := faults.String(); !faults.Stopped() || !strings.Contains(told, "1.5 mm") || !strings.Contains(told, "2.5 mm") {
		t.Errorf("2 mm2 is not refused with its neighbours: %v", faults)
	}
	listed := resultOf(t, "wire-resistance", "each", "size=2.5 mm2", "class=c5").Number
	copper := resultOf(t, "metal-resistance", "each", "area=2.5 mm2").Number
	if math.Abs(listed-7.98e-3) > 1e-12 || math.Abs(copper-6.896551724e-3) > 1e-9 {
		t.Errorf("the size may have %v ohm/m, and so much copper has %v ohm/m", listed, copper)
	}
}

// TestWireErrsOnTheHarmlessSide works each printed answer again: at the longest
// run as printed the limit still holds, the thinnest gauge as printed meets it,
// and a gauge for an area has no less copper.
func TestWireErrsOnTheHarmlessSide(t *testing.T) {
	m := methodOf(t, "speaker-wire")
	r := rand.New(rand.NewPCG(5, 12))
	for range 40 {
		gauge, load := 2*(5+r.IntN(6)), 3+10*r.Float64()
		typed := []string{fmt.Sprintf("gauge=%d AWG", gauge), fmt.Sprintf("load=%.2f ohm", load)}
		got := method.Solve(m, valuesOf(t, m, typed...), ask(t, m, "most", "run where loss at most 0.5 dB")).Point
		again := resultOf(t, "speaker-wire", "loss", append(typed, "run="+got.Text)...).Number
		if again > 0.5 {
			t.Errorf("%v: over %s it loses %v dB", typed, got.Text, again)
		}
	}
	for area := 0.06; area < 49; area *= 1.13 {
		whole := resultOf(t, "gauge-for-area", "whole_gauge", fmt.Sprintf("area=%.4f mm2", area)).Number
		if whole < 0 {
			continue
		}
		if has := resultOf(t, "wire-size", "area", fmt.Sprintf("gauge=%.0f AWG", whole)).Number; has < area*1e-6*(1-1e-4) {
			t.Errorf("%.4f mm2 is called %.0f AWG, which has %v mm2", area, whole, has*1e6)
		}
	}
}

// TestReelsAgainstEveryCut compares plans with the best over all ways of
// parting the pieces, found by a search of another kind.
func TestReelsAgainstEveryCut(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 31))
	for range 300 {
		pieces := make([]float64, 1+r.IntN(6))
		for i := range pieces {
			pieces[i] = 0.5 * float64(1+r.IntN(40))
		}
		stock := [][]float64{{20}, {20, 50}, {10, 25, 30}}[r.IntN(3)]
		pieces = slices.DeleteFunc(pieces, func(p float64) bool { return p > stock[len(stock)-1] })
		if len(pieces) == 0 {
			continue
		}
		plan, best := planReels(pieces, stock)
		want := leastByCuts(pieces, nil, stock)
		if !best || math.Abs(boughtOf(plan)-want) > 1e-9 {
			t.Fatalf("%v from %v: bought %v, and %v will do", pieces, stock, boughtOf(plan), want)
		}
		holdPlan(t, plan, pieces)
	}
}

// leastByCuts puts the first piece on every reel so far and on a new one, and
// looks for the least that must be bought.
func leastByCuts(pieces, used, stock []float64) float64 {
	if len(pieces) == 0 {
		total := 0.0
		for _, u := range used {
			total += shortest(stock, u)
		}
		return total
	}
	least := leastByCuts(pieces[1:], append(slices.Clone(used), pieces[0]), stock)
	for i := range used {
		more := slices.Clone(used)
		more[i] += pieces[0]
		if shortest(stock, more[i]) > 0 {
			least = min(least, leastByCuts(pieces[1:], more, stock))
		}
	}
	return least
}

// holdPlan sees each piece cut once, from a reel that holds it.
func holdPlan(t *testing.T, plan []reel, pieces []float64) {
	t.Helper()
	seen := make([]int, len(pieces))
	for _, r := range plan {
		sum := 0.0
		for _, i := range r.pieces {
			seen[i]++
			sum += pieces[i]
		}
		if sum > r.length+1e-9 {
			t.Errorf("%v m are cut from %v m", sum, r.length)
		}
	}
	if slices.ContainsFunc(seen, func(n int) bool { return n != 1 }) {
		t.Errorf("the pieces are cut so often: %v", seen)
	}
}

// TestReelsOfManyRuns lays out more runs than are tried in full: no piece is
// lost or joined, no more is bought than a reel for each, and what is called
// best is not above what must be bought.
func TestReelsOfManyRuns(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	for range 50 {
		pieces := make([]float64, mostTried+1+r.IntN(20))
		for i := range pieces {
			pieces[i] = 1 + 24*r.Float64()
		}
		stock := []float64{25, 50, 100}
		plan, _ := planReels(pieces, stock)
		holdPlan(t, plan, pieces)
		if got := boughtOf(plan); got < leastBought(pieces, stock)-1e-9 || got > 25*float64(len(pieces))+1e-9 {
			t.Errorf("%d pieces: %v m are bought", len(pieces), got)
		}
	}
}

// TestReelsThatCannotBe asks for what no reel gives. Three runs of 30 m from
// reels of 50 m want three reels, although 90 m over 50 m are two: the trap.
func TestReelsThatCannotBe(t *testing.T) {
	typed := []string{"runs=30 and 30 and 30 m", "slack=0 %", "ends=0 m", "reels=50 m"}
	if got := resultOf(t, "reel-plan", "count", typed...); got.Number != 3 {
		t.Errorf("three runs of 30 m from reels of 50 m want %v reels", got)
	}
	got := resultOf(t, "reel-plan", "count", "runs=9 and 60 m", "slack=0 %", "ends=0 m", "reels=50 m")
	if got.State != formula.None || !strings.Contains(got.Why, "run 2") {
		t.Errorf("a run of 60 m from a reel of 50 m gives %v", got)
	}
}

// TestSkinByAFraction works the ratio again by the continued fraction of the
// two functions, which shares nothing with their series.
func TestSkinByAFraction(t *testing.T) {
	for depths := 0.05; depths < 20; depths *= 1.17 {
		z := complex(depths, -depths)
		tail := complex(0, 0)
		for n := 200.0; n >= 2; n-- {
			tail = 1 / (complex(2*n, 0)/z - tail) // J(n)/J(n-1) from J(n+1)/J(n)
		}
		want := real(z / 2 * (2/z - tail))
		if got := skinRatio(depths); math.Abs(got-want) > 1e-9*cmplx.Abs(complex(want, 0)) {
			t.Errorf("at %.3f depths the ratio is %v, and by the fraction %v", depths, got, want)
		}
	}
}

// TestReelsRise: longer pieces never want less length, as the method says; up
// to as many pieces as every plan is tried for, and beyond.
func TestReelsRise(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	for n := range 400 {
		pieces := make([]float64, 1+n%(mostTried+6))
		for i := range pieces {
			pieces[i] = 0.5 * float64(1+r.IntN(38))
		}
		stock := [][]float64{{20}, {20, 50}, {10, 25, 30}}[r.IntN(3)]
		before, _ := planReels(pieces, stock)
		longer := slices.Clone(pieces)
		longer[r.IntN(len(longer))] += 0.5
		after, _ := planReels(longer, stock)
		if boughtOf(after) < boughtOf(before)-1e-9 {
			t.Errorf("%v wants %v m of %v, and %v only %v", pieces, boughtOf(before), stock, longer, boughtOf(after))
		}
	}
}
