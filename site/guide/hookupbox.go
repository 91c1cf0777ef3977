package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
)

// The words of the lines of a hook-up.
const (
	isWord       = " is "
	calledWord   = "called "
	ofWord       = " of "
	toWord       = " to "
	markedWord   = "marked "
	leastWords   = "at least "
	dontKnow     = "don't know"
	leftAndRight = "left and right"
)

// readBoxes reads lines of the form: name is kind, called words.
func (h *hookup) readBoxes() {
	for _, p := range h.boxLines {
		head, rest, comma := cutPlace(p, ",")
		name, kind, is := cutPlace(head, isWord)
		b := &hookedBox{name: name.String(), at: name, unknown: map[string]bool{}, text: map[string]string{}}
		called := ""
		if comma {
			words, found := strings.CutPrefix(rest.String(), calledWord)
			if !found || strings.TrimSpace(words) == "" {
				h.boxFault(fault.At(rest, "this does not say what the box is called").Want("called and the words: called the old player"))
				continue
			}
			called = strings.TrimSpace(words)
			h.checkWords(rest)
		}
		switch {
		case !isName(b.name):
			h.boxFault(fault.At(name, "%q is no name for a box", name).Want("%s; behind it is, and the kind of box", nameShape).Fix("box: deck is record player"))
			continue
		case h.box(b.name) != nil:
			h.boxFault(fault.At(name, "a box %q stands above already", name).Fix("another name"))
			continue
		case len(h.boxes) == mostHooked:
			h.boxFault(fault.At(name, "this hook-up has more than %d boxes", mostHooked).Fix("two drawings"))
			return // once is enough, however many follow
		case !is && called == "":
			h.boxFault(fault.At(p, "this does not say what kind of box %q is", name).
				Want("is, and one of: %s; or, for a box of your own, called and its words", strings.Join(h.rears.KindNames(), ", ")))
			continue
		}
		if !is {
			b.Kind, b.own, b.says, b.called = &trade.Kind{Name: b.name}, true, called, true
			h.boxes = append(h.boxes, b)
			continue
		}
		h.kindOf(b, kind, called)
	}
}

// boxFault tells a box that could not be read: what names it is then passed
// over.
func (h *hookup) boxFault(f *fault.Fault) {
	h.fault(f)
	h.unsure, h.astray = true, true
}

// kindOf gives a box the sockets of its kind.
func (h *hookup) kindOf(b *hookedBox, kind fault.Place, called string) {
	k := h.rears.Kind(kind.String())
	if k == nil {
		f := fault.At(kind, "there is no kind of box %q", kind).Want("one of: %s", strings.Join(h.rears.KindNames(), ", "))
		if near := fault.Near(kind.String(), h.rears.KindNames()); near != "" {
			f.Fix("%s", near)
		} else {
			f.Fix("box: %s, called %s; and a socket line for each of its sockets", b.name, strings.TrimPrefix(kind.String(), calledWord))
		}
		h.boxFault(f)
		return
	}
	own := *k                                           // the block may say more of its sockets
	own.Sockets, own.Sends = nil, slices.Clone(k.Sends) // what a guide adds is not added to the kind
	for _, s := range k.Sockets {
		copied := *s
		own.Sockets = append(own.Sockets, &copied)
	}
	if b.Kind, b.says = &own, k.Says; called != "" {
		b.says, b.called = called, true
	}
	h.boxes = append(h.boxes, b)
}

// checkWords keeps words that a drawing prints, so that they are looked through
// for advice that no page prints and for dangers, as the prose is. Over a drawing
// of what nobody must join they warn, and advise nothing.
func (h *hookup) checkWords(p fault.Place) {
	said := &saying{marked: h.verdict.String() == method.DoNotConnect}
	said.say(p.String(), p.Start)
	h.reader.drawn = append(h.reader.drawn, said)
}

// readSockets reads lines of the form: socket of box, clauses.
func (h *hookup) readSockets() {
	for _, p := range h.socketLines {
		head, rest, _ := cutPlace(p, ",")
		b, name := h.ofBox(head)
		if b == nil {
			continue
		}
		s := b.Socket(name.String())
		added := s == nil
		if added {
			s = &trade.Rear{Name: name.String(), Marked: strings.ToUpper(name.String())}
		}
		if !h.clausesOf(b, s, rest) {
			h.unsure, h.astray = true, h.astray || added
			continue
		}
		if !added {
			continue
		}
		if s.Is == nil && !b.unknown[s.Name] {
			h.boxFault(fault.At(name, "%q is no socket of %s, and it is not said what it is", name, b.says).
				Want("a connector of the catalogue, such as phono line input; or %s", dontKnow).Fix("%s", h.nearSocket(b, name.String())))
			continue
		}
		b.Sockets, b.added = append(b.Sockets, s), append(b.added, s.Name)
	}
}

// nearSocket is the socket of a box that a mistyped name may mean, or a line to
// copy.
func (h *hookup) nearSocket(b *hookedBox, name string) string {
	if near := fault.Near(name, socketNames(b)); near != "" {
		return near
	}
	return "socket: " + name + " of " + b.name + ", phono line input, left and right"
}

func socketNames(b *hookedBox) []string {
	var names []string
	for _, s := range b.Sockets {
		names = append(names, s.Name)
	}
	return names
}

// ofBox parts a place at its last "of": a socket, and the box that has it. The
// box is nil where none has the name, which is told.
func (h *hookup) ofBox(p fault.Place) (*hookedBox, fault.Place) {
	i := strings.LastIndex(p.String(), ofWord)
	if i < 0 {
		h.fault(fault.At(p, "this does not say which box the socket belongs to").Want("the socket, of, and the box").Fix("%s of %s", p, h.anyBox()))
		h.unsure = true
		return nil, p
	}
	socket, box := p.Sub(0, i).Trim(), p.Sub(i+len(ofWord), len(p.String())).Trim()
	b := h.box(box.String())
	if b == nil {
		if !h.astray {
			h.fault(h.noBox(box))
		}
		h.broken = true
	}
	return b, socket
}

func (h *hookup) anyBox() string {
	if len(h.boxes) == 0 {
		return "amp"
	}
	return h.boxes[len(h.boxes)-1].name
}

// clausesOf reads what a line says of a socket.
func (h *hookup) clausesOf(b *hookedBox, s *trade.Rear, rest fault.Place) bool {
	if rest.Text == nil || rest.String() == "" {
		return true
	}
	for _, p := range parted(rest) {
		if !h.clauseOf(b, s, p) {
			return false
		}
	}
	return true
}

// clauseOf reads one clause of a socket's line.
func (h *hookup) clauseOf(b *hookedBox, s *trade.Rear, p fault.Place) bool {
	text := strings.ReplaceAll(p.String(), "’", "'")
	switch {
	case text == dontKnow:
		s.Ohms, s.Least, s.Usual = unit.Quantity{}, unit.Quantity{}, false
		if b.unknown[s.Name] = true; !s.In && !s.Out { // nobody knows what it is
			s.In, s.Out = true, true
		}
	case text == leftAndRight:
		s.Pair = true
	case text == "out" || text == "in":
		s.Out, s.In = text == "out", text == "in"
	case strings.HasPrefix(text, markedWord):
		s.Marked = strings.TrimSpace(strings.TrimPrefix(text, markedWord))
		h.checkWords(p)
	case strings.HasPrefix(text, leastWords):
		q, printed, ok := h.ohms(p.Sub(len(leastWords), len(p.String())).Trim())
		s.Least = q
		b.text[s.Name+leastWords] = printed
		return ok
	case text != "" && strings.ContainsAny(text[:1], "0123456789.-+<"):
		q, printed, ok := h.ohms(p)
		s.Ohms, s.Usual = q, false
		b.text[s.Name] = printed
		return ok
	default:
		return h.connectorOf(s, p)
	}
	return true
}

// connectorOf says what a socket is.
func (h *hookup) connectorOf(s *trade.Rear, p fault.Place) bool {
	c := h.rears.Named(p.String())
	switch {
	case c == nil && slices.Contains(strings.Fields(strings.ToLower(p.String())), "mains"):
		h.fault(fault.At(p, "no mains lead is drawn").Want("the leads that carry sound; the steps say when the mains plugs are pulled and put in"))
		return false
	case c == nil:
		h.fault(h.rears.NoConnector(p.String(), p))
		return false
	}
	s.Is, s.Out, s.In = c, c.Gives, c.Takes
	return true
}

// ohms reads an impedance: typed, or a standing figure, or a figure of a block
// above.
func (h *hookup) ohms(p fault.Place) (q unit.Quantity, printed string, ok bool) {
	ohm := unit.Must("ohm")
	if !holdsFigure(p) {
		q, f := unit.ReadAs(p, ohm)
		if f == nil && q.Value <= 0 {
			f = fault.At(p, "%q is no impedance", p).Want("more than nothing")
		}
		h.fault(f)
		return q, p.String(), f == nil
	}
	faults := &fault.List{}
	borrower := &block{label: label{reader: h.reader}}
	handed, found := borrower.nameFigure(p, faults)
	h.join(faults)
	h.stood = append(h.stood, borrower.stood...)
	switch {
	case !found:
		h.broken = true
		return q, "", false
	case handed.Value.State != formula.Known || handed.Value.List != nil || handed.Value.Word != "" || handed.Unit.Kind() != ohm.Kind():
		h.fault(fault.At(p, "this figure is no impedance").Want("a figure in ohm"))
		return q, "", false
	}
	return unit.Quantity{Value: handed.Value.Number, Unit: handed.Unit}, handed.Text, true
}

// readInside reads lines of the form: socket to socket and socket of box.
func (h *hookup) readInside() {
	for _, p := range h.insideLines {
		b, way := h.ofBox(p)
		if b == nil {
			continue
		}
		in, outs, to := cutPlace(way, toWord)
		if !to {
			h.fault(fault.At(p, "this does not say what comes out where").Fix("inside: in to out of %s", b.name))
			continue
		}
		b.inside = true
		from := h.socketOf(b, in)
		for _, out := range partedBy(outs, " and ") {
			if s := h.socketOf(b, out); s != nil && from != nil {
				if !from.In || !s.Out {
					h.fault(fault.At(way, "nothing goes from %s to %s inside a box", in, out).Want("an input, to, and an output"))
					return
				}
				b.Sends = append(b.Sends, [2]string{from.Name, s.Name})
			}
		}
	}
	for _, b := range h.boxes {
		b.sendAll()
	}
}

// sendAll lets every added input of a box without ways of its own come out of
// every output, and every added output have every input: what is not known
// may howl.
func (b *hookedBox) sendAll() {
	if b.inside {
		return
	}
	for _, in := range b.Sockets {
		for _, out := range b.Sockets {
			added := slices.Contains(b.added, in.Name) || slices.Contains(b.added, out.Name)
			if added && in != out && in.In && out.Out && (b.own || in.Is == nil || out.Is == nil || in.Is.Signal != "ground" && out.Is.Signal != "ground") {
				b.Sends = append(b.Sends, [2]string{in.Name, out.Name})
			}
		}
	}
}

// socketOf finds a socket of a box; nil, and told, where it has none of the name.
func (h *hookup) socketOf(b *hookedBox, name fault.Place) *trade.Rear {
	if s := b.Socket(name.String()); s != nil {
		return s
	}
	if h.astray {
		h.broken = true
		return nil
	}
	f := fault.At(name, "%s has no socket %q here", b.says, name)
	if all := socketNames(b); len(all) > 0 {
		f.Want("one of: %s; or a socket line for it", strings.Join(all, ", "))
	}
	h.fault(f.Fix("%s", h.nearSocket(b, name.String())))
	return nil
}
