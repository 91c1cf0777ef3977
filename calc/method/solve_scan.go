package method

import (
	"math"
	"slices"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

const (
	// mostTried is how many whole numbers are tried one by one.
	mostTried = 2000
	// gridded is how many values each of the two grids has.
	gridded = 120
	// closings is how often a stretch is halved: enough to close in from any
	// stretch of the grid to neighbouring numbers.
	closings = 90
)

// candidates tries every value of a list, or every whole number; nil where
// neither is meant.
func (s *solver) candidates() []trial {
	in := s.ask.Input
	var xs []float64
	switch {
	case len(s.ask.Among) > 0:
		for _, p := range s.ask.Among {
			xs = append(xs, p.Value.Number)
		}
	case len(in.Among) > 0:
		for _, p := range in.Among {
			xs = append(xs, p.Value.Number)
		}
	case in.Whole && in.To.Value-in.From.Value <= mostTried:
		for x := math.Ceil(in.From.Value); x <= in.To.Value; x++ {
			xs = append(xs, x)
		}
	}
	slices.Sort(xs)
	var tried []trial
	for _, x := range xs {
		tried = append(tried, s.try(x))
	}
	return tried
}

// scan tries values over the hard bounds and closes in on everything that
// happens between them.
func (s *solver) scan() []trial {
	var tried []trial
	for _, x := range grid(s.ask.Input.From.Value, s.ask.Input.To.Value) {
		tried = append(tried, s.try(x))
	}
	var found []trial
	for i := range tried[1:] {
		found = append(found, s.between(tried[i], tried[i+1])...)
		if i > 0 {
			found = append(found, s.turns(tried[i-1], tried[i], tried[i+1])...)
		}
	}
	tried = append(tried, found...)
	slices.SortFunc(tried, func(a, b trial) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	return slices.CompactFunc(tried, func(a, b trial) bool { return a.x == b.x })
}

// grid spreads values from end to end evenly, and where the ends allow it also
// by equal ratios, for a value that spans several powers of ten.
func grid(from, to float64) []float64 {
	xs := []float64{from, to}
	for i := 1; i < gridded; i++ {
		share := float64(i) / gridded
		xs = append(xs, from+(to-from)*share)
		if low := max(from, to*1e-9); from >= 0 && to > 0 {
			xs = append(xs, low*math.Pow(to/low, share))
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// between closes in on each change between two neighbours: of the answer, and
// of the sign of each comparison.
func (s *solver) between(a, b trial) []trial {
	var found []trial
	if a.met != b.met {
		found = append(found, s.close(a, b, func(t trial) bool { return t.met == a.met })...)
	}
	for n := range a.margins {
		if a.margins[n]*b.margins[n] < 0 {
			found = append(found, s.close(a, b, func(t trial) bool { return t.margins[n]*a.margins[n] > 0 })...)
		}
	}
	return found
}

// close halves a stretch until nothing lies between its ends, the first of
// which is like a and the other not.
func (s *solver) close(a, b trial, like func(trial) bool) []trial {
	for range closings {
		mid := a.x + (b.x-a.x)/2
		if mid == a.x || mid == b.x {
			break
		}
		if t := s.try(mid); like(t) {
			a = t
		} else {
			b = t
		}
	}
	return []trial{a, b}
}

// turns looks for a crossing that the grid steps over: where a comparison
// comes nearer to its bound at the middle of three values than at both sides,
// it follows it to the turning point.
func (s *solver) turns(a, mid, b trial) []trial {
	var found []trial
	for n, m := range mid.margins {
		sign := math.Copysign(1, m)
		l, r := a.margins[n]*sign, b.margins[n]*sign
		if m *= sign; !(l >= m && r >= m && l+r > 2*m && l > 0 && r > 0) {
			continue
		}
		if t, crossed := s.follow(a.x, b.x, n, sign); crossed {
			found = append(found, t)
			found = append(found, s.between(a, t)...)
			found = append(found, s.between(t, b)...)
		}
	}
	return found
}

// follow seeks the least of a margin by the golden section, and stops where it
// has crossed to the other side.
func (s *solver) follow(from, to float64, n int, sign float64) (t trial, crossed bool) {
	const ratio, most = 0.6180339887498949, 60
	x, y := s.try(to-ratio*(to-from)), s.try(from+ratio*(to-from))
	for range most {
		for _, t := range []trial{x, y} {
			if t.margins[n]*sign <= 0 {
				return t, true
			}
		}
		if x.margins[n]*sign < y.margins[n]*sign {
			to, y = y.x, x
			x = s.try(to - ratio*(to-from))
		} else {
			from, x = x.x, y
			y = s.try(from + ratio*(to-from))
		}
	}
	return x, false
}

// rounded rounds an answer in the harmless direction to as few figures as
// leave it in its stretch, from three up, and runs it forwards there.
func (s *solver) rounded(exact float64, in Stretch) *Answer {
	const fewest, most = 3, 15
	for figures := fewest; figures <= most; figures++ {
		f := unit.Format{Unit: s.unit, Figures: figures}
		if x := f.Printed(exact); near(x, exact) && s.holds(x, in) {
			return s.answer(x, exact) // the bound itself, but for the noise of the search
		}
		if f.Round = unit.Down; s.ask.Least {
			f.Round = unit.Up
		}
		if x := f.Printed(exact); s.holds(x, in) {
			return s.answer(x, exact)
		}
	}
	return s.answer(exact, exact)
}

// holds checks a rounded value by running forwards.
func (s *solver) holds(x float64, in Stretch) bool {
	if below(x, in.From) || below(in.To, x) || s.ask.Input.outside(x) != "" {
		return false
	}
	met, _ := s.ask.Holds.Truth(s.at(s.with(x)))
	return met == formula.True
}

// answer runs the method forwards at the answer, for what the condition is about.
func (s *solver) answer(x, exact float64) *Answer {
	v := s.with(x)
	p := v[s.ask.Input.Name]
	if s.ask.Member > 0 {
		p = Point{Value: p.Value.List[s.ask.Member-1], Unit: s.unit, Text: typed(unit.Quantity{Value: x, Unit: s.unit})}
	}
	return &Answer{Value: p.Value, Exact: exact, Point: p, Values: v, Check: s.method.Run(v, s.sheet.results(s.ask.Holds)...)}
}
