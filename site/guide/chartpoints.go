package guide

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// fillCharts draws the charts of a computed table.
func (b *block) fillCharts() {
	for _, c := range b.charts {
		if chart, ok := b.chart(c); ok {
			b.table.Charts = append(b.table.Charts, chart)
		}
	}
}

func (b *block) chart(c *chartLine) (Chart, bool) {
	across, in := b.across(c.along), c.along.input
	d := &drawing{block: b, line: c, unit: firstUnit(c.along.points)}
	d.chart = Chart{
		Up:     Ruling{Heading: Heading{Name: c.result.Name, Label: c.result.Label(), Says: c.result.Caption(), Unit: c.result.Unit, Sense: c.result.Meaning()}},
		Along:  Ruling{Heading: heading(in), Whole: in.Whole || c.along.points[0].Unit.Kind().Scale == unit.Gauge, Own: d.ownPlaces()},
		FromTo: b.limited, Between: !in.Whole && len(in.Among) == 0,
	}
	d.chart.Along.Unit = d.unit
	if across.input != nil {
		d.chart.Each = heading(across.input)
	}
	var own [][]ownPoint
	for i := range max(1, len(across.points)) {
		own = append(own, d.own(i))
	}
	if f := d.rule(own); f != nil {
		b.fault(f)
		return Chart{}, false
	}
	for i, points := range own {
		if line := d.through(i, points); len(line) > 0 {
			d.chart.Lines = append(d.chart.Lines, ChartLine{Name: b.lineName(across, i), Points: line})
		}
	}
	for _, l := range b.limits {
		d.level(l)
	}
	return d.chart, true
}

// firstUnit is the unit of the first value that is known.
func firstUnit(points []method.Point) unit.Unit {
	for _, p := range points {
		if p.Known() {
			return p.Unit
		}
	}
	return unit.Unit{}
}

// lineName is the point of the other side for which a line stands, as the
// table prints it.
func (b *block) lineName(across *axis, i int) string {
	side := side(*across)
	if side == nil {
		return ""
	}
	return strings.TrimSpace(side.Points[i] + " " + side.Unit.Symbol())
}

// drawing is a chart that is being drawn.
type drawing struct {
	block *block
	line  *chartLine
	unit  unit.Unit     // of the value along which it runs
	swept *method.Sweep // see sweep
	chart Chart
}

// ownPlaces are the table's own points along the chart, rising.
func (d *drawing) ownPlaces() []float64 {
	var all []float64
	for _, p := range d.line.along.points {
		if p.Known() {
			all = append(all, d.unit.FromBase(p.Value.Number))
		}
	}
	slices.Sort(all)
	return all
}

// ownPoint is a point of the table; known where it has a figure.
type ownPoint struct {
	ChartPoint
	known bool
}

// own are the table's points of one line, by rising value. Those that have no
// figure are told.
func (d *drawing) own(across int) []ownPoint {
	b, r := d.block, d.line.result
	var points []ownPoint
	for i, at := range d.line.along.points {
		row, column := i, across
		if d.line.along == &b.columns {
			row, column = across, i
		}
		p := b.points[row][column]
		v := p.outcome.Results.Of(r.Name)
		point := ownPoint{known: v.State == formula.Known}
		if !point.known || !at.Known() {
			d.chart.Left = append(d.chart.Left, b.where(row, column))
		}
		if !at.Known() {
			continue
		}
		point.X = d.unit.FromBase(at.Value.Number)
		if !point.known {
			points = append(points, point)
			continue
		}
		y := r.Unit.FromBase(v.Number)
		point.Y, point.Low, point.High, point.Own, point.At = y, y, y, true, at.Text
		point.Text = strings.TrimSpace(b.numberOf(r, p, row, column) + " " + r.Unit.Symbol())
		if data, ok := b.method.(*method.Data); ok && b.limited {
			if s := data.Spread(b.sheet.Box(p.Values()), r.Name, -1); s.Known {
				point.Low, point.High = r.Unit.FromBase(s.Low), r.Unit.FromBase(s.High)
			}
		}
		points = append(points, point)
	}
	slices.SortFunc(points, func(p, q ownPoint) int { return cmp.Compare(p.X, q.X) })
	return points
}

// A side is ruled by tens by itself where a frequency runs through ten times
// or more, and where an amount goes through a hundred times or more.
const (
	tensOfFrequency = 10
	tensOfAmount    = 100
)

// rule settles how both sides are ruled; its fault is of a ruling that does
// not go with the figures, or of a chart that has nothing to draw.
func (d *drawing) rule(lines [][]ownPoint) *fault.Fault {
	up, over, c := &d.chart.Up, &d.chart.Along, d.line
	loY, hiY, most := math.Inf(1), math.Inf(-1), 0
	for _, points := range lines {
		points = slices.DeleteFunc(slices.Clone(points), func(p ownPoint) bool { return !p.known })
		for _, p := range points {
			loY, hiY = min(loY, p.Low), max(hiY, p.High)
		}
		most = max(most, len(points))
	}
	if most < 2 {
		return fault.At(c.at, "%s has too few figures along %s for a line", up.Label, over.Label).Want("at least 2")
	}
	loX, hiX := over.Own[0], over.Own[len(over.Own)-1]
	over.Tens, up.Tens = c.over.tens, c.up.tens
	if c.over.at.Text == nil {
		over.Tens = isFrequency(over.Unit) && goesThrough(loX, hiX, tensOfFrequency)
	}
	if c.up.at.Text == nil {
		kind, times := up.Unit.Kind(), float64(tensOfAmount)
		if isFrequency(up.Unit) {
			times = tensOfFrequency
		}
		up.Tens = !kind.IsPoint() && kind != unit.Must("dB").Kind() && goesThrough(loY, hiY, times)
	}
	if over.Tens && loX <= 0 {
		return fault.At(c.over.at, "%s is not above nothing everywhere, and cannot be ruled %s", over.Label, byTens).Want("%s", evenly)
	}
	if up.Tens && loY <= 0 {
		return fault.At(c.up.at, "%s is not above nothing everywhere, and cannot be ruled %s", up.Label, byTens).Want("%s", evenly)
	}
	return nil
}

// goesThrough reports whether amounts above nothing go through so many times
// the least of them.
func goesThrough(lo, hi, times float64) bool { return lo > 0 && hi >= lo*times*(1-sameWithin) }

func isFrequency(u unit.Unit) bool {
	return u.Kind() == unit.Must("Hz").Kind() && strings.HasSuffix(u.Symbol(), "Hz")
}

// level puts a limit about the drawn result into the chart: as one level of
// it, or by name where it is none.
func (d *drawing) level(l *limit) {
	if !slices.Contains(l.holds.Uses(), d.line.result.Name) {
		return
	}
	drawn := false
	for _, test := range conjuncts(l.holds.Node()) {
		compare, ok := test.(*formula.Compare)
		if !ok || !slices.Contains(formula.Names(compare), d.line.result.Name) {
			continue
		}
		if at, above, ok := d.levelOf(compare); ok {
			d.chart.Levels = append(d.chart.Levels, ChartLevel{At: at, Text: words(formula.Text(compare)), Beyond: l.beyond, Above: above})
			drawn = true
		}
	}
	if !drawn {
		d.chart.Undrawn = append(d.chart.Undrawn, l.text)
	}
}

// levelOf returns the level that a test of the result is about, where it is
// the same at every point of the table.
func (d *drawing) levelOf(test *formula.Compare) (level float64, above, ok bool) {
	name, other := test.Left, test.Right
	above = test.Relation == formula.Less || test.Relation == formula.AtMost
	if n, isName := name.(*formula.Name); !isName || n.Text != d.line.result.Name {
		name, other, above = other, name, !above
	}
	n, isName := name.(*formula.Name)
	if !isName || n.Text != d.line.result.Name || test.Relation == formula.Equal {
		return 0, false, false
	}
	if fixed, ok := other.(*formula.Number); ok {
		return d.line.result.Unit.FromBase(formula.Quantity(fixed.Value).Number), above, true
	}
	f, faults := formula.Check(other, d.block.scope())
	if faults.Stopped() {
		return 0, false, false
	}
	first := true
	for _, row := range d.block.points {
		for _, p := range row {
			v := f.Eval(p)
			if v.State != formula.Known || !first && math.Abs(v.Number-level) > sameWithin*math.Abs(level) {
				return 0, false, false
			}
			level, first = v.Number, false
		}
	}
	return d.line.result.Unit.FromBase(level), above, true
}
