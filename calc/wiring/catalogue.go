package wiring

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// Shape is which half of a connection a connector is.
type Shape string

// The shapes of a connector. Of most families a plug goes into a socket; a
// terminal takes bare wire, and an end is wire or a fitting with no half.
const (
	Plug     Shape = "plug"
	Socket   Shape = "socket"
	Terminal Shape = "terminal"
	End      Shape = "end"
)

// Shapes are all shapes, for messages.
var Shapes = []string{string(Plug), string(Socket), string(Terminal), string(End)}

// Connector is one kind of plug, socket, terminal or wire end, with the signal
// it carries. What is not known of it is the zero value.
type Connector struct {
	Name     string
	Says     string        // what it looks like, in words
	Family   string        // what mates with it: "F", "phono"
	Shape    Shape         // "" where it is not said
	Signal   string        // what it carries: "line", "radio"
	Ohms     unit.Quantity // rated impedance; its Unit is the zero Unit where none is rated
	Balanced bool
	Gives    bool // a signal comes out of it, so that a way may begin here
	Takes    bool // a signal goes into it, so that a way may end here
	Place    fault.Place
}

// rated reports whether the connector has a rated impedance.
func (c *Connector) rated() bool { return c.Ohms.Value != 0 }

// Part is one arrow: what goes from one connector to another.
type Part struct {
	Name   string
	From   string // the connector that it takes
	To     string // the connector that it then offers
	Active bool   // it needs power of its own
	Turns  string // by what it changes signal, impedance or balance; "" where it changes none
	Note   string // what to heed, in a sentence
	Place  fault.Place
}

// Mating is a plug that goes straight into a socket, or a wire end into a
// terminal: nothing stands between them.
type Mating struct {
	From, To string
	Place    fault.Place
}

// Catalogue is a set of connectors with the parts that go between them.
type Catalogue struct {
	Name       string
	Connectors []*Connector
	Parts      []*Part
	Matings    []Mating
}

// Connector returns the connector of a name, and nil where there is none.
func (c *Catalogue) Connector(name string) *Connector {
	for _, x := range c.Connectors {
		if x.Name == name {
			return x
		}
	}
	return nil
}

// Names returns the names of the connectors for which keep holds, in the order
// of the catalogue.
func (c *Catalogue) Names(keep func(*Connector) bool) []string {
	var names []string
	for _, x := range c.Connectors {
		if keep(x) {
			names = append(names, x.Name)
		}
	}
	return names
}

// Check returns what makes the catalogue unsound, each at its place: two
// connectors of a name, a part whose end is no connector, one that leads
// nowhere, two alike, one that changes a signal without saying by what, and
// two halves said to mate that cannot.
func (c *Catalogue) Check() *fault.List {
	faults := &fault.List{}
	first := map[string]bool{}
	for _, x := range c.Connectors {
		if first[x.Name] {
			faults.Add(fault.At(x.Place, "the connector %q stands twice", x.Name).Fix("another name"))
		}
		first[x.Name] = true
	}
	type arrow struct{ name, from, to string }
	seen := map[arrow]bool{}
	for _, p := range c.Parts {
		faults.Add(c.part(p))
		a := arrow{p.Name, p.From, p.To}
		if seen[a] {
			faults.Add(fault.At(p.Place, "the part %q stands twice between the same ends", p.Name).Fix("take one of the two out"))
		}
		seen[a] = true
	}
	for _, m := range c.Matings {
		faults.Add(c.mating(m))
	}
	return faults
}

// part checks one part.
func (c *Catalogue) part(p *Part) *fault.Fault {
	from, to := c.Connector(p.From), c.Connector(p.To)
	switch {
	case from == nil:
		return c.noConnector(p.From, p.Place)
	case to == nil:
		return c.noConnector(p.To, p.Place)
	case from == to:
		return fault.At(p.Place, "the part %q ends where it begins", p.Name).Want("two connectors")
	}
	changed := Changed(from, to)
	switch {
	case len(changed) > 0 && p.Turns == "":
		return fault.At(p.Place, "the part %q changes the %s, and does not say by what", p.Name, strings.Join(changed, " and the ")).
			Want("turns: a transformer, a converter, a divider")
	case len(changed) == 0 && p.Turns != "":
		return fault.At(p.Place, "the part %q says that it is %s, and changes nothing", p.Name, p.Turns).
			Want("another signal, impedance or balance at its two ends")
	}
	return nil
}

// balance is the word for whether a connection has two live legs or one. A
// balanced socket takes a plug with one leg grounded, so that two halves may
// mate across it.
const balance = "balance"

// Changed names what is different between two connectors: signal, impedance,
// balance. What is not known of one of them counts as the same.
func Changed(a, b *Connector) []string {
	var changed []string
	if a.Signal != "" && b.Signal != "" && a.Signal != b.Signal {
		changed = append(changed, "signal")
	}
	if a.rated() && b.rated() && a.Ohms.Value != b.Ohms.Value {
		changed = append(changed, "impedance")
	}
	if a.Balanced != b.Balanced {
		changed = append(changed, balance)
	}
	return changed
}

// mating checks that two halves can go straight together: of one family, with
// the same signal and impedance, and not two of the same half.
func (c *Catalogue) mating(m Mating) *fault.Fault {
	from, to := c.Connector(m.From), c.Connector(m.To)
	switch {
	case from == nil:
		return c.noConnector(m.From, m.Place)
	case to == nil:
		return c.noConnector(m.To, m.Place)
	case from.Family != to.Family && from.Shape != End:
		return fault.At(m.Place, "%q does not go straight into %q: they are of two families", m.From, m.To).
			Want("a part between them")
	case from.Shape == to.Shape:
		return fault.At(m.Place, "%q does not go straight into %q: both are a %s", m.From, m.To, from.Shape).
			Want("a plug and a socket")
	}
	changed := slices.DeleteFunc(Changed(from, to), func(what string) bool { return what == balance })
	if len(changed) > 0 {
		return fault.At(m.Place, "%q does not go straight into %q: the %s changes", m.From, m.To, strings.Join(changed, " and the ")).
			Want("a part between them")
	}
	return nil
}

// noConnector is the fault of a name that no connector has.
func (c *Catalogue) noConnector(name string, at fault.Place) *fault.Fault {
	all := c.Names(func(*Connector) bool { return true })
	slices.Sort(all)
	f := fault.At(at, "there is no connector %q", name).Want("one of the connectors of the catalogue %s", c.Name)
	if near := fault.Near(name, all); near != "" {
		f.Fix("%s", near)
	}
	return f
}
