package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// hookedLine is one joint line: a lead for one side, or for both.
type hookedLine struct {
	at       fault.Place
	from, to hookedEnd
	parts    []fault.Place // what goes between, by name; nil where the author leaves it to the catalogue
	by       []*wiring.Part
	length   string
	joints   []int // places among the joints of the check
}

// hookedEnd is one end of a joint line.
type hookedEnd struct {
	at    fault.Place
	box   *hookedBox
	rear  *trade.Rear
	sides []wiring.Side
}

// readJoints reads lines of the form: end to end, clauses.
func (h *hookup) readJoints() {
	for _, p := range h.joinOns {
		head, rest, comma := cutPlace(p, ",")
		from, to, found := cutPlace(head, toWord)
		if !found {
			h.fault(fault.At(p, "this joint has one end only").Want("a socket of a box, to, and a socket of another").
				Fix("%s", find(hookupRows(), "joint").Example))
			continue
		}
		l := &hookedLine{at: p}
		var okFrom, okTo bool
		l.from, okFrom = h.end(from)
		l.to, okTo = h.end(to)
		if !okFrom || !okTo || comma && !h.between(l, rest) || !h.pairUp(l) || !h.parts(l) {
			h.unsure = true
			continue
		}
		h.lines = append(h.lines, l)
	}
}

// end reads one end of a joint: left and right lead of deck.
func (h *hookup) end(p fault.Place) (e hookedEnd, ok bool) {
	b, socket := h.ofBox(p)
	if b == nil {
		return e, false
	}
	e = hookedEnd{at: p, box: b, sides: []wiring.Side{wiring.One}}
	said := false
	for _, words := range []struct {
		text  string
		sides []wiring.Side
	}{
		{leftAndRight, []wiring.Side{wiring.Left, wiring.Right}}, {"left", []wiring.Side{wiring.Left}}, {"right", []wiring.Side{wiring.Right}},
	} {
		if rest, found := strings.CutPrefix(socket.String(), words.text+" "); found {
			e.sides, said = words.sides, true
			socket = socket.Sub(len(words.text), len(words.text)+1+len(rest)).Trim()
			break
		}
	}
	for _, side := range []string{"left", "right"} { // left and left, left and right twice
		if said && (strings.HasPrefix(socket.String(), side+" ") || strings.HasPrefix(socket.String(), "and "+side+" ")) {
			words := strings.Fields(socket.String())
			h.fault(fault.At(p, "the sides are said twice here").Want("%s, left, or right", leftAndRight).
				Fix("%s %s of %s", leftAndRight, words[len(words)-1], b.name))
			return e, false
		}
	}
	if e.rear = h.socketOf(b, socket); e.rear == nil {
		return e, false
	}
	switch {
	case said && !e.rear.Pair:
		h.fault(fault.At(p, "%q of %s is one socket, and has no left and right", e.rear.Name, b.says).Fix("%s of %s", e.rear.Name, b.name))
		return e, false
	case !said && e.rear.Pair:
		e.sides = []wiring.Side{wiring.Left, wiring.Right}
	}
	return e, true
}

// between reads what follows the two ends: by the parts, and the length.
func (h *hookup) between(l *hookedLine, rest fault.Place) bool {
	for _, p := range parted(rest) {
		if parts, found := strings.CutPrefix(p.String(), "by "); found {
			l.parts = partedBy(p.Sub(len("by "), len("by ")+len(parts)).Trim(), " and ")
			continue
		}
		q, f := unit.ReadAs(p, unit.Must("m"))
		switch {
		case p.String() == "" || p.String()[0] < '0' || p.String()[0] > '9':
			f = fault.At(p, "%q is neither what goes between nor a length", p).Want("by and the parts of the catalogue, or a length such as 1 m")
		case f == nil && q.Value <= 0:
			f = fault.At(p, "%q is no length", p).Want("more than nothing")
		}
		if h.fault(f); f != nil {
			return false
		}
		l.length = p.String()
	}
	return true
}

// pairUp sees that the sides of the two ends go together: both to both, one to
// one, or both to one socket that carries both.
func (h *hookup) pairUp(l *hookedLine) bool {
	a, b := l.from.sides, l.to.sides
	if len(a) == len(b) || a[0] == wiring.One || b[0] == wiring.One {
		return true
	}
	h.fault(fault.At(l.from.at.To(l.to.at), "two sides go to one here").Want("left and right at both ends, or one of them at both"))
	return false
}

// parts finds what goes between: the parts that the author names, or the one
// lead that the catalogue has for it. Several parts have to be named: who buys
// them must read them.
func (h *hookup) parts(l *hookedLine) bool {
	from, to := l.from.rear.Is, l.to.rear.Is
	if from == nil || to == nil || !l.from.rear.Out || !l.to.rear.In {
		return true // told by the check
	}
	if parted, done := h.parted(l); done {
		return parted
	}
	if l.parts == nil {
		way, found := h.rears.Passive(from, to)
		if !found {
			return true
		}
		if l.by = way; len(way) > 1 {
			h.fault(fault.At(l.from.at.To(l.to.at), "%d parts go between these two", len(way)).
				Want("their names in the line").Fix("%s, by %s", l.from.at.To(l.to.at), partNames(way)))
			return false
		}
		return true
	}
	var names []string
	for _, p := range l.parts {
		names = append(names, p.String())
		if f := h.noPart(p); f != nil {
			h.fault(f)
			return false
		}
	}
	by, found := h.rears.Chain(from, to, names)
	if !found {
		whole := l.parts[0].To(l.parts[len(l.parts)-1])
		f := fault.At(whole, "this does not lead from the %s to the %s", from.Name, to.Name)
		if way, ok := h.rears.Passive(from, to); ok && len(way) > 0 {
			f.Fix("%s", partNames(way))
		} else if ok {
			f.Fix("leave it out: the two go straight together")
		}
		h.fault(f)
		return false
	}
	l.by = by
	return true
}

// parted sees to a line between one socket of one channel and a left and a right
// one, which no plain lead joins. done: nothing is left to find.
func (h *hookup) parted(l *hookedLine) (ok, done bool) {
	whole, from, to := l.from.at.To(l.to.at), l.from.rear, l.to.rear
	for _, p := range l.parts {
		if h.rears.Splits(p.String()) && len(l.from.sides) == len(l.to.sides) {
			h.fault(fault.At(p, "%q has one plug at one end and two at the other", p).Want("a lead with as many plugs as these sockets"))
			return false, true
		}
	}
	switch {
	case len(l.from.sides) > len(l.to.sides) && h.rears.OneChannel(to):
		h.fault(fault.At(whole, "left and right come together in one socket here, and the two outputs work against each other").
			Want("one side; or a box that mixes them, with a joint before it and one behind it"))
		return false, true
	case len(l.from.sides) >= len(l.to.sides) || !h.rears.OneChannel(from):
		return true, false
	}
	way, found := h.rears.PartedBy(from.Is, to.Is)
	switch {
	case !found:
		h.fault(fault.At(whole, "one socket goes to a left and a right one here, and no lead of the catalogue parts what it carries").
			Want("one side; or a box that gives it to both"))
		return false, true
	case l.parts == nil:
		l.by = way
		return true, true
	case !slices.ContainsFunc(l.parts, func(p fault.Place) bool { return h.rears.Splits(p.String()) }):
		h.fault(fault.At(l.parts[0].To(l.parts[len(l.parts)-1]), "one socket goes to a left and a right one here, and this has one plug at each end").
			Want("a lead that parts what the socket carries").Fix("%s", partNames(way)))
		return false, true
	}
	return true, false
}

func partNames(parts []*wiring.Part) string {
	names := make([]string, len(parts))
	for i, p := range parts {
		names[i] = p.Name
	}
	return strings.Join(names, " and ")
}

// noPart is the fault of a name that no part has, or one that needs a box of its
// own.
func (h *hookup) noPart(at fault.Place) *fault.Fault {
	var all []string
	for _, p := range h.rears.Parts {
		if p.Name == at.String() && p.Active {
			return fault.At(at, "%q has power of its own", at).Want("a box of its own, with a joint before it and one behind it")
		}
		if p.Name == at.String() {
			return nil
		}
		all = append(all, p.Name)
	}
	f := fault.At(at, "there is no part %q", at).Want("a part of the catalogue, as the method adapter-chain names it")
	if near := fault.Near(at.String(), all); near != "" {
		f.Fix("%s", near)
	}
	return f
}
