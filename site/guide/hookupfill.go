package guide

import (
	"cmp"
	"slices"

	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/wiring"
)

// fill makes what the block prints.
func (h *hookup) fill(f fence) *TableNode {
	made := &Hookup{Title: h.title.String(), Panel: h.panel.Text != nil, Grade: h.worst()}
	t := &Table{Name: h.name, Named: h.named, Block: f.text(), Inside: &Inside{Asks: made.Title, Hookup: made}}
	if made.Panel {
		h.fillPanel(made)
	} else {
		h.fillBoxes(made)
		h.fillSteps(made)
		t.Verdicts = []Verdict{{Name: hookupWord, Grade: made.Grade}}
	}
	h.fillSources(t)
	h.fillCautions(t)
	return &TableNode{Table: t}
}

// fillPanel draws one box with all its sockets.
func (h *hookup) fillPanel(made *Hookup) {
	b := h.box(h.panel.String())
	drawn := HookupBox{Name: b.name, Says: b.says, Called: b.called}
	for _, s := range b.Sockets {
		drawn.Sockets = append(drawn.Sockets, h.socket(b, s, wiring.One))
	}
	made.Boxes = []HookupBox{drawn}
}

// fillBoxes puts the boxes in the order of the signal, with the sockets that a
// lead goes to.
func (h *hookup) fillBoxes(made *Hookup) {
	for _, b := range h.ordered() {
		drawn := HookupBox{Name: b.name, Says: b.says, Called: b.called, Two: b.Two}
		for _, s := range b.Sockets {
			sides := []wiring.Side{wiring.One}
			if s.Pair {
				sides = []wiring.Side{wiring.Left, wiring.Right}
			}
			for _, side := range sides {
				if h.used(b, s, side) {
					drawn.Sockets = append(drawn.Sockets, h.socket(b, s, side))
				}
			}
		}
		made.Boxes = append(made.Boxes, drawn)
	}
}

// used reports whether a lead goes to a socket.
func (h *hookup) used(b *hookedBox, s *trade.Rear, side wiring.Side) bool {
	return slices.ContainsFunc(h.wired.Joints, func(j wiring.Joint) bool {
		for _, i := range []int{j.From, j.To} {
			if jack := h.wired.Jacks[i]; jack.Box == b.name && jack.Mark == s.Name && jack.Side == side {
				return true
			}
		}
		return false
	})
}

// ordered returns the boxes as the signal goes: of those whose sources all stand
// before them the first as it is listed, and those that give nothing on behind
// all others; where a loop leaves none, the first that gives something on.
func (h *hookup) ordered() []*hookedBox {
	left := slices.Clone(h.boxes)
	var order []*hookedBox
	for len(left) > 0 {
		ready := func(b *hookedBox) bool { return !h.fed(b, left) }
		next := slices.IndexFunc(left, func(b *hookedBox) bool { return ready(b) && h.feeds(b) })
		if next < 0 {
			next = slices.IndexFunc(left, h.feeds)
		}
		next = max(0, next) // only those are left that give nothing on
		order = append(order, left[next])
		left = slices.Delete(left, next, next+1)
	}
	return order
}

// fed reports whether one of the boxes that are left gives something to a box.
func (h *hookup) fed(b *hookedBox, left []*hookedBox) bool {
	return slices.ContainsFunc(h.lines, func(l *hookedLine) bool {
		return l.to.box == b && l.from.box != b && slices.Contains(left, l.from.box)
	})
}

func (h *hookup) feeds(b *hookedBox) bool {
	return slices.ContainsFunc(h.lines, func(l *hookedLine) bool { return l.from.box == b })
}

// socket is one socket as readers are told of it.
func (h *hookup) socket(b *hookedBox, s *trade.Rear, side wiring.Side) HookupSocket {
	told := HookupSocket{
		Mark: s.Marked, Side: string(side), Out: s.Out, Lead: s.Lead, Pair: s.Pair, Usual: s.Usual, Ohms: h.printed(b, s), name: s.Name,
	}
	if s.Is != nil {
		told.Family, told.Signal, told.Looks = s.Is.Family, s.Is.Signal, cmp.Or(s.Says, s.Is.Says)
	}
	return told
}

// printed is an impedance as it was typed, here or in the file of kinds.
func (h *hookup) printed(b *hookedBox, s *trade.Rear) string {
	switch text := b.text[s.Name]; {
	case text != "":
		return text
	case s.Ohms.Value > 0:
		return s.Typed
	}
	return ""
}

// fillSteps makes the steps, right and left of a line behind each other, and
// what each line was held against.
func (h *hookup) fillSteps(made *Hookup) {
	for n, l := range h.lines {
		line := HookupLine{Grade: method.Fits, Place: l.at}
		for i, joint := range l.joints {
			j := h.wired.Joints[joint]
			step := HookupStep{
				From: h.stepEnd(made, j.From, l, true), To: h.stepEnd(made, j.To, l, false), Line: n, Length: l.length,
				Side: string(h.wired.Jacks[j.From].Side),
			}
			if step.Side == "" {
				step.Side = string(h.wired.Jacks[j.To].Side)
			}
			for _, p := range l.by {
				step.Parts = append(step.Parts, p.Name)
			}
			if is := l.to.rear.Is; is != nil {
				step.Ground, step.Speaker = is.Signal == "ground", slices.Contains(h.wired.Speakers, is.Signal)
			}
			made.Powers = made.Powers || step.Speaker
			if i > 0 {
				before := h.wired.Joints[l.joints[i-1]]
				step.Again, step.Ends = before.From == j.From, before.To == j.To
			}
			line.Steps = append(line.Steps, len(made.Steps))
			made.Steps = append(made.Steps, step)
		}
		h.compared(&line, l)
		made.Lines = append(made.Lines, line)
	}
}

// stepEnd finds the drawn socket of a jack.
func (h *hookup) stepEnd(made *Hookup, jack int, l *hookedLine, from bool) HookupEnd {
	j, e := h.wired.Jacks[jack], l.to
	if from {
		e = l.from
	}
	end := HookupEnd{Plug: h.plug(l, from)}
	end.Box = slices.IndexFunc(made.Boxes, func(b HookupBox) bool { return b.Name == j.Box })
	end.Socket = slices.IndexFunc(made.Boxes[end.Box].Sockets, func(s HookupSocket) bool {
		return s.name == e.rear.Name && s.Side == string(j.Side)
	})
	return end
}

// plug is what the end of the lead is called at one of its ends. At the input it
// is what the last part offers.
func (h *hookup) plug(l *hookedLine, from bool) string {
	switch is := l.from.rear.Is; {
	case is == nil && (from || len(l.by) == 0), l.to.rear.Is == nil && !from:
		return ""
	case !from && len(l.by) > 0:
		return h.rears.EndWord(h.rears.Connector(l.by[len(l.by)-1].To))
	default: // at the output, and the plug of a lead that goes straight in
		return h.rears.EndWord(is)
	}
}

// compared gathers what a line was held against: of two sides the worse.
func (h *hookup) compared(line *HookupLine, l *hookedLine) {
	for _, f := range h.found {
		if !slices.Contains(l.joints, f.Joint) {
			continue
		}
		c := h.comparedOf(f, l)
		i := slices.IndexFunc(line.Compared, func(o HookupCompared) bool { return o.Rule == c.Rule })
		switch {
		case i < 0:
			line.Compared = append(line.Compared, c)
		case method.Worse(c.Grade, line.Compared[i].Grade):
			line.Compared[i] = c
		}
	}
	if h.asks(l) {
		line.Compared = append(line.Compared, HookupCompared{Rule: "ask", Grade: method.AskFirst})
	}
	for _, c := range line.Compared {
		if method.Worse(c.Grade, line.Grade) {
			line.Grade = c.Grade
		}
	}
}

// comparedOf is one finding as readers are told of it.
func (h *hookup) comparedOf(f wiring.Finding, l *hookedLine) HookupCompared {
	c := HookupCompared{Rule: string(f.Rule), Grade: f.Grade.String(), Count: f.Count, Known: true}
	from, to := l.from.rear, l.to.rear
	switch f.Rule {
	case wiring.Level:
		if c.Known = from.Is != nil && to.Is != nil; c.Known {
			c.Have, c.Want = from.Is.Signal, to.Is.Signal
		}
	case wiring.Ends:
		c.Known = from.Is != nil && to.Is != nil
	case wiring.Bridging, wiring.Wanted, wiring.Load:
		if c.Known = f.Known; c.Known {
			c.Have, c.Want = h.printed(l.to.box, to), h.printed(l.from.box, from)
			c.Usual = from.Usual || to.Usual
		}
		if c.Known && f.Rule == wiring.Load {
			c.Want = l.from.box.text[from.Name+leastWords]
			if f.Count > 1 {
				c.Have = printOhms(f.Have)
			}
		}
	}
	return c
}

// fillSources names what the drawing rests on: the references of its joints, of
// usual ohms, and of the kinds of boxes.
func (h *hookup) fillSources(t *Table) {
	var names []string
	for i, j := range h.wired.Joints {
		var rules []wiring.Rule
		for _, f := range h.found {
			if f.Joint == i {
				rules = append(rules, f.Rule)
			}
		}
		names = append(names, h.rears.References(h.wired, j, rules)...)
	}
	if slices.ContainsFunc(h.boxes, func(b *hookedBox) bool { return !b.own }) {
		names = append(names, h.rears.RearsReference())
	}
	for _, l := range t.Hookup.Lines {
		if slices.ContainsFunc(l.Compared, func(c HookupCompared) bool { return c.Usual }) {
			names = append(names, h.rears.UsualReference())
		}
	}
	slices.Sort(names)
	for _, id := range slices.Compact(names) {
		if r, ok := h.reader.kit.Library.Reference(id); ok {
			t.Sources = append(t.Sources, &r.Citation)
		}
	}
	for _, st := range h.stood {
		if !slices.ContainsFunc(t.Sources, func(s *Source) bool { return s.ID == st.Source.ID }) {
			t.Sources = append(t.Sources, &st.Source)
		}
	}
}

// fillCautions brings the cautions of all joints, gravest first.
func (h *hookup) fillCautions(t *Table) {
	var cautions []*method.Caution
	for _, brought := range h.brings {
		for _, id := range brought {
			if c, ok := h.reader.kit.Library.Caution(id); ok && !slices.Contains(cautions, c) {
				cautions = append(cautions, c)
			}
		}
	}
	gravestFirst(cautions)
	t.Cautions = ids(cautions)
	for _, c := range cautions {
		h.reader.warn(c, t.Block.Start)
	}
}
