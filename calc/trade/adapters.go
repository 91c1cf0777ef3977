package trade

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/record"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// The words of a way. "direct" is a plug that goes straight into its socket.
const (
	wayDirect  = "direct"
	wayPassive = "passive"
	wayActive  = "active"
	wayNone    = "no way"
)

// fewestParts is the reference of the rule by which a way is chosen.
const fewestParts = "fewest-parts"

// adapters is the method adapter-chain: the shortest chain of parts over one
// of its catalogues.
type adapters struct {
	sheet      *method.Sheet
	catalogues []*Catalogue
	library    *method.Library // nil until the entries are read
	says       said
}

// adaptersSay is what the method says beside its sheet and its catalogues.
func adaptersSay() said {
	return said{
		"not known": "{fact} is not known",
		"no part":   "no part of the catalogue {catalogue} leads from {from} to {to}",
		"no chain":  "no chain of parts leads from {from} to {to}",
		"helps":     "{why}; what helps: {instead}",
		"between":   "between {from} and {to}",
		"by":        "{between}, by {turns}",
		"note":      "{between}: {note}",
		"count":     "the parts counted",
		"active":    "one of the parts needs power of its own",
		"passive":   "no part needs power of its own",
		"order":     "the parts in order",
	}
}

var (
	_ method.Method  = (*adapters)(nil)
	_ method.Entried = (*adapters)(nil)
	_ method.Worded  = (*adapters)(nil)
)

// Adapters returns the method adapter-chain over catalogues, the first of
// which stands where none is named. It takes from and to, the names of two
// connectors, and gives the parts between them in order, how many they are,
// and what way it is: direct, passive, active, or "no way". Where no way leads,
// parts and count are none, and say why and what would help. A connector that
// is not known makes all three "cannot tell". The references are those of the
// parts and connectors that the way uses.
func Adapters(catalogues ...*Catalogue) method.Method {
	a := &adapters{catalogues: catalogues, says: adaptersSay()}
	number := unit.Must("number")
	a.sheet = &method.Sheet{
		Name: "adapter-chain", Asks: "What goes between this plug and that socket?", Area: "antennas",
		Takes: a.inputs(),
		Gives: []*method.Result{
			{Name: "parts", Of: "parts", Says: "what goes between, in order", Words: a.partNames(), Group: "parts", Ordered: true},
			{Name: "count", Of: "count", Says: "how many parts", Unit: number, Format: unit.Format{Unit: number, Round: unit.Either}},
			{Name: "way", Of: "way", Says: "what way it is", Words: []string{wayDirect, wayPassive, wayActive, wayNone}},
		},
		CoversNot: "how well a way sounds, wireless and USB, leads of more than one channel in other orders, and plugs that only look alike: read what is printed beside the socket",
		Notes:     "The way with the fewest parts, an active part counted as ten passive ones.",
	}
	h := sha256.New()
	for _, c := range catalogues {
		fmt.Fprintf(h, "%s\n%s\n", c.Name, c.text.Source())
	}
	a.sheet.Hash = hex.EncodeToString(h.Sum(nil))
	return a
}

// inputs makes what the method takes: every connector of which a signal comes
// is a choice of from, every one into which a signal goes one of to.
func (a *adapters) inputs() []*method.Input {
	from := &method.Input{Name: "from", Head: "output", Says: "the plug or output that the signal comes from"}
	to := &method.Input{Name: "to", Head: "input", Says: "the plug or input that it goes to"}
	which := &method.Input{Name: "catalogue", Says: "the catalogue of parts"}
	others := map[string]string{}
	from.Others, to.Others = others, others
	for _, c := range a.catalogues {
		maps.Copy(others, c.others)
		from.Choice = append(from.Choice, c.Names(func(x *wiring.Connector) bool { return x.Gives && !slices.Contains(from.Choice, x.Name) })...)
		to.Choice = append(to.Choice, c.Names(func(x *wiring.Connector) bool { return x.Takes && !slices.Contains(to.Choice, x.Name) })...)
		which.Choice = append(which.Choice, c.Name)
	}
	usual := word(which.Choice[0])
	which.Usually = &usual
	from.Book, to.Book = a.book()
	return []*method.Input{from, to, which}
}

// book returns the ends of the first part of the first catalogue, as the
// book's example.
func (a *adapters) book() (from, to []method.Point) {
	if parts := a.catalogues[0].Parts; len(parts) > 0 {
		return []method.Point{word(parts[0].From)}, []method.Point{word(parts[0].To)}
	}
	return nil, nil
}

func word(w string) method.Point { return method.Point{Value: formula.WordOf(w), Text: w} }

func (a *adapters) partNames() []string {
	var names []string
	for _, c := range a.catalogues {
		for _, p := range c.Parts {
			names = append(names, p.Name)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// With implements [method.Entried].
func (a *adapters) With(l *method.Library) (method.Method, *fault.List) {
	faults := &fault.List{}
	sheet := *a.sheet
	b := &adapters{sheet: &sheet, catalogues: a.catalogues, library: l, says: a.says}
	if _, ok := l.Reference(fewestParts); ok {
		sheet.References = append(sheet.References, fewestParts)
	}
	for _, c := range a.catalogues {
		for _, e := range c.entries() {
			sheet.References = listed(sheet.References, e.references, "reference", l.References(), faults)
			sheet.Cautions = listed(sheet.Cautions, e.cautions, "caution", l.Cautions(), faults)
		}
	}
	b.addCases(faults)
	return b, faults
}

// entries returns what every entry of the catalogue names, in its order.
func (c *Catalogue) entries() []named {
	all := []named{c.always, c.active}
	for _, x := range c.Connectors {
		all = append(all, c.connector[x])
	}
	for _, p := range c.Parts {
		all = append(all, c.part[p])
	}
	for _, r := range c.reasons {
		all = append(all, r.named)
	}
	return all
}

// listed adds names that are not listed yet, and tells those that no entry has.
func listed(list []string, names []*record.Node, what string, known []string, faults *fault.List) []string {
	for _, n := range names {
		switch {
		case slices.Contains(list, n.Text):
		case slices.Contains(known, n.Text):
			list = append(list, n.Text)
		default:
			f := fault.At(n.Place, "there is no %s %q", what, n.Text).Want("a name from the %ss", what)
			if near := fault.Near(n.Text, known); near != "" {
				f.Fix("%s", near)
			}
			faults.Add(f)
		}
	}
	return list
}

// Sheet implements [method.Method].
func (a *adapters) Sheet() *method.Sheet { return a.sheet }

// Texts implements [method.Worded]: the sentences of the catalogues, then
// those of the method itself.
func (a *adapters) Texts(visit func(key string, text *string)) {
	for _, c := range a.catalogues {
		for _, p := range c.Parts {
			at := c.Name + " " + p.Name + " from " + p.From + " to " + p.To
			visit(at+" turns", &p.Turns)
			visit(at+" note", &p.Note)
		}
		for i := range c.reasons {
			at := c.Name + " no way " + strconv.Itoa(i+1)
			visit(at, &c.reasons[i].why)
			visit(at+" instead", &c.reasons[i].instead)
		}
	}
	a.says.texts(visit)
}
