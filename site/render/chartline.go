package render

import (
	"math"
	"strconv"
)

// line draws one line of a chart, cut where it leaves the frame, and the dots
// of the table's own points.
func (p *plate) line(i int) {
	points, d := p.spots[i], p.path[:0]
	penX, penY := math.NaN(), math.NaN() // where the pen stands, in hundredths: nowhere yet
	for n, to := range points {
		if n == 0 || to.apart {
			continue
		}
		x1, y1, x2, y2, ok := p.clipped(points[n-1], to)
		if !ok {
			continue
		}
		fromX, fromY := hundredths(x1), hundredths(y1)
		if penX != fromX || penY != fromY {
			d = appendCorner(d, 'M', fromX, fromY)
		}
		penX, penY = hundredths(x2), hundredths(y2)
		d = appendCorner(d, 'L', penX, penY)
	}
	if p.path = d; len(d) > 0 {
		p.view.Paths = append(p.view.Paths, stroke{"curve curve-" + strconv.Itoa(i+1), string(d)})
	}
	for _, at := range points {
		if at.own {
			p.view.Dots = append(p.view.Dots, dot{coordinate(at.x), coordinate(at.y)})
			p.bar(at)
		}
	}
}

// bar draws from where to where a figure may go.
func (p *plate) bar(at spot) {
	const half = 4
	if !at.spread {
		return
	}
	p.stroke("bar", at.x, at.low, at.x, at.high)
	p.stroke("bar", at.x-half, at.low, at.x+half, at.low)
	p.stroke("bar", at.x-half, at.high, at.x+half, at.high)
}

// clipped is a piece of a line as far as it lies in the frame.
func (p *plate) clipped(from, to spot) (x1, y1, x2, y2 float64, ok bool) {
	x1, y1, x2, y2 = from.x, from.y, to.x, to.y
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
		last := p.spots[i][len(p.spots[i])-1]
		names[i].x, names[i].y = last.x, min(max(last.y, p.y.end), p.y.start)
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
