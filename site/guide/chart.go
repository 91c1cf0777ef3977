package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// A chart line draws a result that the table shows over a value along which
// it runs: `chart: loss over run`. How a side is ruled may be said behind a
// comma: `both by tens`, `run evenly`.

// chartLine is a chart line as it was read.
type chartLine struct {
	result   *method.Result
	along    *axis
	at       fault.Place // of the whole line
	up, over ruled
}

// ruled is what a chart line says of the ruling of one side.
type ruled struct {
	at   fault.Place // without a text where nothing is said
	tens bool
}

const (
	chartWord = "chart"
	chartOver = " over "
	byTens    = "by tens"
	evenly    = "evenly"
	bothSides = "both"
)

// mostCurves is how many lines of one chart an eye can tell apart by their
// dashes and thickness.
const mostCurves = 8

// readCharts reads the chart lines.
func (b *block) readCharts() {
	if b.backwards {
		return // told already
	}
	for _, p := range b.chartLines {
		c := b.readChart(p)
		if c == nil {
			continue
		}
		if slices.ContainsFunc(b.charts, func(o *chartLine) bool { return o.result == c.result && o.along == c.along }) {
			b.fault(fault.At(p, "%s is drawn over %s already", c.result.Name, c.along.input.Name).Fix("take one of the two lines out"))
			continue
		}
		b.charts = append(b.charts, c)
	}
}

func (b *block) readChart(p fault.Place) *chartLine {
	parts := parted(p)
	what, s := parts[0], parts[0].String()
	i := strings.Index(s, chartOver)
	if i < 0 {
		b.fault(fault.At(what, "this line does not say what is drawn over what").Want("a result over a value, such as loss over run"))
		return nil
	}
	name, value := what.Sub(0, i).Trim(), what.Sub(i+len(chartOver), len(s)).Trim()
	c := &chartLine{result: b.sheet.Result(name.String()), along: b.side(value.String()), at: p}
	drawable := b.drawnResult(c, name)
	if !b.drawnOver(c, name, value) || !drawable {
		return nil
	}
	for _, clause := range parts[1:] {
		if !b.readRuling(c, clause) {
			return nil
		}
	}
	if !b.canRule(c.up, c.result.Type().Kind.IsPoint(), c.result.Label()) || !b.canRule(c.over, c.along.input.Unit.Kind().IsPoint(), c.along.input.Label()) {
		return nil
	}
	return c
}

// drawnResult sees that the result of a chart is a number that the table
// shows.
func (b *block) drawnResult(c *chartLine, name fault.Place) bool {
	switch r := c.result; {
	case len(b.sheet.Gives) == 0:
		b.fault(fault.At(name, "%s gives a verdict and no figure that could be drawn", b.sheet.Name).Fix("take this line out"))
	case r == nil:
		b.fault(b.sheet.NoResult(name.String(), name))
	case r.Words != nil || r.Group != "":
		b.fault(fault.At(name, "%s is not one number, and has no place in a drawing", name).Want("a result that is one number"))
	case len(b.results) > 0 && !slices.Contains(b.results, r):
		f := fault.At(name, "the table does not show %s, and no chart stands without its figures", name).Want("one of those it shows: %s", names(b.results))
		if b.columns.named.Text == nil {
			f.Fix("show: %s", names(append(slices.Clone(b.results), r)))
		}
		b.fault(f)
	default:
		return true
	}
	return false
}

// drawnOver sees that the value of a chart is a number along which the table
// runs, and that the lines can be told apart.
func (b *block) drawnOver(c *chartLine, name, value fault.Place) bool {
	in := b.sheet.Input(value.String())
	other := ""
	for _, a := range []*axis{&b.rows, &b.columns} {
		if a.input != nil && a.input != in && a.input.Choice == nil && a.input.Group == "" {
			other = name.String() + chartOver + a.input.Name
		}
	}
	var f *fault.Fault
	switch {
	case in == nil:
		b.fault(b.sheet.Unknown(value.String(), value))
		return false
	case in.Choice != nil:
		f = fault.At(value, "%s is a choice of words, and there is nothing between them for a line to run through", value).Want("a value that is one number")
	case in.Group != "":
		f = fault.At(value, "%s is a list, and a line cannot run along it", value).Want("a value that is one number")
	case c.along == nil && b.noSide: // told already
		return false
	case c.along == nil:
		f = fault.At(value, "the table does not run along %s", value)
		if other == "" {
			f.Want("rows: %s, or columns: %s, and several values of it", value, value)
		} else {
			f.Want("a value along which it runs")
		}
	case len(b.across(c.along).points) > mostCurves:
		f = fault.At(c.at, "this chart would have %d lines, and they could not be told apart", len(b.across(c.along).points)).
			Want("at most %d", mostCurves)
	default:
		return true
	}
	if other != "" {
		f.Fix("%s: %s", chartWord, other)
	}
	b.fault(f)
	return false
}

// across returns the side of the table that is not the one given.
func (b *block) across(along *axis) *axis {
	if along == &b.rows {
		return &b.columns
	}
	return &b.rows
}

// readRuling reads how a side is ruled.
func (b *block) readRuling(c *chartLine, clause fault.Place) bool {
	name, how, _ := strings.Cut(clause.String(), " ")
	how = strings.Join(strings.Fields(how), " ")
	if name == "" {
		b.fault(fault.At(clause, "nothing stands after the comma").Want("how a side is ruled, such as %s %s", bothSides, byTens).Fix("take the comma out"))
		return false
	}
	known := []string{c.result.Name, c.along.input.Name, bothSides}
	if how != byTens && how != evenly || !slices.Contains(known, name) {
		b.fault(fault.At(clause, "%q does not say how a side of the chart is ruled", clause).
			Want("%s, and behind it %s or %s", strings.Join(known, ", "), byTens, evenly).Fix("%s %s", bothSides, byTens))
		return false
	}
	said := ruled{at: clause, tens: how == byTens}
	for i, side := range []*ruled{&c.up, &c.over} {
		if name != bothSides && name != known[i] {
			continue
		}
		if side.at.Text != nil {
			b.fault(fault.At(clause, "it is said twice how %s is ruled", known[i]).Fix("take one of the two out"))
			return false
		}
		*side = said
	}
	return true
}

// canRule refuses tens for what is counted from no true nothing.
func (b *block) canRule(r ruled, point bool, label string) bool {
	if r.tens && point {
		b.fault(fault.At(r.at, "%s is a place on a scale and no amount, and cannot be ruled %s", label, byTens).Want("%s", evenly))
		return false
	}
	return true
}
