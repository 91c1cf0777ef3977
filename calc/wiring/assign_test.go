package wiring

import (
	"math/rand/v2"
	"testing"
)

// tryAll places rows in every way there is: the most rows, then the least
// total.
func tryAll(cost [][]int, taken []bool) (placed, total int) {
	if len(cost) == 0 {
		return 0, 0
	}
	placed, total = tryAll(cost[1:], taken) // this row stays out
	for c, x := range cost[0] {
		if x < 0 || taken[c] {
			continue
		}
		taken[c] = true
		n, sum := tryAll(cost[1:], taken)
		taken[c] = false
		if n++; n > placed || n == placed && sum+x < total {
			placed, total = n, sum+x
		}
	}
	return placed, total
}

// TestAssignAgainstEveryWay holds a thousand small cases against trying every
// way to place the rows.
func TestAssignAgainstEveryWay(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 11))
	for n := range 1000 {
		rows, width := 1+r.IntN(5), r.IntN(6)
		cost := make([][]int, rows)
		for i := range cost {
			cost[i] = make([]int, width)
			for c := range cost[i] {
				if cost[i][c] = r.IntN(12); r.IntN(3) == 0 {
					cost[i][c] = Forbidden
				}
			}
		}
		columns, total := Assign(cost)
		placed, sum, taken := 0, 0, map[int]bool{}
		for i, c := range columns {
			if c < 0 {
				continue
			}
			if taken[c] || cost[i][c] < 0 {
				t.Fatalf("case %d: column %d is taken twice or forbidden in %v: %v", n, c, cost, columns)
			}
			taken[c] = true
			placed++
			sum += cost[i][c]
		}
		wantPlaced, wantTotal := tryAll(cost, make([]bool, width))
		if placed != wantPlaced || total != wantTotal || sum != total {
			t.Fatalf("case %d: %d rows for %d (that add up to %d), and trying every way finds %d for %d: %v", n, placed, total, sum, wantPlaced, wantTotal, cost)
		}
	}
}

func TestAssignOfNothing(t *testing.T) {
	if columns, total := Assign(nil); columns != nil || total != 0 {
		t.Errorf("no rows were placed as %v for %d", columns, total)
	}
}

func TestReaches(t *testing.T) {
	leads := []Lead{{"a", "b"}, {"b", "c"}, {"c", "b"}, {"d", "a"}}
	for _, c := range []struct {
		from, to string
		want     bool
	}{
		{"a", "c", true}, {"a", "a", false}, {"b", "b", true}, {"c", "a", false}, {"d", "c", true}, {"e", "a", false},
	} {
		if got := Reaches(leads, c.from, c.to); got != c.want {
			t.Errorf("from %s to %s: %v", c.from, c.to, got)
		}
	}
}
