package render

import (
	"strconv"
	"strings"

	"bindpost/site/guide"
)

// line draws one line of a chart, cut where it leaves the frame, and the dots
// of the table's own points.
func (p *plate) line(i int) {
	var d strings.Builder
	points := p.chart.Lines[i].Points
	penX, penY := "", "" // where the pen stands
	for n, to := range points {
		if n == 0 || to.Apart {
			continue
		}
		from := points[n-1]
		x1, y1, x2, y2, ok := p.clipped(from, to)
		if !ok {
			continue
		}
		fromX, fromY := coordinate(x1), coordinate(y1)
		if penX != fromX || penY != fromY {
			d.WriteString("M" + fromX + " " + fromY)
		}
		penX, penY = coordinate(x2), coordinate(y2)
		d.WriteString("L" + penX + " " + penY)
	}
	if d.Len() > 0 {
		p.view.paths = append(p.view.paths, stroke{"curve curve-" + strconv.Itoa(i+1), d.String()})
	}
	for _, at := range points {
		if at.Own {
			p.view.dots = append(p.view.dots, [2]string{coordinate(p.x.at(at.X)), coordinate(p.y.at(at.Y))})
			p.bar(at)
		}
	}
}

// bar draws from where to where a figure may go.
func (p *plate) bar(at guide.ChartPoint) {
	const half = 4
	if at.Low == at.High {
		return
	}
	x, low, high := p.x.at(at.X), p.y.at(at.Low), p.y.at(at.High)
	p.stroke("bar", x, low, x, high)
	p.stroke("bar", x-half, low, x+half, low)
	p.stroke("bar", x-half, high, x+half, high)
}

// clipped is a piece of a line as far as it lies in the frame.
func (p *plate) clipped(from, to guide.ChartPoint) (x1, y1, x2, y2 float64, ok bool) {
	x1, y1, x2, y2 = p.x.at(from.X), p.y.at(from.Y), p.x.at(to.X), p.y.at(to.Y)
	const slack = 1e-6
	top, foot := p.y.end-slack, p.y.start+slack
	if y1 < top && y2 < top || y1 > foot && y2 > foot {
		return 0, 0, 0, 0, false
	}
	cut := func(x, y, otherX, otherY float64) (float64, float64) {
		edge := y
		switch {
		case y < top:
			edge = p.y.end
		case y > foot:
			edge = p.y.start
		default:
			return x, y
		}
		return x + (otherX-x)*(edge-y)/(otherY-y), edge
	}
	ax, ay := cut(x1, y1, x2, y2)
	bx, by := cut(x2, y2, x1, y1)
	return ax, ay, bx, by, true
}

// named is the name of a line at its end.
type named struct {
	text []string
	x, y float64 // where the line ends
	at   float64 // the middle of the words
}

func (n named) height() float64 { return float64(len(n.text)) * leading }

// names returns the names of the lines in words, and the room that they take
// up at the right.
func (p *plate) names() ([]named, float64) {
	if len(p.chart.Lines) == 1 && p.chart.Lines[0].Name == "" {
		return nil, lettering // half a label of the last ruling
	}
	var all []named
	room := 0.0
	for _, l := range p.chart.Lines {
		text := wrapped(l.Name, nameMost)
		for _, t := range text {
			room = max(room, measured(t))
		}
		all = append(all, named{text: text})
	}
	return all, room + 3*gap
}

// nameLines sets the name of each line at its end, pushed apart where two
// would stand on one another, and led to the line where it had to move.
func (p *plate) nameLines(names []named) {
	for i := range names {
		points := p.chart.Lines[i].Points
		last := points[len(points)-1]
		names[i].x, names[i].y = p.x.at(last.X), min(max(p.y.at(last.Y), p.y.end), p.y.start)
	}
	pushApart(names, p.y.end-leading/2, p.y.start+leading/2)
	for _, n := range names {
		left := p.x.end + 3*gap - 2
		const near = 3
		if off := n.at - n.y; off > near || off < -near || p.x.end-n.x > near {
			p.stroke("leader", n.x, n.y, max(n.x, p.x.end+2), n.y, left-3, n.at)
		}
		for i, text := range n.text {
			p.letter("", left, n.at+lettering/3+leading*(float64(i)-float64(len(n.text)-1)/2), text)
		}
	}
}
