package trade

import (
	"slices"
	"strings"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// Rears is what kinds of boxes show on their rears, with the catalogue that
// says what goes between two sockets.
type Rears struct {
	*Catalogue
	Kinds []*Kind

	ohms       map[string]unit.Quantity // by connector
	typed      map[string]string        // the same as they stand in the file
	ends       map[string]string        // by connector, or by family
	signals    map[string][]string
	oneChannel []string // families of which a single socket carries one channel
	partedBy   []string // names of parts
	askFirst   []string
	cautions   map[string]string
	references map[string]string
	hash       string
}

// Kind is one kind of box.
type Kind struct {
	Name    string
	Says    string // "record player"
	Two     bool   // one box on the left and one on the right
	Sockets []*Rear
	Sends   [][2]string // socket by socket: what goes in at the first comes out at the second
}

// Rear is a socket of a box: a pair of them counts as one here.
type Rear struct {
	Name   string
	Marked string // what is printed beside it
	Says   string // what a reader is told of it; "" where the words of its connector do
	Is     *wiring.Connector
	Out    bool // a signal comes out of it
	In     bool // a signal goes into it
	Pair   bool // a left one and a right one
	Lead   bool // it is the plug on a lead of the box's own
	Stages int  // phono stages before it in its own box
	Ohms   unit.Quantity
	Typed  string // the ohms as they were typed
	Usual  bool   // they are those that such a box usually has
	Least  unit.Quantity
}

// Socket returns the socket of a name, and nil where there is none.
func (k *Kind) Socket(name string) *Rear {
	for _, s := range k.Sockets {
		if s.Name == name {
			return s
		}
	}
	return nil
}

// Kind returns the kind of a name, and nil where there is none.
func (r *Rears) Kind(name string) *Kind {
	for _, k := range r.Kinds {
		if k.Name == name {
			return k
		}
	}
	return nil
}

// KindNames returns the names of the kinds, in the order of their file.
func (r *Rears) KindNames() []string {
	names := make([]string, len(r.Kinds))
	for i, k := range r.Kinds {
		names[i] = k.Name
	}
	return names
}

// Hash names the files that the kinds and their catalogue were read from.
func (r *Rears) Hash() string { return r.hash }

var shippedRears = sync.OnceValue(func() *Rears {
	catalogue, err := read(files, "catalogue.yaml")
	if err != nil {
		panic("trade: the shipped catalogue cannot be read: " + err.Error())
	}
	rears, err := read(files, "rears.yaml")
	if err != nil {
		panic("trade: the shipped kinds of boxes cannot be read: " + err.Error())
	}
	c, faults := ReadCatalogue("trade", catalogue)
	r, more := ReadRears(rears, c)
	if faults.Join(more); faults.Len() > 0 {
		panic("trade: the shipped kinds of boxes are not sound:\n" + faults.String())
	}
	return r
})

// ShippedRears returns the shipped kinds of boxes, read on the first call. They
// are the same for all callers and do not change.
func ShippedRears() *Rears { return shippedRears() }

// ReadRears reads kinds of boxes from their file: the sockets of each are
// connectors of the catalogue.
func ReadRears(t *fault.Text, c *Catalogue) (*Rears, *fault.List) {
	n, faults := record.Parse(t)
	r := &Rears{
		Catalogue: c, ohms: map[string]unit.Quantity{}, typed: map[string]string{}, ends: map[string]string{}, signals: map[string][]string{},
		cautions: map[string]string{}, references: map[string]string{}, hash: hashOf("rears 1", c.text, t),
	}
	faults.Join(n.Keys("a file of rears", "references", "signals", "one channel", "parted by", "ask first", "cautions", "ohms", "ends", "kinds"))
	if faults.Stopped() {
		return r, faults
	}
	read := rearReader{r, faults}
	for _, e := range entries(n.Get("references")) {
		r.references[e.Key.Text] = e.Value.Text
	}
	for _, e := range entries(n.Get("cautions")) {
		r.cautions[e.Key.Text] = e.Value.Text
	}
	for _, e := range entries(n.Get("signals")) {
		r.signals[e.Key.Text] = read.words(e.Value, e.Key.Text)
	}
	r.oneChannel = read.words(n.Get("one channel"), "one channel")
	r.partedBy = read.words(n.Get("parted by"), "parted by")
	r.askFirst = read.words(n.Get("ask first"), "ask first")
	for _, e := range entries(n.Get("ohms")) {
		read.usualOhms(e)
	}
	for _, e := range entries(n.Get("ends")) {
		r.ends[e.Key.Text] = e.Value.Text
	}
	for _, e := range entries(n.Get("kinds")) {
		read.kind(e)
	}
	return r, faults
}

// rearReader reads the entries of a file of rears.
type rearReader struct {
	to     *Rears
	faults *fault.List
}

func (r rearReader) words(n *record.Node, what string) []string {
	nodes, faults := n.Words(what)
	r.faults.Join(faults)
	var words []string
	for _, w := range nodes {
		words = append(words, w.Text)
	}
	return words
}

// connector finds a connector of the catalogue.
func (r rearReader) connector(n *record.Node) *wiring.Connector {
	if c := r.to.Connector(n.Text); c != nil {
		return c
	}
	r.faults.Add(r.to.NoConnector(n.Text, n.Place))
	return nil
}

// NoConnector is the fault of a name that no connector of the catalogue has.
func (r *Rears) NoConnector(name string, at fault.Place) *fault.Fault {
	f := fault.At(at, "there is no connector %q", name).Want("a connector of the catalogue of connectors, such as phono line input")
	if near := fault.Near(name, r.Names(func(*wiring.Connector) bool { return true })); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// Named returns the connector that somebody means by a name: its own, or one
// in which other words of the trade stand for its words. Nil where there is none.
func (r *Rears) Named(name string) *wiring.Connector {
	if c := r.Connector(name); c != nil {
		return c
	}
	words := strings.Fields(name)
	for i, w := range words {
		if own, ok := r.others[w]; ok {
			words[i] = own
		}
	}
	return r.Connector(strings.Join(words, " "))
}

func (r rearReader) usualOhms(e record.Entry) {
	q, f := unit.ReadAs(e.Value.Place, unit.Must("ohm"))
	r.faults.Add(f)
	if c := r.connector(e.Key); c != nil {
		r.to.ohms[c.Name], r.to.typed[c.Name] = q, e.Value.Text
	}
}

// kind reads one kind of box.
func (r rearReader) kind(e record.Entry) {
	r.faults.Join(e.Value.Keys("a kind of box", "says", "two", "sockets", "sends"))
	k := &Kind{Name: e.Key.Text, Says: e.Value.Line("says"), Two: e.Value.Line("two") == "yes"}
	if k.Says == "" {
		r.faults.Add(fault.At(e.Key.Place, "the kind %q says nothing of itself", k.Name).Want("says: a few words"))
	}
	for _, s := range entries(e.Value.Get("sockets")) {
		r.socket(k, s)
	}
	for _, way := range entries(e.Value.Get("sends")) {
		for _, to := range r.words(way.Value, "sends") {
			from := k.Socket(way.Key.Text)
			if s := k.Socket(to); from == nil || s == nil || !from.In || !s.Out {
				r.faults.Add(fault.At(way.Key.Place, "%s sends nothing from %q to %q", k.Name, way.Key.Text, to).Want("an input and an output of it"))
				continue
			}
			k.Sends = append(k.Sends, [2]string{way.Key.Text, to})
		}
	}
	r.to.Kinds = append(r.to.Kinds, k)
}

// socket reads one socket of a kind.
func (r rearReader) socket(k *Kind, e record.Entry) {
	r.faults.Join(e.Value.Keys("a socket", "is", "says", "side", "pair", "marked", "lead", "stages"))
	is := e.Value.Get("is")
	if is == nil {
		r.faults.Add(fault.At(e.Key.Place, "the socket %q does not say what it is", e.Key.Text).Want("is: a connector"))
		return
	}
	c := r.connector(is)
	if c == nil {
		return
	}
	s := &Rear{
		Name: e.Key.Text, Marked: e.Value.Line("marked"), Says: e.Value.Line("says"), Is: c, Out: c.Gives, In: c.Takes,
		Pair: e.Value.Line("pair") == "yes", Lead: e.Value.Line("lead") == "yes",
	}
	if s.Marked == "" {
		s.Marked = strings.ToUpper(s.Name)
	}
	s.Ohms, s.Usual = r.to.ohms[c.Name]
	if s.Typed = r.to.typed[c.Name]; e.Value.Line("stages") == "1" {
		s.Stages = 1
	}
	switch side := e.Value.Line("side"); {
	case side == "out" && c.Gives:
		s.In = false
	case side == "in" && c.Takes:
		s.Out = false
	case side != "" || s.In && s.Out:
		r.faults.Add(fault.At(e.Key.Place, "it is not said which way the signal goes at %q", s.Name).Want("side: out, or side: in"))
	}
	k.Sockets = append(k.Sockets, s)
}

// Frame returns a hook-up of no boxes yet, with the catalogue and the signals
// that the rules turn on.
func (r *Rears) Frame() *wiring.Hookup {
	return &wiring.Hookup{
		Catalogue: &r.Catalogue.Catalogue, Cartridges: r.signals["cartridges"], Lines: r.signals["lines"], Speakers: r.signals["speakers"],
	}
}

// EndWord returns what the end of a lead is called that goes to a connector, or
// that is one: "phono plug". It is "" for one that no word stands for.
func (r *Rears) EndWord(c *wiring.Connector) string {
	if word, ok := r.ends[c.Name]; ok {
		return word
	}
	return r.ends[c.Family]
}

// NoWay says why a signal does not become another, and what would help. Both
// are "" where the catalogue does not say.
func (r *Rears) NoWay(from, to *wiring.Connector) (why, instead string) {
	if reason := r.why(from, to); reason != nil {
		return reason.why, reason.instead
	}
	return "", ""
}

// AskFirst reports whether a joint that brings these cautions is one to ask
// about first.
func (r *Rears) AskFirst(cautions []string) bool {
	return slices.ContainsFunc(cautions, func(c string) bool { return slices.Contains(r.askFirst, c) })
}
