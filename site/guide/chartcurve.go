package guide

import (
	"maps"
	"math"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

const (
	// finePoints is how many points a line has about, so that a curve is one.
	finePoints = 60
	// closings is how near an end of a line, or a jump, is closed in to: a
	// millionth of the way between two points.
	closings = 20
	// jumpShare is the share of what the figures go through that a step between
	// two points must have to be looked at as a jump.
	jumpShare = 0.03
)

// curve computes one line of a chart between the table's points.
type curve struct {
	drawing *drawing
	across  int
	span    float64 // what the table's points of the line go through
	points  []ChartPoint

	sweep *method.Sweep   // along the line; nil where other values are asked for at some of its points only, or this one at none
	point method.Point    // at which the sweep is
	moved []*method.Point // that point, as the sweep asks for it
	bars  bool            // the values of the line do not go together
}

// through returns the points of a line: the table's own, and those between.
func (d *drawing) through(across int, own []ownPoint) []ChartPoint {
	c := d.curve(across)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range own {
		if p.known {
			lo, hi = min(lo, p.Y), max(hi, p.Y)
		}
	}
	c.span, c.points = hi-lo, make([]ChartPoint, 0, len(own)+finePoints)
	whole := d.place(own[len(own)-1].X) - d.place(own[0].X)
	at, known := own[0].ChartPoint, own[0].known
	if known {
		c.points = append(c.points, at)
	}
	for i, to := range own[1:] {
		from := own[i].X
		steps := int(math.Ceil(finePoints*(d.place(to.X)-d.place(from))/whole - sameWithin))
		if !d.chart.Between {
			steps = 1
		}
		for n := 1; n <= steps; n++ {
			next, ok := to.ChartPoint, to.known
			if n < steps {
				next, ok = c.at(d.between(from, to.X, float64(n)/float64(steps)))
			}
			c.join(at, next, known, ok)
			at, known = next, ok
		}
	}
	return c.points
}

// place is where a value lies along the chart: evenly, or by tens.
func (d *drawing) place(x float64) float64 {
	if d.chart.Along.Tens {
		return math.Log(x)
	}
	return x
}

// between returns the value a share of the way from one to another.
func (d *drawing) between(from, to, share float64) float64 {
	if d.chart.Along.Tens {
		return from * math.Pow(to/from, share)
	}
	return from + (to-from)*share
}

// curve begins a line. Where all its points ask for the same values, these are
// checked once for all of them.
func (d *drawing) curve(across int) *curve {
	c := &curve{drawing: d, across: across, point: d.line.along.points[0]}
	c.point.Value, c.point.Unit, c.point.Limits = formula.Quantity(0), d.unit, nil
	c.point.Text = "" // nobody reads it
	b, along := d.block, d.line.along.input.Name
	switch {
	case b.agree:
		c.sweep, c.moved = d.sweep(), c.onSides()
	case !b.sheet.AsksBy(along):
		v := c.values(d.line.along.points[0])
		c.bars = b.sheet.Check(v, b.info).Stopped()
		if _, asked := v[along]; asked {
			c.moved = []*method.Point{&c.point}
			c.sweep = method.NewSweep(b.method, v, []string{along}, d.line.result.Name)
		}
	}
	return c
}

// sweep returns the one sweep that serves all lines of a table whose values go
// together everywhere: it moves along both sides.
func (d *drawing) sweep() *method.Sweep {
	if d.swept == nil {
		d.swept = method.NewSweep(d.block.method, d.block.fixed, d.block.moving(), d.line.result.Name)
	}
	return d.swept
}

// onSides returns the curve's own point and that of the line, in the order of the
// table's sides.
func (c *curve) onSides() []*method.Point {
	b, line := c.drawing.block, c.drawing.line
	across := b.across(line.along)
	switch {
	case across.input == nil:
		return []*method.Point{&c.point}
	case line.along == &b.rows:
		return []*method.Point{&c.point, &across.points[c.across]}
	}
	return []*method.Point{&across.points[c.across], &c.point}
}

// values returns the values at a point of the line.
func (c *curve) values(p method.Point) method.Values {
	d, b := c.drawing, c.drawing.block
	v := maps.Clone(b.fixed)
	v[d.line.along.input.Name] = p
	if across := b.across(d.line.along); across.input != nil {
		v[across.input.Name] = across.points[c.across]
	}
	return b.together(v)
}

// at runs the method at a value between the table's points; it is not ok
// where there is no figure.
func (c *curve) at(x float64) (ChartPoint, bool) {
	d, r := c.drawing, c.drawing.line.result
	c.point.Value.Number = d.unit.ToBase(x)
	result, ok := c.result()
	y := r.Unit.FromBase(result.Number)
	if !ok || result.State != formula.Known || d.chart.Up.Tens && y <= 0 {
		return ChartPoint{X: x}, false
	}
	return ChartPoint{X: x, Y: y, Low: y, High: y}, true
}

// result works the line's result at its point; it is not ok where it cannot be
// worked there.
func (c *curve) result() (v formula.Value, ok bool) {
	b := c.drawing.block
	switch {
	case c.bars:
		return v, false
	case c.sweep != nil:
		ok = c.sweep.Value(&v, c.moved...)
		return v, ok
	}
	at := c.values(c.point)
	if b.sheet.Check(at, b.info).Stopped() {
		return v, false
	}
	o := b.method.Run(at, c.drawing.line.result.Name)
	v, ok = o.Results.Find(c.drawing.line.result.Name)
	return v, ok && !o.Faults.Stopped()
}

// join adds the next point of a line. Where figures end or begin on the way
// to it, and where they jump, the line is cut there.
func (c *curve) join(from, to ChartPoint, known, ok bool) {
	switch {
	case !c.drawing.chart.Between:
		if to.Apart = !known; ok {
			c.points = append(c.points, to)
		}
	case known && ok:
		before, after, jumps := c.jump(from, to)
		if jumps {
			c.points = append(c.points, before)
			after.Apart = true
			c.points = append(c.points, after)
		}
		c.points = append(c.points, to)
	case known:
		c.points = append(c.points, c.close(from, to))
	case ok:
		begin := c.close(to, from)
		begin.Apart = true
		c.points = append(c.points, begin, to)
	}
}

// close closes in on where the figures end between a point that has one and
// one that has none.
func (c *curve) close(has, lacks ChartPoint) ChartPoint {
	last, first := ChartPoint{X: has.X, Y: has.Y, Low: has.Y, High: has.Y}, lacks.X
	for range closings {
		middle, ok := c.at(c.drawing.between(last.X, first, 0.5))
		if ok {
			last = middle
		} else {
			first = middle.X
		}
	}
	return last
}

// jump finds whether most of the step between two points is made at one place.
func (c *curve) jump(from, to ChartPoint) (before, after ChartPoint, jumps bool) {
	step := math.Abs(to.Y - from.Y)
	if step <= jumpShare*c.span {
		return from, to, false
	}
	before, after = from, to
	for range closings {
		middle, ok := c.at(c.drawing.between(before.X, after.X, 0.5))
		if !ok {
			return from, to, false
		}
		if math.Abs(middle.Y-before.Y) > math.Abs(after.Y-middle.Y) {
			after = middle
		} else {
			before = middle
		}
		if math.Abs(after.Y-before.Y) <= step/2 { // as a curve goes, that has no jump
			return from, to, false
		}
	}
	before.Own, after.Own = false, false
	return before, after, true
}
