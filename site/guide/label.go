package guide

import (
	"slices"

	"bindpost/calc/fault"
)

// label is what a block is known by: to figures, to other blocks, and to the
// list of faults.
type label struct {
	reader  *reader
	info    fault.Place // what the block says behind its info word, or that word
	named   fault.Place
	name    string
	broken  bool
	doubled bool     // another block has its name: a figure may be meant that is not here
	empty   []string // words after which nothing stands: told

	noFigure func(name string, at fault.Place) *fault.Fault // the fault of a figure that the block does not name
}

// fault reports a fault of the block; one that stops breaks the block.
func (n *label) fault(f *fault.Fault) {
	if f == nil {
		return
	}
	n.reader.faults.Add(f)
	n.broken = n.broken || f.Grade == fault.Stop
}

func (n *label) join(l *fault.List) {
	for _, f := range l.All() {
		n.fault(f)
	}
}

// readName reads the name of the block; without one, it proposes another.
func (n *label) readName(proposed string) {
	n.name = n.named.String()
	switch {
	case n.named.Text == nil:
		n.reader.lost = true
		if !slices.Contains(n.empty, "name") {
			n.fault(fault.At(n.info, "this block has no name").Fix("name: %s", proposed))
		}
		return
	case !isName(n.name):
		n.reader.lost = true
		n.fault(fault.At(n.named, "%q is no name for a block", n.name).Want("%s", nameShape))
		return
	}
	if n.name == standingBlock {
		n.fault(fault.At(n.named, "%q may not name a block: standing figures are called by it", n.name).Fix("another name"))
		return
	}
	if other := n.reader.blocks[n.name]; other != nil {
		line, _ := n.reader.text.Position(other.named.Start)
		n.fault(fault.At(n.named, "a block of this name stands in line %d already", line).Fix("another name"))
		other.doubled = true
		return
	}
	n.reader.blocks[n.name] = n
}

const nameShape = "letters, digits and -, beginning with a letter"

// isName reports whether a text may name a block, a figure or a question.
func isName(s string) bool {
	for i, c := range []byte(s) {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || (c != '-' && (c < '0' || c > '9'))) {
			return false
		}
	}
	return s != ""
}
