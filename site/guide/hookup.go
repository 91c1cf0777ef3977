package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/wiring"
)

// hookup is a hookup block as it is being read.
type hookup struct {
	label
	opening fault.Place // the info word
	rears   *trade.Rears

	title, verdict, panel                       fault.Place
	boxLines, socketLines, insideLines, joinOns []fault.Place
	unsure                                      bool // a line could not be read: what seems to be missing may stand there
	astray                                      bool // and it may be a box or a socket that other lines name

	boxes  []*hookedBox
	lines  []*hookedLine
	wired  *wiring.Hookup
	found  []wiring.Finding
	brings [][]string // by joint of wired, its cautions
	stood  []*Standing
}

// hookedBox is a box of the block, with its sockets.
type hookedBox struct {
	name, says string
	at         fault.Place
	*trade.Kind
	called  bool              // its author has words of his own for it
	own     bool              // its author lists its sockets
	inside  bool              // and the ways inside it
	added   []string          // sockets that its kind has not
	unknown map[string]bool   // sockets of which the author does not know more
	text    map[string]string // ohms of sockets, as they were typed
}

// hookupRows are the lines of a hookup block.
func hookupRows() []row[*hookup] {
	return []row[*hookup]{
		{Word{hookupWord, "name", "The block's own name, unique in the copy: letters, digits and -.", "name: deck-in", false},
			one(func(h *hookup) *fault.Place { return &h.named })},
		{Word{hookupWord, "title", "What the drawing shows, in a line.", "title: The record player on the amplifier", false},
			one(func(h *hookup) *fault.Place { return &h.title })},
		{Word{hookupWord, "box", "A box: its name in this block, is, and its kind; called and other words for readers may follow. A box of your own has no kind, and is called something.",
			"box: deck is record player, called the old player", true},
			many(func(h *hookup) *[]fault.Place { return &h.boxLines })},
		{Word{hookupWord, "socket", "What is to be said of a socket: its name, of, and the box; a connector of the catalogue where the box has no such socket; then left and right, in or out, marked and its mark, ohms, at least and the lowest load, or don't know.",
			"socket: speakers of amp, at least 4 ohm", true},
			many(func(h *hookup) *[]fault.Place { return &h.socketLines })},
		{Word{hookupWord, "inside", "A way inside a box: what goes in at one socket comes out at another. A box of your own without such a line sends each input to each output.",
			"inside: phono to rec out of amp", true},
			many(func(h *hookup) *[]fault.Place { return &h.insideLines })},
		{Word{hookupWord, "joint", "A lead from a socket of one box to a socket of another; by and the parts that go between, and the length, may follow.",
			"joint: left and right lead of deck to left and right phono of amp", true},
			many(func(h *hookup) *[]fault.Place { return &h.joinOns })},
		{Word{hookupWord, "panel", "A box whose rear is drawn with all its sockets, instead of joints.", "panel: amp", false},
			one(func(h *hookup) *fault.Place { return &h.panel })},
		{Word{hookupWord, verdictClause, "What the check must come to, where that is not fits: doubtful, ask first, or do not connect for a drawing of what nobody must join.",
			"verdict: doubtful", false},
			one(func(h *hookup) *fault.Place { return &h.verdict })},
	}
}

const (
	// mostHooked and mostLeads are how many a drawing holds that is as wide as
	// a small screen.
	mostHooked, mostLeads = 10, 16
)

// hooked reads a hookup block; nil where a fault stands in it.
func (r *reader) hooked(f fence) *TableNode {
	h := &hookup{label: label{reader: r, info: f.info}, opening: f.info, rears: trade.ShippedRears()}
	h.noFigure = func(name string, at fault.Place) *fault.Fault {
		return fault.At(at, "the block %q draws, and names no figures", h.name).Want("a figure of a calc block")
	}
	if f.rest.String() != "" {
		h.fault(fault.At(f.rest, "%q stands after %s, where nothing belongs", f.rest, hookupWord).Fix("name: %s", f.rest))
	}
	lines, whole := r.lines(f)
	h.unsure, h.broken = !whole, h.broken || !whole
	h.sortLines(lines)
	h.readName("my-hook-up")
	h.readBoxes()
	h.readSockets()
	h.readInside()
	h.readJoints()
	if h.whole(); h.broken {
		return nil
	}
	if h.check(); h.broken {
		return nil
	}
	return h.fill(f)
}

// sortLines sorts the lines of the block by their words.
func (h *hookup) sortLines(lines []line) {
	rows, first := hookupRows(), map[string]bool{}
	for _, l := range lines {
		word := l.word.String()
		known := find(rows, word)
		switch {
		case known == nil:
			f := fault.At(l.word, "a hook-up has no line %q", word).Want("one of: %s", strings.Join(spelled(rows), ", "))
			if near := fault.Near(word, spelled(rows)); near != "" {
				f.Fix("%s", near)
			}
			h.fault(f)
			h.unsure = true
		case first[word] && !known.Twice:
			h.fault(fault.At(l.word, "%q stands twice in this block", word).Fix("take one of the two out"))
		case l.rest.String() == "":
			h.fault(fault.At(l.word, "nothing stands after %q", word).Fix("%s", known.Example))
			h.empty, h.unsure = append(h.empty, word), true
		default:
			first[word] = true
			known.keep(h, l)
		}
	}
}

// whole tells what the block lacks.
func (h *hookup) whole() {
	if h.unsure {
		return
	}
	rows := hookupRows()
	lacks := func(word, or string) {
		h.fault(fault.At(h.opening, "this hook-up has no %s", word+or).Fix("%s", find(rows, word).Example))
	}
	if h.title.Text == nil {
		lacks("title", "")
	}
	switch {
	case len(h.boxLines) == 0:
		lacks("box", "")
	case len(h.joinOns) == 0 && h.panel.Text == nil:
		lacks("joint", ", and draws no panel")
	case len(h.joinOns) > 0 && h.panel.Text != nil:
		h.fault(fault.At(h.panel, "joints and a panel stand in one block").Want("a block for each"))
	case h.panel.Text != nil && h.box(h.panel.String()) == nil:
		h.fault(h.noBox(h.panel))
	}
	if h.verdict.Text != nil && !slices.Contains(verdictWords(), h.verdict.String()) {
		h.fault(fault.At(h.verdict, "%q is no verdict", h.verdict).Want("one of: %s", strings.Join(verdictWords(), ", ")))
	}
	h.checkIdle()
}

// checkIdle finds boxes of a hook-up to which no lead goes.
func (h *hookup) checkIdle() {
	for _, b := range h.boxes {
		used := h.panel.Text != nil
		for _, l := range h.lines {
			used = used || l.from.box == b || l.to.box == b
		}
		if !used && len(h.joinOns) > 0 {
			h.fault(fault.At(b.at, "no lead goes to %q", b.name).Fix("a joint line for it, or take the box out"))
		}
	}
}

// verdictWords are the verdicts that an author may write.
func verdictWords() []string {
	return slices.DeleteFunc(method.Grades(), func(g string) bool { return g == method.CannotTell })
}

// box returns the box of a name, nil where there is none.
func (h *hookup) box(name string) *hookedBox {
	for _, b := range h.boxes {
		if b.name == name {
			return b
		}
	}
	return nil
}

// noBox is the fault of a name that no box has.
func (h *hookup) noBox(at fault.Place) *fault.Fault {
	var names []string
	for _, b := range h.boxes {
		names = append(names, b.name)
	}
	f := fault.At(at, "this block has no box %q", at)
	if len(names) > 0 {
		f.Want("one of: %s", strings.Join(names, ", "))
	}
	if near := fault.Near(at.String(), names); near != "" {
		return f.Fix("%s", near)
	}
	return f.Fix("box: %s is record player", at)
}
