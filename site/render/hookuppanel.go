package render

import (
	"math"

	"bindpost/site/guide"
)

// The rear of a box is drawn as rows: the sockets as they are seen, and beside
// them what is printed there and what goes in or comes out.
const (
	panelWords = 76.0
	panelRow   = 46.0
)

// drawPanel draws the rear of one box.
func drawPanel(t teller) drawnView {
	d := &sheet{teller: t}
	d.begin(hookWidth - 1)
	b := t.hookup.Boxes[0]
	top := d.y
	d.y += inset / 2
	d.text("strong", capital(b.Says), d.right-2*inset)
	d.y += inset / 2
	for _, s := range b.Sockets {
		d.rear(s)
	}
	d.y += inset / 2
	d.stroke("box", 1, top, d.right, top, d.right, d.y, 1, d.y, 1, top)
	d.view.Height = coordinate(d.y + 1)
	return d.view
}

// rear draws one socket, or a pair of them, and its words.
func (d *sheet) rear(s guide.HookupSocket) {
	head := d.y
	d.stroke("ruling", inset, head, d.right-inset, head)
	room := d.right - panelWords - inset
	mark := wrapped(broken(s.Mark, room), room)
	words := append(mark, wrapped(d.sidesOf(s), room)...)
	for i, line := range words {
		class := ""
		if i < len(mark) {
			class = "strong"
		}
		d.letter(class, panelWords, d.y+rowHeight*float64(i+1)-rowHeight/4+2, line)
	}
	d.y += max(panelRow, rowHeight*float64(len(words))+inset)
	y := (head + d.y) / 2
	if s.Pair {
		d.face(s, 22, y)
		d.face(s, 52, y)
		return
	}
	d.face(s, 37, y)
}

// sidesOf says how many sockets there are, and whether sound goes in or out.
func (d *sheet) sidesOf(s guide.HookupSocket) string {
	key := "panel-one-in"
	switch {
	case s.Family == "":
		key = "panel-one-unknown"
	case s.Pair && s.Out:
		key = "panel-pair-out"
	case s.Pair:
		key = "panel-pair-in"
	case s.Out:
		key = "panel-one-out"
	}
	return d.Say(key)
}

// face draws a socket as it is seen, by the family of its connector.
func (d *sheet) face(s guide.HookupSocket, x, y float64) {
	ring := func(r float64) { d.view.Paths = append(d.view.Paths, stroke{"face", ringOf(x, y, r)}) }
	dots := func(r, size float64, degrees ...float64) {
		for _, a := range degrees {
			sin, cos := math.Sincos(a * math.Pi / 180)
			d.view.Paths = append(d.view.Paths, stroke{"point", ringOf(x+r*cos, y+r*sin, size)})
		}
	}
	switch s.Family {
	case "phono":
		ring(11)
		ring(5)
		dots(0, 2, 0)
	case "ground":
		ring(10)
		d.stroke("face", x-6, y-6, x+6, y+6)
	case "post", "clip", "wire":
		ring(11)
		ring(6)
		d.stroke("face", x-6, y, x+6, y)
		d.stroke("face", x, y-6, x, y+6)
	case "ribbon", "loop":
		d.view.Paths = append(d.view.Paths, stroke{"face", ringOf(x-9, y, 6)}, stroke{"face", ringOf(x+9, y, 6)})
		d.stroke("face", x-13, y, x-5, y)
		d.stroke("face", x+5, y, x+13, y)
	case "DIN", "DIN speaker":
		ring(12)
		dots(7, 1.6, 0, 45, 90, 135, 180)
	case "XLR":
		ring(12)
		dots(6, 2, 90, 210, 330)
	case "6.3 mm":
		ring(9)
		ring(5)
	case "3.5 mm", "round optical":
		ring(6)
		ring(3)
	case "optical":
		d.stroke("face", x-8, y-8, x+8, y-8, x+8, y+8, x-8, y+8, x-8, y-8)
		dots(0, 2, 0)
	case "HDMI":
		d.stroke("face", x-13, y-5, x+13, y-5, x+13, y+1, x+9, y+5, x-9, y+5, x-13, y+1, x-13, y-5)
	case "F", "aerial", "BNC", "coax":
		ring(10)
		ring(6)
		dots(0, 1.6, 0)
	default:
		ring(10)
	}
}
