package wiring

import "slices"

// Forbidden is the cost of a place that a row may not take.
const Forbidden = -1

// Assign gives each row a column of its own: as many rows as can be, and of all
// ways to place so many the one of least total cost. cost[r][c] is what row r
// costs in column c, 0 or more, or [Forbidden]; all rows are equally long. It
// returns the column of each row, -1 for one that has none, and the total cost
// of the rows that have. The way is exact and the same at every call, whatever
// ways of the same cost there are. Its time grows with the square of the rows
// times the columns, and sums must fit an int: a thousand rows of costs to a
// million do.
func Assign(cost [][]int) (columns []int, total int) {
	rows := len(cost)
	if rows == 0 {
		return nil, 0
	}
	width, most := len(cost[0]), 0
	for _, row := range cost {
		most = max(most, slices.Max(append([]int{0}, row...)))
	}
	// Each row may also stay without a place, for more than all places
	// together may cost, and a forbidden place costs more than that again: so
	// that no row stays out for the sake of a cheaper total.
	unplaced := rows*most + 1
	forbidden := rows*unplaced + 1
	square := make([][]int, rows)
	for r, row := range cost {
		square[r] = make([]int, width+rows)
		for c := range square[r] {
			switch {
			case c >= width:
				square[r][c] = unplaced
			case row[c] < 0:
				square[r][c] = forbidden
			default:
				square[r][c] = row[c]
			}
		}
	}
	columns = leastCost(square)
	for r, c := range columns {
		if c >= width {
			columns[r] = -1
		} else {
			total += cost[r][c]
		}
	}
	return columns, total
}

// matching is a matching that grows row by row, with the prices of rows and
// columns that prove it cheapest. Columns are counted from 1; column 0 holds
// the row that is being placed.
type matching struct {
	cost       [][]int
	byRow      []int // the price of each row, counted from 1
	byColumn   []int
	row        []int // in each column, the row that stands there; 0 for none
	cameBy     []int // on the way to a free column, the column before
	spare      []int // how much a column is dearer than the tree that grows
	in         []bool
	infinitely int
}

// leastCost returns the column of each row in the cheapest complete matching,
// by growing shortest augmenting ways (the Hungarian method). There must be at
// least as many columns as rows.
func leastCost(cost [][]int) []int {
	rows, width := len(cost), len(cost[0])
	m := &matching{
		cost: cost, byRow: make([]int, rows+1), byColumn: make([]int, width+1),
		row: make([]int, width+1), cameBy: make([]int, width+1),
		infinitely: int(^uint(0) >> 1),
	}
	for r := 1; r <= rows; r++ {
		m.place(r)
	}
	columns := make([]int, rows)
	for c := 1; c <= width; c++ {
		if m.row[c] > 0 {
			columns[m.row[c]-1] = c - 1
		}
	}
	return columns
}

// place finds a column for one more row, moving others where that is cheaper.
func (m *matching) place(r int) {
	m.row[0] = r
	m.spare = slices.Repeat([]int{m.infinitely}, len(m.row))
	m.in = make([]bool, len(m.row))
	at := 0
	for m.row[at] != 0 {
		at = m.grow(at)
	}
	for at != 0 {
		before := m.cameBy[at]
		m.row[at] = m.row[before]
		at = before
	}
}

// grow takes a column into the tree and returns the next one that costs
// nothing more to reach.
func (m *matching) grow(at int) int {
	m.in[at] = true
	r, least, next := m.row[at], m.infinitely, 0
	for c := 1; c < len(m.row); c++ {
		if m.in[c] {
			continue
		}
		if dearer := m.cost[r-1][c-1] - m.byRow[r] - m.byColumn[c]; dearer < m.spare[c] {
			m.spare[c], m.cameBy[c] = dearer, at
		}
		if m.spare[c] < least {
			least, next = m.spare[c], c
		}
	}
	for c := range m.row {
		if m.in[c] {
			m.byRow[m.row[c]] += least
			m.byColumn[c] -= least
		} else {
			m.spare[c] -= least
		}
	}
	return next
}
