package render

import (
	"html/template"
	"math"
	"slices"
	"strconv"

	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// A chart is drawn in units of about a pixel: it is as wide as the text of a
// small screen, and hardly wider on a large one, so that its words keep the
// size of those round it.
const (
	chartWidth  = 380.0
	frameHeight = 220.0
	lettering   = 17.0 // height of the words
	leading     = 18.0 // from one line of words to the next
	gap         = 6.0  // between words and what they stand beside
	nameMost    = 130.0
)

// chartView is what the template of a chart is filled with.
type chartView struct {
	ID          string
	Caption     template.HTML
	Title, Desc string
	Height      string
	Paths       []stroke
	Dots        []dot
	Words       []lettered
	Notes       []template.HTML
}

// stroke is one path, told apart by its class.
type stroke struct{ Class, D string }

// dot is a point of the table.
type dot struct{ X, Y string }

// lettered is one line of words in a chart.
type lettered struct{ Class, X, Y, Text string }

// side is one side of a frame: its rulings, and where they lie.
type side struct {
	ticks
	tens       bool
	start, end float64 // of the frame
}

// at returns where a value lies.
func (s side) at(v float64) float64 {
	share := (v - s.from) / (s.to - s.from)
	if s.tens {
		share = math.Log(v/s.from) / math.Log(s.to/s.from)
	}
	return s.start + (s.end-s.start)*share
}

// plate is a chart that is being drawn.
type plate struct {
	*setter
	table  *guide.Table
	chart  guide.Chart
	view   chartView
	x, y   side
	far    []guide.ChartLevel // limits too far off to be drawn
	levels []guide.ChartLevel
	spots  [][]spot // of the points of each line
	taken  []box    // where words stand in the frame
	path   []byte   // room for the path of a line
}

// spot is where a point of a line lies, and between what its figure may go.
type spot struct {
	x, y, low, high float64
	own, apart      bool
	spread          bool // its figure may go to either side
}

// charts draws the charts of a table.
func (s *setter) charts(t *guide.Table) []chartView {
	var all []chartView
	for i, c := range t.Charts {
		p := &plate{setter: s, table: t, chart: c}
		p.view.ID = t.Number + "-D" + strconv.Itoa(i+1)
		p.draw()
		p.describe()
		all = append(all, p.view)
	}
	return all
}

// draw lays out the frame from its words inwards, and draws into it.
func (p *plate) draw() {
	title := wrapped(p.axisTitle(p.chart.Up), chartWidth)
	foot := wrapped(p.axisTitle(p.chart.Along), chartWidth)
	top := float64(len(title))*leading + 2*gap
	p.ruleUp(top)
	names, right := p.names()
	p.ruleAlong(p.labelRoom(), chartWidth-right)
	p.frame()
	p.spot()
	for i := range p.chart.Lines {
		p.line(i)
	}
	p.nameLines(names)
	for _, l := range p.levels {
		p.level(l)
	}
	for i, text := range title {
		p.letter("", 0, leading*float64(i+1)-gap/2, text)
	}
	at := p.y.start + gap + leading*2
	for _, text := range foot {
		p.letter("middle", (p.x.start+p.x.end)/2, at, text)
		at += leading
	}
	p.view.Height = coordinate(at - leading/2)
}

// axisTitle says what a side shows, and in which unit.
func (p *plate) axisTitle(r guide.Ruling) string {
	label := capitalHTML(p.sensed(r.Heading))
	if r.Unit.Symbol() == "" {
		return seen(label)
	}
	return seen(p.fill("table-head", "label", label, "unit", r.Unit.Symbol()))
}

// spot finds where all points lie, once the sides are ruled.
func (p *plate) spot() {
	for _, l := range p.chart.Lines {
		spots := make([]spot, len(l.Points))
		for i, at := range l.Points {
			y := p.y.at(at.Y)
			spots[i] = spot{x: p.x.at(at.X), y: y, low: y, high: y, own: at.Own, apart: at.Apart, spread: at.Low < at.High}
			if spots[i].spread {
				spots[i].low, spots[i].high = p.y.at(at.Low), p.y.at(at.High)
			}
		}
		p.spots = append(p.spots, spots)
	}
}

// ruleUp rules the upright side for the figures of the table, what the lines
// do between them, and the limits that are near enough.
func (p *plate) ruleUp(top float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, l := range p.chart.Lines {
		for _, at := range l.Points {
			if at.Own {
				lo, hi = min(lo, at.Low), max(hi, at.High)
			}
		}
	}
	lo, hi = p.wide(lo, hi)
	up := p.chart.Up
	if !up.Tens && !up.Unit.Kind().IsPoint() && lo >= 0 && lo <= hi/2 {
		lo = 0 // amounts are seen against nothing
	}
	lo, hi = p.nearLevels(lo, hi)
	p.y = side{tens: up.Tens, start: top + frameHeight, end: top}
	r := rulings{lo: lo, hi: hi, tens: up.Tens, fits: func(t ticks) bool {
		try := p.y
		try.ticks = t
		for i, v := range t.labelled {
			if i > 0 && try.at(t.labelled[i-1])-try.at(v) < leading {
				return false
			}
		}
		return true
	}}
	p.y.ticks = r.ticks()
}

// wide takes in what the lines do between the table's figures, unless that is
// far out: a line may have no end there.
func (p *plate) wide(lo, hi float64) (float64, float64) {
	least, most := lo-(hi-lo)/2, hi+(hi-lo)/2
	if p.chart.Up.Tens {
		least, most = lo/2, hi*2
	}
	for _, l := range p.chart.Lines {
		for _, at := range l.Points {
			if at.Y >= least && at.Y <= most {
				lo, hi = min(lo, at.Y), max(hi, at.Y)
			}
		}
	}
	return lo, hi
}

// nearLevels takes in the limits, with room for their words, unless they are
// so far off that the lines would be pressed flat.
func (p *plate) nearLevels(lo, hi float64) (float64, float64) {
	const flat = 3
	span, words := hi-lo, 2*lettering/frameHeight
	if span == 0 {
		span = spare(hi)
	}
	for _, l := range p.chart.Levels {
		outLo, outHi := min(lo, l.At-words*span), max(hi, l.At+words*span)
		if p.chart.Up.Tens {
			outLo, outHi = min(lo, l.At/1.2), max(hi, l.At*1.2)
		}
		tooFar := outHi-outLo > flat*span
		if p.chart.Up.Tens {
			tooFar = l.At <= 0 || math.Log(outHi/outLo) > flat*math.Log(hi/lo)
		}
		if tooFar {
			p.far = append(p.far, l)
			continue
		}
		if l.At > lo && lo == 0 {
			outLo = 0
		}
		lo, hi = outLo, outHi
		p.levels = append(p.levels, l)
	}
	return lo, hi
}

// ruleAlong rules the level side by the table's own points or round numbers.
func (p *plate) ruleAlong(left, right float64) {
	along := p.chart.Along
	p.x = side{tens: along.Tens, start: left, end: right}
	r := rulings{lo: along.Own[0], hi: along.Own[len(along.Own)-1], own: along.Own, whole: along.Whole, tens: along.Tens, fits: func(t ticks) bool {
		try := p.x
		try.ticks = t
		end := math.Inf(-1)
		for i, v := range t.labelled {
			half := measured(p.label(along.Unit, v, t.places[i])) / 2
			if try.at(v)-half < end {
				return false
			}
			end = try.at(v) + half + gap
		}
		return true
	}}
	p.x.ticks = r.ticks()
}

// label prints a ruling.
func (p *plate) label(u unit.Unit, v float64, places int) string {
	return unit.Format{Unit: u, Places: places}.Number(u.ToBase(v))
}

// labelRoom is what the labels of the upright side take up.
func (p *plate) labelRoom() float64 {
	room := 0.0
	for i, v := range p.y.labelled {
		room = max(room, measured(p.label(p.chart.Up.Unit, v, p.y.places[i])))
	}
	return room + gap
}

// frame draws the frame, its rulings and their labels.
func (p *plate) frame() {
	for _, v := range slices.Concat(p.y.between, p.y.labelled) {
		p.stroke("ruling", p.x.start, p.y.at(v), p.x.end, p.y.at(v))
	}
	for _, v := range slices.Concat(p.x.between, p.x.labelled) {
		p.stroke("ruling", p.x.at(v), p.y.start, p.x.at(v), p.y.end)
	}
	p.stroke("frame", p.x.start, p.y.end, p.x.end, p.y.end, p.x.end, p.y.start, p.x.start, p.y.start, p.x.start, p.y.end)
	for i, v := range p.y.labelled {
		p.letter("end", p.x.start-gap, p.y.at(v)+lettering/3, p.label(p.chart.Up.Unit, v, p.y.places[i]))
	}
	for i, v := range p.x.labelled {
		p.letter("middle", p.x.at(v), p.y.start+gap/2+lettering, p.label(p.chart.Along.Unit, v, p.x.places[i]))
	}
}

// stroke draws a path through corners.
func (p *plate) stroke(class string, corners ...float64) {
	p.view.Paths = append(p.view.Paths, stroke{class, pathOf(corners...)})
}

// pathOf writes a path through corners.
func pathOf(corners ...float64) string {
	const room = 14 // of most corners
	d := make([]byte, 0, room*len(corners)/2)
	for i := 0; i+1 < len(corners); i += 2 {
		d = appendCorner(d, "ML"[min(i, 1)], hundredths(corners[i]), hundredths(corners[i+1]))
	}
	return string(d)
}

// appendCorner writes one corner of a path, in hundredths, behind the letter that
// says how the pen goes there.
func appendCorner(d []byte, how byte, x, y float64) []byte {
	d = appendHundredths(append(d, how), x)
	return appendHundredths(append(d, ' '), y)
}

// ringOf writes a circle as a path of two halves.
func ringOf(x, y, r float64) string {
	half := "A" + coordinate(r) + " " + coordinate(r) + " 0 0 1 "
	return "M" + coordinate(x-r) + " " + coordinate(y) + half + coordinate(x+r) + " " + coordinate(y) + half + coordinate(x-r) + " " + coordinate(y) + "Z"
}

func (p *plate) letter(class string, x, y float64, text string) {
	p.view.Words = append(p.view.Words, lettered{class, coordinate(x), coordinate(y), text})
}

// coordinate writes a place in a chart to a hundredth.
func coordinate(v float64) string {
	var room [24]byte // for the longest in a chart, and more
	return string(appendHundredths(room[:0], hundredths(v)))
}

const shown = 100 // what of a unit is shown

// hundredths returns a place in whole hundredths. It is cut twice, so that the
// last bits, in which processors differ, never move it.
func hundredths(v float64) float64 {
	const fine = 1e6
	return math.Round(math.Round(v*fine) / fine * shown)
}

// appendHundredths writes so many hundredths as a number without needless noughts.
func appendHundredths(b []byte, n float64) []byte {
	const whole = 1e15 // to here a whole number and its hundredth are told exactly
	if !(math.Abs(n) < whole) {
		return strconv.AppendFloat(b, n/shown+0, 'f', -1, 64)
	}
	if n < 0 {
		b, n = append(b, '-'), -n
	}
	b = strconv.AppendInt(b, int64(n)/shown, 10)
	switch rest := byte(int64(n) % shown); {
	case rest == 0:
		return b
	case rest%10 == 0:
		return append(b, '.', '0'+rest/10)
	default:
		return append(b, '.', '0'+rest/10, '0'+rest%10)
	}
}
