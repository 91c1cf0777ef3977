package trade

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// Catalogue is a catalogue of connectors and parts as its file states it, with
// the references and cautions that the entries name.
type Catalogue struct {
	wiring.Catalogue
	text      *fault.Text
	connector map[*wiring.Connector]named
	part      map[*wiring.Part]named
	always    named // what every way brings
	active    named // what a way with an active part brings
	reasons   []reason
	others    map[string]string // other words of the trade for a word in the names
}

// named are the names of entries, each where it stands.
type named struct{ references, cautions []*record.Node }

// reason says why no way leads from some signals to others.
type reason struct {
	from, to     []string // nil for any signal
	why, instead string
	named
}

var (
	catalogueFields = []string{"says", "other words", "references", "cautions", "connectors", "straight", "parts", "adapters", "no way"}
	connectorFields = []string{"name", "says", "family", "shape", "signal", "ohms", "balanced", "side", "reference", "caution"}
	partFields      = []string{"part", "from", "to", "active", "turns", "note", "reference", "caution"}
	reasonFields    = []string{"from", "to", "why", "instead", "reference", "caution"}
)

// ReadCatalogue reads a catalogue from its file and checks that it is sound.
// A file without connectors is one of parts only: their ends are then its
// connectors, of which nothing is known but the name.
func ReadCatalogue(name string, t *fault.Text) (*Catalogue, *fault.List) {
	n, faults := record.Parse(t)
	c := &Catalogue{
		Catalogue: wiring.Catalogue{Name: name}, text: t,
		connector: map[*wiring.Connector]named{}, part: map[*wiring.Part]named{}, others: map[string]string{},
	}
	r := catalogueReader{c, faults}
	if faults.Join(n.Keys("a catalogue", catalogueFields...)); faults.Stopped() {
		return c, faults
	}
	defaults := n.Get("references")
	faults.Join(defaults.Keys("references", "connectors", "parts"))
	cautions := n.Get("cautions")
	faults.Join(cautions.Keys("cautions", "always", "active"))
	c.always.cautions = r.words(cautions.Get("always"), "always")
	c.active.cautions = r.words(cautions.Get("active"), "active")
	for _, item := range r.items(n.Get("connectors")) {
		r.connector(item, defaults.Get("connectors"))
	}
	described := len(c.Connectors) > 0
	for _, field := range []string{"parts", "adapters"} {
		for _, item := range r.items(n.Get(field)) {
			r.part(item, defaults.Get("parts"), described)
		}
	}
	for _, item := range r.items(n.Get("straight")) {
		faults.Join(item.Keys("an entry under straight", "from", "to"))
		r.pairs(item, func(from, to *record.Node) {
			c.Matings = append(c.Matings, wiring.Mating{From: from.Text, To: to.Text, Place: to.Place})
		})
	}
	for _, item := range r.items(n.Get("no way")) {
		r.reason(item, defaults.Get("parts"))
	}
	r.otherWords(n.Get("other words"))
	if !faults.Stopped() {
		faults.Join(c.Check())
	}
	return c, faults
}

// otherWords reads what else the trade calls a word in the names: a plug that
// a name calls phono is RCA or cinch on many a label.
func (r catalogueReader) otherWords(n *record.Node) {
	if n == nil || n.Kind == record.Empty {
		return
	}
	if n.Kind != record.Map {
		r.faults.Add(fault.At(n.Place, "%s stands here", n.Kind).Want("word: [other word, other word]"))
		return
	}
	for _, e := range n.Entries {
		for _, w := range r.words(e.Value, e.Key.Text) {
			r.otherWord(w, strings.ToLower(e.Key.Text))
		}
	}
}

// otherWord keeps one other word, as it is written and in small letters. One
// that stands in a name itself would be read as something else: MM is a
// cartridge, and mm belongs to the names of jacks.
func (r catalogueReader) otherWord(w *record.Node, own string) {
	var names []string
	for _, c := range r.to.Connectors {
		names = append(names, strings.Fields(c.Name)...)
	}
	if slices.Contains(names, w.Text) {
		r.faults.Add(fault.At(w.Place, "%q stands in a name itself", w.Text).Want("a word that no name holds"))
		return
	}
	r.to.others[w.Text] = own
	if small := strings.ToLower(w.Text); !slices.Contains(names, small) {
		r.to.others[small] = own
	}
}

// catalogueReader reads the entries of a catalogue.
type catalogueReader struct {
	to     *Catalogue
	faults *fault.List
}

// items returns the entries of a list; anything else is a fault.
func (r catalogueReader) items(n *record.Node) []*record.Node {
	if n == nil || n.Kind == record.Empty {
		return nil
	}
	if n.Kind != record.List {
		r.faults.Add(fault.At(n.Place, "%s stands here", n.Kind).Want("a list of entries"))
	}
	return n.Items
}

func (r catalogueReader) words(n *record.Node, what string) []*record.Node {
	words, faults := n.Words(what)
	r.faults.Join(faults)
	return words
}

// yes reads a yes or no; nothing typed is no.
func (r catalogueReader) yes(n *record.Node) bool {
	switch written := textOf(n); written {
	case "yes", "true":
		return true
	case "", "no", "false":
		return false
	default:
		r.faults.Add(fault.At(n.Place, "%q is neither yes nor no", written).Want("yes or no"))
		return false
	}
}

// needed returns a text that an entry cannot do without.
func (r catalogueReader) needed(n *record.Node, key string) string {
	s := textOf(n.Get(key))
	if v := n.Get(key); s == "" && (v == nil || v.Kind != record.List) {
		r.faults.Add(fault.At(n.Place, "this entry says nothing under %s", key).Want("%s: a text", key))
	}
	return s
}

// entries reads the references and cautions that an entry names; without a
// reference of its own those of the whole list stand.
func (r catalogueReader) entries(n, usual *record.Node) named {
	e := named{references: r.words(n.Get("reference"), "reference"), cautions: r.words(n.Get("caution"), "caution")}
	if len(e.references) == 0 {
		e.references = r.words(usual, "references")
	}
	return e
}

func (r catalogueReader) connector(n, usual *record.Node) {
	r.faults.Join(n.Keys("a connector", connectorFields...))
	c := &wiring.Connector{
		Name: r.needed(n, "name"), Says: textOf(n.Get("says")), Family: r.needed(n, "family"),
		Shape: wiring.Shape(r.needed(n, "shape")), Signal: r.needed(n, "signal"), Balanced: r.yes(n.Get("balanced")), Place: n.Place,
	}
	if !slices.Contains(wiring.Shapes, string(c.Shape)) {
		r.among(n.Get("shape"), wiring.Shapes)
	}
	if ohms := n.Get("ohms"); ohms != nil {
		q, f := unit.ReadAs(ohms.Place, unit.Must("ohm"))
		r.faults.Add(f)
		c.Ohms = q
	}
	switch side := r.needed(n, "side"); side {
	case "gives":
		c.Gives = true
	case "takes":
		c.Takes = true
	case "both":
		c.Gives, c.Takes = true, true
	default:
		r.among(n.Get("side"), []string{"gives", "takes", "both"})
	}
	r.to.Connectors = append(r.to.Connectors, c)
	r.to.connector[c] = r.entries(n, usual)
}

// among tells a word that is not of a list. An absent one was told already.
func (r catalogueReader) among(n *record.Node, list []string) {
	if n == nil {
		return
	}
	f := fault.At(n.Place, "%q is none of these", n.Text).Want("one of: %s", strings.Join(list, ", "))
	if near := fault.Near(n.Text, list); near != "" {
		f.Fix("%s", near)
	}
	r.faults.Add(f)
}

// part reads a part, which may take several connectors.
func (r catalogueReader) part(n, usual *record.Node, described bool) {
	r.faults.Join(n.Keys("a part", partFields...))
	name, entries := r.needed(n, "part"), r.entries(n, usual)
	r.pairs(n, func(from, to *record.Node) {
		p := &wiring.Part{
			Name: name, From: from.Text, To: to.Text, Active: r.yes(n.Get("active")),
			Turns: textOf(n.Get("turns")), Note: textOf(n.Get("note")), Place: from.Place,
		}
		r.to.Parts = append(r.to.Parts, p)
		r.to.part[p] = entries
		if !described {
			r.bare(from)
			r.bare(to)
		}
	})
}

// bare adds a connector of which only the name is known.
func (r catalogueReader) bare(n *record.Node) {
	if r.to.Connector(n.Text) == nil {
		c := &wiring.Connector{Name: n.Text, Gives: true, Takes: true, Place: n.Place}
		r.to.Connectors = append(r.to.Connectors, c)
	}
}

// pairs hands every pair of what stands under from and to.
func (r catalogueReader) pairs(n *record.Node, use func(from, to *record.Node)) {
	froms, tos := r.words(n.Get("from"), "from"), r.words(n.Get("to"), "to")
	if len(froms) == 0 || len(tos) == 0 {
		r.faults.Add(fault.At(n.Place, "this entry does not say between which ends it stands").Want("from and to"))
	}
	for _, from := range froms {
		for _, to := range tos {
			use(from, to)
		}
	}
}

func (r catalogueReader) reason(n, usual *record.Node) {
	r.faults.Join(n.Keys("an entry under no way", reasonFields...))
	r.to.reasons = append(r.to.reasons, reason{
		from: r.signals(n, "from"), to: r.signals(n, "to"), why: r.needed(n, "why"), instead: r.needed(n, "instead"),
		named: r.entries(n, usual),
	})
}

// signals reads which signals a reason is about: nil for any.
func (r catalogueReader) signals(n *record.Node, key string) []string {
	if r.needed(n, key); textOf(n.Get(key)) == "any" {
		return nil
	}
	var all, signals []string
	for _, c := range r.to.Connectors {
		all = append(all, c.Signal)
	}
	slices.Sort(all)
	for _, w := range r.words(n.Get(key), key) {
		if signals = append(signals, w.Text); !slices.Contains(all, w.Text) {
			r.among(w, slices.Compact(all))
		}
	}
	return signals
}

// why returns the first reason for which no way leads between two connectors,
// and nil where the catalogue states none.
func (c *Catalogue) why(from, to *wiring.Connector) *reason {
	for i := range c.reasons {
		r := &c.reasons[i]
		if (r.from == nil || slices.Contains(r.from, from.Signal)) && (r.to == nil || slices.Contains(r.to, to.Signal)) {
			return r
		}
	}
	return nil
}

// textOf returns a scalar's text, and "" for anything else.
func textOf(n *record.Node) string {
	if n == nil || n.Kind != record.Scalar {
		return ""
	}
	return n.Text
}
