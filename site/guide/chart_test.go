package guide

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// chartOf computes the first chart of a guide with one block.
func chartOf(t *testing.T, block string) Chart {
	t.Helper()
	g, faults := Read(fault.NewText("guide.md", plainDocket+"```calc "+block+"\n```\n"), testKit(t))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return g.Tables[0].Charts[0]
}

// TestCurveFollowsItsRule holds what is drawn between the table's points to
// the rule worked by hand: the wire's resistance goes with the run, and of two
// speakers in the open the level falls by 20 dB with ten times the distance.
func TestCurveFollowsItsRule(t *testing.T) {
	wire := chartOf(t, "speaker-wire\nname: run\ngauge: 16 AWG\nrun: 3, 12, 7 m\nload: 8 ohm\nrows: run\nshow: wire\nchart: wire over run")
	seat := chartOf(t, "seat-level\nname: seat\npower: 20 W\nsensitivity: 87 dB SPL\nbasis: watt\nload: 8 ohm\ndistance: 2, 5 m\nrows: distance\nshow: level_at_seat\nchart: level_at_seat over distance, distance by tens")
	for _, c := range []struct {
		name  string
		chart Chart
		from  func(first ChartPoint, x float64) float64
	}{
		{"wire", wire, func(p ChartPoint, x float64) float64 { return p.Y * x / p.X }},
		{"seat", seat, func(p ChartPoint, x float64) float64 { return p.Y - 20*math.Log10(x/p.X) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			points := c.chart.Lines[0].Points
			if len(points) < finePoints || len(points) > finePoints+4 {
				t.Errorf("the line has %d points", len(points))
			}
			for i, p := range points {
				if want := c.from(points[0], p.X); math.Abs(p.Y-want) > 1e-9*math.Abs(want) {
					t.Errorf("at %g the line is at %g, and not %g", p.X, p.Y, want)
				}
				if i > 0 && (p.X <= points[i-1].X || p.Apart) {
					t.Errorf("the line stops or turns back at %g", p.X)
				}
			}
			if own := points[len(points)-1]; !points[0].Own || !own.Own {
				t.Errorf("the line does not go from a figure of the table to another: %+v to %+v", points[0], own)
			}
		})
	}
	steps := seat.Lines[0].Points
	if ratio, last := steps[1].X/steps[0].X, steps[59].X/steps[58].X; math.Abs(ratio-last) > 1e-9 {
		t.Errorf("by tens a step is %g times at one end and %g times at the other", ratio, last)
	}
}

// TestMostLines draws as many lines as can be told apart, and not one more.
func TestMostLines(t *testing.T) {
	for lines := mostCurves; lines <= mostCurves+1; lines++ {
		loads := make([]string, lines)
		for i := range loads {
			loads[i] = fmt.Sprint(4 + i)
		}
		block := "```calc speaker-wire\nname: run\ngauge: 16 AWG\nrun: 3, 9 m\nload: " + strings.Join(loads, ", ") + " ohm\nrows: load\ncolumns: run\nshow: loss\nchart: loss over run\n```\n"
		_, faults := Read(fault.NewText("guide.md", plainDocket+block), testKit(t))
		if stopped := faults.Stopped(); stopped != (lines > mostCurves) {
			t.Errorf("%d lines stop: %v\n%v", lines, stopped, faults)
		}
	}
}
