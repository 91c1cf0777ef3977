package wiring

import "bindpost/calc/unit"

// Side is which channel a socket carries.
type Side string

// The sides. One is a socket that carries both channels, or that has no side:
// a digital socket, a ground screw.
const (
	Left  Side = "left"
	Right Side = "right"
	One   Side = ""
)

// Jack is one place on a box where a lead can end, for one side: a socket, a
// terminal, or the plug on a lead that the box has of its own.
type Jack struct {
	Box  string
	Mark string // what is printed beside it: "phono"
	Side Side
	Is   *Connector // nil where nobody knows what it is
	Out  bool       // a signal comes out of it
	In   bool       // a signal goes into it

	// Ohms is the output impedance of what gives, the input impedance of what
	// takes, the rated impedance of a loudspeaker, and of a cartridge the load
	// that it wants; zero where it is not known.
	Ohms unit.Quantity
	// Least is the lowest load that an amplifier's speaker terminals may be
	// given; zero where it is not known.
	Least unit.Quantity
	// Stages is how many phono stages lie before an output inside its own box,
	// in a box that makes its signal with a cartridge.
	Stages int
}

// cartridge reports whether a jack is made for the signal of a cartridge.
func (h *Hookup) cartridge(jack int) bool {
	c := h.Jacks[jack].Is
	return c != nil && h.isOf(h.Cartridges, c.Signal)
}

func (h *Hookup) isOf(signals []string, signal string) bool {
	for _, s := range signals {
		if s == signal {
			return true
		}
	}
	return false
}

// Pass is a way inside a box: what goes in at one of its jacks comes out at
// another. Both are places in the list of jacks.
type Pass struct{ From, To int }

// Joint is one way of the signal by a lead from one jack to another, both
// places in the list of jacks. A lead with one plug at one end and two at the
// other is two joints.
type Joint struct {
	From, To int
	Lead     int     // joints of one lead have the same number
	By       []*Part // what goes between, in order; none where the two go straight together
}

// Hookup is boxes with their jacks, the ways inside them, and the joints
// between them, with the catalogue that says what goes between two connectors.
type Hookup struct {
	Catalogue *Catalogue
	Jacks     []Jack
	Passes    []Pass
	Joints    []Joint

	Cartridges []string // signals that want exactly one phono stage: "moving magnet"
	Lines      []string // signals whose input must be of far higher impedance than the output
	Speakers   []string // signals whose load must not lie below the amplifier's lowest
}

// Passive returns the parts that go between two connectors, none of which needs
// power of its own. It is not found where no such way leads there.
func (c *Catalogue) Passive(from, to *Connector) (parts []*Part, found bool) {
	way, found := c.Find(from.Name, to.Name)
	if !found || way.Active {
		return nil, false
	}
	return way.Parts, true
}

// Fit reports whether parts, one after another, lead from one connector to
// another: each takes what the part before it offers, and the last offers what
// goes straight into the end.
func (c *Catalogue) Fit(from, to *Connector, parts []*Part) bool {
	at := from.Name
	for _, p := range parts {
		if p.From != at {
			return false
		}
		at = p.To
	}
	return c.straight(at, to.Name)
}

// straight reports whether two connectors are one, or go straight together.
func (c *Catalogue) straight(from, to string) bool {
	if from == to {
		return true
	}
	for _, m := range c.Matings {
		if m.From == from && m.To == to {
			return true
		}
	}
	return false
}

// Chain finds parts by their names, so that they lead from one connector to
// another. Parts of one name between other ends are told apart by what they
// must lead to. It is not found where the names lead elsewhere.
func (c *Catalogue) Chain(from, to *Connector, names []string) (parts []*Part, found bool) {
	if len(names) == 0 {
		return nil, c.straight(from.Name, to.Name)
	}
	for _, p := range c.Parts {
		if p.Name != names[0] || p.From != from.Name {
			continue
		}
		if rest, ok := c.Chain(c.Connector(p.To), to, names[1:]); ok {
			return append([]*Part{p}, rest...), true
		}
	}
	return nil, false
}
