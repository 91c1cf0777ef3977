package render

import (
	"html/template"
	"strconv"
	"strings"

	"bindpost/site/guide"
)

// box is a piece of a chart in which words stand.
type box struct{ left, top, right, foot float64 }

func (b box) holds(x, y float64) bool {
	return x >= b.left && x <= b.right && y >= b.top && y <= b.foot
}

func (b box) meets(o box) bool {
	return b.left < o.right && o.left < b.right && b.top < o.foot && o.top < b.foot
}

// level rules a limit across the frame: its condition stands on the side that
// meets it, and the word for what is beyond it on the other.
func (p *plate) level(l guide.ChartLevel) {
	y := p.y.at(l.At)
	const apart = 1.4 // a limit is ruled twice, as no line of a chart is
	p.stroke("level", p.x.start, y-apart, p.x.end, y-apart)
	p.stroke("level", p.x.start, y+apart, p.x.end, y+apart)
	room := p.x.end - p.x.start - 2*gap
	// The title of the side says already what the limit is about.
	met := wrapped(strings.TrimPrefix(l.Text, p.chart.Up.Label+" "), room)
	beyond := wrapped(p.beyond(l.Beyond), room)
	over, under := met, beyond
	if l.Above {
		over, under = beyond, met
	}
	left, boxes := p.levelPlace(y, over, under)
	p.taken = append(p.taken, boxes...)
	for i, text := range over {
		p.letter("on", left, y-gap-leading*float64(len(over)-1-i), text)
	}
	for i, text := range under {
		p.letter("on", left, y+lettering+gap/2-2+leading*float64(i), text)
	}
}

// levelPlace finds where along a limit's ruling its words cover least of what
// is drawn, and none of the words that stand already: at the left end, then
// at ever more to the right.
func (p *plate) levelPlace(y float64, over, under []string) (left float64, boxes []box) {
	const places = 12
	wideOver, wideUnder := widest(over), widest(under)
	wide := max(wideOver, wideUnder)
	highOver, highUnder := float64(len(over))*leading, float64(len(under))*leading
	top, foot := y-gap/2-highOver, y+gap/2
	lines := p.near(top, foot+highUnder)
	least := -1
	var where [2]box
	for n := range places + 1 {
		x := p.x.start + gap + max(0, p.x.end-p.x.start-2*gap-wide)*float64(n)/places
		try := [2]box{{x, top, x + wideOver, top + highOver}, {x, foot, x + wideUnder, foot + highUnder}}
		if covers := p.covered(try[:], lines); least < 0 || covers < least {
			least, left, where = covers, x, try
		}
	}
	return left, where[:]
}

// widest is the width of the widest of some lines of words.
func widest(text []string) float64 {
	wide := 0.0
	for _, t := range text {
		wide = max(wide, measured(t))
	}
	return wide
}

// near returns the points of lines that words between two heights may cover.
func (p *plate) near(top, foot float64) []spot {
	var all []spot
	for _, line := range p.spots {
		for _, at := range line {
			if at.spread || at.y >= top && at.y <= foot {
				all = append(all, at)
			}
		}
	}
	return all
}

// covered weighs what boxes of words would cover of lines and of other words.
func (p *plate) covered(boxes []box, lines []spot) int {
	const (
		dot   = 10   // against one of the sixty points of a curve
		words = 1000 // words on words are worse than words on any line
	)
	n := 0
	for _, b := range boxes {
		for _, at := range lines {
			switch {
			case b.holds(at.x, at.y) && at.own:
				n += dot
			case b.holds(at.x, at.y):
				n++
			case at.spread && b.meets(box{at.x - 1, at.high, at.x + 1, at.low}):
				n += dot
			}
		}
		for _, t := range p.taken {
			if b.meets(t) {
				n += words
			}
		}
	}
	return n
}

// describe says what is drawn, for the caption, for those who listen, and in
// notes under the drawing.
func (p *plate) describe() {
	c := p.chart
	number := p.fill("table", "number", p.table.Number)
	p.view.Caption = p.fill("chart", "table", "<b>"+number+"</b>", "result", p.sensed(c.Up.Heading), "value", p.sensed(c.Along.Heading))
	p.view.Title = aloud(p.view.Caption)
	var desc []template.HTML
	if c.Each.Label == "" {
		desc = append(desc, p.fill("chart-desc-one", "up", p.spokenTitle(c.Up), "along", p.spokenTitle(c.Along)))
	} else {
		desc = append(desc, p.fill("chart-desc", "up", p.spokenTitle(c.Up), "along", p.spokenTitle(c.Along),
			"count", strconv.Itoa(len(c.Lines)), "each", p.sensed(c.Each)))
	}
	for _, l := range c.Lines {
		desc = append(desc, p.spokenLine(l))
	}
	for _, l := range p.levels {
		desc = append(desc, p.fill("limit", "limit", p.computed(l.Text), "beyond", p.beyond(l.Beyond)))
	}
	desc = append(desc, p.fill("chart-twin", "table", number))
	var spoken []string
	for _, d := range desc {
		spoken = append(spoken, aloud(d))
	}
	p.view.Desc = capital(strings.Join(spoken, " "))
	p.notes()
}

// spokenTitle is what a side shows, in words.
func (p *plate) spokenTitle(r guide.Ruling) template.HTML {
	if r.Unit.Symbol() == "" {
		return p.sensed(r.Heading)
	}
	return p.fill("table-of", "result", p.sensed(r.Heading), "unit", p.Spoken(r.Unit))
}

// spokenLine says from where to where a line goes, and where it is highest or
// lowest on the way.
func (p *plate) spokenLine(l guide.ChartLine) template.HTML {
	var own []guide.ChartPoint
	for _, at := range l.Points {
		if at.Own {
			own = append(own, at)
		}
	}
	if len(own) == 0 {
		return ""
	}
	first, last := own[0], own[len(own)-1]
	high, low := first, first
	for _, at := range own {
		if at.Y > high.Y {
			high = at
		}
		if at.Y < low.Y {
			low = at
		}
	}
	line := p.fill("chart-line", "first", p.computed(first.Text), "from", p.computed(first.At), "last", p.computed(last.Text), "to", p.computed(last.At))
	if high.Y > last.Y && high.Y > first.Y {
		line = p.fill("chart-line-highest", "line", line, "value", p.computed(high.Text), "at", p.computed(high.At))
	}
	if low.Y < last.Y && low.Y < first.Y {
		line = p.fill("chart-line-lowest", "line", line, "value", p.computed(low.Text), "at", p.computed(low.At))
	}
	if l.Name == "" {
		return p.fill("chart-line-plain", "line", line)
	}
	return p.fill("chart-line-named", "name", p.computed(l.Name), "line", line)
}

// notes say under the drawing how it is to be read.
func (p *plate) notes() {
	c := p.chart
	add := func(key string, slots ...any) { p.view.Notes = append(p.view.Notes, p.fill(key, slots...)) }
	if c.Between {
		add("chart-between")
	} else {
		add("chart-joined")
	}
	if c.FromTo {
		add("chart-bars")
	}
	var tens []template.HTML
	for _, r := range []guide.Ruling{c.Up, c.Along} {
		if r.Tens {
			tens = append(tens, asHTML(r.Label))
		}
	}
	if tens != nil {
		add("chart-tens", "sides", p.joined(tens))
	}
	var left []template.HTML
	for _, l := range c.Left {
		left = append(left, p.computed(l))
	}
	if left != nil {
		add("chart-left", "points", p.joined(left))
	}
	for _, l := range p.far {
		add("chart-far", "limit", p.computed(l.Text))
	}
	for _, l := range c.Undrawn {
		add("chart-undrawn", "limit", p.computed(l))
	}
}
