package wiring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"bindpost/calc/wiring"
)

// TestAssignAgainstGonum solves the same cases as linear programmes with
// gonum v0.17.0, which knows nothing of assignments: every row once, no column
// more than once, at least cost. Such a programme has a whole optimum.
func TestAssignAgainstGonum(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 55))
	for range 200 {
		rows := 1 + r.IntN(5)
		columns := rows + r.IntN(3)
		cost := make([][]int, rows)
		for i := range cost {
			for range columns {
				cost[i] = append(cost[i], r.IntN(20))
			}
		}
		_, total := wiring.Assign(cost)
		if want := simplex(t, cost); math.Abs(float64(total)-want) > 1e-9 {
			t.Fatalf("%v is placed at %v, and gonum finds %v", cost, total, want)
		}
	}
}

// simplex is the least cost by gonum's linear programming. The columns have a
// slack each.
func simplex(t *testing.T, cost [][]int) float64 {
	t.Helper()
	rows, columns := len(cost), len(cost[0])
	n := rows*columns + columns
	c, a, b := make([]float64, n), mat.NewDense(rows+columns, n, nil), make([]float64, rows+columns)
	for i := range rows {
		for j := range columns {
			c[i*columns+j] = float64(cost[i][j])
			a.Set(i, i*columns+j, 1)
			a.Set(rows+j, i*columns+j, 1)
		}
	}
	for j := range columns {
		a.Set(rows+j, rows*columns+j, 1)
	}
	for i := range b {
		b[i] = 1
	}
	least, _, err := lp.Simplex(c, a, b, 1e-10, nil)
	if err != nil {
		t.Fatal(err)
	}
	return least
}
