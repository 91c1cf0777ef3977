package render

import (
	"cmp"
	"slices"
	"strings"

	"bindpost/site/guide"
)

// A hook-up is drawn as wide as the text of a small screen, in units of a pixel,
// so that its words are as large as the text. Boxes stand under each other in
// the order of the signal, each socket in a row of its box; leads leave the
// right edge of the boxes and run up and down in lanes beside them, where no
// words stand.
const (
	hookWidth  = 288.0
	laneWidth  = 9.0 // where there are many lanes
	fewLanes   = 6   // up to so many lie further apart
	wideLane   = 13.0
	rowHeight  = 21.0
	boxGap     = 16.0
	edgeRoom   = 10.0 // between the boxes and the first lane
	inset      = 8.0  // between the edge of a box and its words
	numberRoom = 30.0 // for the number of a lead at the right edge
)

// sheet is a drawing of a hook-up in the making.
type sheet struct {
	teller
	view  drawnView
	right float64 // edge of the boxes
	lane  float64 // from one lane to the next
	rows  map[[2]int]float64
	y     float64
}

// run is a lead as it is drawn: between two rows, in a lane.
type run struct {
	step     int
	from, to float64
	lane     int
}

func (r run) top() float64  { return min(r.from, r.to) }
func (r run) foot() float64 { return max(r.from, r.to) }

// drawHookup draws boxes and leads.
func drawHookup(t teller) drawnView {
	// Where rows lie does not turn on how wide the boxes are, unless words wrap:
	// so lanes are counted first with boxes of their usual width, and then anew.
	d := &sheet{teller: t}
	lanes := 1
	for range 3 {
		d.begin(hookWidth - edgeRoom - float64(lanes)*laneOf(lanes))
		d.lane = laneOf(lanes)
		d.boxes()
		need := d.lanes()
		if need == lanes {
			break
		}
		lanes = need
	}
	for _, r := range d.broken(d.runs()) {
		d.lead(r)
	}
	d.ends()
	d.view.Height = coordinate(d.y)
	return d.view
}

// broken puts the runs drawn as dashes or dots first: where leads cross, it is
// they that make room, for an unbroken line must not look like dashes.
func (d *sheet) broken(runs []run) []run {
	unbroken := func(r run) int {
		if strings.HasPrefix(leadClass(d.hookup.Steps[r.step]), "lead lead-right") { // a speaker's too
			return 1
		}
		return 0
	}
	return slices.SortedStableFunc(slices.Values(runs), func(a, b run) int { return cmp.Compare(unbroken(a), unbroken(b)) })
}

// laneOf is how far apart so many lanes lie.
func laneOf(lanes int) float64 {
	if lanes <= fewLanes {
		return wideLane
	}
	return laneWidth
}

// begin starts the drawing anew with boxes of a width.
func (d *sheet) begin(right float64) {
	d.view = drawnView{}
	d.right, d.rows, d.y = right, map[[2]int]float64{}, 1
}

// boxes draws every box; of a pair of loudspeakers each is one.
func (d *sheet) boxes() {
	for i, b := range d.hookup.Boxes {
		if !b.Two {
			d.box(i, d.titleOf(b, ""), func(guide.HookupSocket) bool { return true })
			continue
		}
		for _, side := range []string{"left", "right"} {
			if slices.ContainsFunc(b.Sockets, func(s guide.HookupSocket) bool { return s.Side == side }) {
				d.box(i, d.titleOf(b, side), func(s guide.HookupSocket) bool { return s.Side == side })
			}
		}
	}
	d.y -= boxGap - 1
}

// titleOf is the name over a box.
func (d *sheet) titleOf(b guide.HookupBox, side string) string {
	if side == "" {
		return b.Says
	}
	return seen(d.fill("hookup-of-side", "side", d.side(side), "box", b.Says))
}

// box draws a box with its name and a row for each of its sockets.
func (d *sheet) box(i int, title string, has func(guide.HookupSocket) bool) {
	top := d.y
	d.y += inset / 2
	d.text("strong", capital(title), d.right-2*inset)
	last := ""
	for n, s := range d.hookup.Boxes[i].Sockets {
		if !has(s) {
			continue
		}
		plug := d.plugAt(i, n)
		name := d.rowName(s)
		if name == "" { // the side alone, under the mark that it shares
			if s.Mark != last {
				d.text("", d.markOf(s), d.right-inset-numberRoom)
			}
			name = d.side(s.Side)
		}
		last = s.Mark
		indent := inset
		if s.Side != "" && !d.hookup.Boxes[i].Two {
			indent += inset
		}
		if plug != "" {
			name = seen(d.fill("hookup-row", "socket", name, "plug", plug))
		}
		d.rows[[2]int{i, n}] = d.row(name, indent)
	}
	d.y += inset
	d.stroke("box", 1, top, d.right, top, d.right, d.y, 1, d.y, 1, top)
	d.y += boxGap
}

// plugAt is what the end of the lead is called that goes into a socket; "" where
// the box has the lead of its own.
func (d *sheet) plugAt(box, socket int) string {
	if d.hookup.Boxes[box].Sockets[socket].Lead {
		return ""
	}
	for _, s := range d.hookup.Steps {
		for _, e := range []guide.HookupEnd{s.From, s.To} {
			if e.Box == box && e.Socket == socket {
				return e.Plug
			}
		}
	}
	return ""
}

// markOf is what is printed beside a socket, or that it is a lead of the box's
// own.
func (d *sheet) markOf(s guide.HookupSocket) string {
	if s.Lead {
		return d.Say("hookup-own-lead")
	}
	return s.Mark
}

// rowName is the words of a socket that needs no words over it; "" of one side
// of a pair.
func (d *sheet) rowName(s guide.HookupSocket) string {
	switch {
	case s.Side != "":
		return ""
	case s.Lead && s.Family == "ground":
		return capital(s.Mark)
	}
	return d.markOf(s)
}

// text sets words in the box, on as many lines as they want.
func (d *sheet) text(class, words string, room float64) {
	const boldShare = 0.9 // of the room, for letters that may be bold
	for _, line := range wrapped(broken(words, boldShare*room), room) {
		d.y += rowHeight
		d.letter(class, inset, d.y-rowHeight/4, line)
	}
}

// row sets a socket's row, and returns where its middle lies.
func (d *sheet) row(words string, indent float64) float64 {
	room := d.right - indent - numberRoom
	lines := wrapped(broken(words, room), room)
	for _, line := range lines {
		d.y += rowHeight
		d.letter("", indent, d.y-rowHeight/4, line)
	}
	return d.y - rowHeight/2
}

func (d *sheet) stroke(class string, corners ...float64) {
	d.view.Paths = append(d.view.Paths, stroke{class, pathOf(corners...)})
}

func (d *sheet) letter(class string, x, y float64, text string) {
	d.view.Words = append(d.view.Words, lettered{class, coordinate(x), coordinate(y), text})
}

// row of an end of a step.
func (d *sheet) at(e guide.HookupEnd) float64 { return d.rows[[2]int{e.Box, e.Socket}] }

// runs gives each lead the innermost lane in which no other runs beside it,
// the shortest first.
func (d *sheet) runs() []run {
	var all []run
	for i, s := range d.hookup.Steps {
		all = append(all, run{step: i, from: d.at(s.From), to: d.at(s.To)})
	}
	order := slices.Clone(all)
	slices.SortStableFunc(order, func(a, b run) int { return cmp.Compare(a.foot()-a.top(), b.foot()-b.top()) })
	var placed []run
	for _, r := range order {
		for slices.ContainsFunc(placed, func(o run) bool {
			return o.lane == r.lane && o.top() < r.foot()+rowHeight/2 && r.top() < o.foot()+rowHeight/2
		}) {
			r.lane++
		}
		placed = append(placed, r)
	}
	slices.SortFunc(placed, func(a, b run) int { return cmp.Compare(a.step, b.step) })
	return placed
}

// lanes is how many lanes the leads take up.
func (d *sheet) lanes() int {
	most := 0
	for _, r := range d.runs() {
		most = max(most, r.lane+1)
	}
	return most
}

// leadClass is the class by which a lead is told apart.
func leadClass(s guide.HookupStep) string {
	class := "lead lead-one"
	switch {
	case s.Ground:
		class = "lead lead-ground"
	case s.Side == "left":
		class = "lead lead-left"
	case s.Side == "right":
		class = "lead lead-right"
	}
	if s.Speaker {
		class += " lead-speaker"
	}
	return class
}

// lead draws a lead, on a ground of paper, so that it is seen to pass over
// those that it crosses.
func (d *sheet) lead(r run) {
	x := d.right + edgeRoom + float64(r.lane)*d.lane
	corners := []float64{d.right, r.from, x, r.from, x, r.to, d.right, r.to}
	d.stroke("under", corners...)
	d.stroke(leadClass(d.hookup.Steps[r.step]), corners...)
}

// ends draws the sign of each end over the leads, and its number: a ring where
// the sound comes out, a filled point into the box where it goes in.
func (d *sheet) ends() {
	numbers := map[[2]int]string{}
	var order [][2]int
	for i, s := range d.hookup.Steps {
		for _, e := range []guide.HookupEnd{s.From, s.To} {
			key := [2]int{e.Box, e.Socket}
			if numbers[key] == "" {
				order = append(order, key)
			} else {
				numbers[key] += ", "
			}
			numbers[key] += stepNumber(i)
		}
	}
	for _, key := range order {
		y := d.rows[key]
		d.letter("end", d.right-inset, y+rowHeight/4, numbers[key])
		if d.hookup.Boxes[key[0]].Sockets[key[1]].Out {
			d.view.Paths = append(d.view.Paths, stroke{"ring", ringOf(d.right, y, 5)})
			continue
		}
		d.stroke("point", d.right-5, y, d.right+7, y-6, d.right+7, y+6, d.right-5, y)
	}
}
