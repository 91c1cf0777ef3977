package method

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/unit"
	"bindpost/calc/wording"
)

// Reference says where a rule or a value comes from.
type Reference struct {
	Citation
	States []Stated
	Place  fault.Place
}

// Citation is what is printed of a reference.
type Citation struct {
	ID     string
	Title  string
	Clause string
	Date   string
	Mark   string // one of Marks
	Says   string // what of it was used, or what was not read
}

// Stated is a constant or a wording that a reference holds, as it stands
// there: "exchange rate" and "3 dB".
type Stated struct {
	Name, Value string
}

// Marks are the ways in which a rule can be known, strongest first: read in
// a published work, computed by us or an independent solver, common practice
// without a source, from memory.
var Marks = []string{"read", "computed", "practice", "memory"}

// Caution is a warning with a stable name.
type Caution struct {
	CautionText
	Words  []wording.Pattern // what pulls it in: a guide or a method that says one of them must carry it
	Units  []unit.Unit       // what pulls it in as well: a method that gives a figure in one of them must name it
	Unless string            // a sense in which such a figure is none of it: "at 1 m"
	Place  fault.Place
}

// CautionText is what is printed of a caution.
type CautionText struct {
	ID      string
	Signal  string // one of Signals
	Happens string // what can happen
	How     string // how it comes about
	Instead string // what to do instead
	Ask     string // whom to ask
}

// Signals are the signal words, gravest first: harm to people, harm to gear,
// help.
var Signals = []string{"WARNING", "CAUTION", "NOTE"}

// readReferences reads a record of reference entries by name.
func readReferences(n *record.Node, faults *fault.List) map[string]*Reference {
	entries := map[string]*Reference{}
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("a reference", "title", "clause", "date", "mark", "says", "states"))
		checkTexts(e.Value, faults, "title", "clause", "date", "mark", "says")
		r := &Reference{
			Citation: Citation{
				ID: e.Key.Text, Title: text(e.Value.Get("title")), Clause: text(e.Value.Get("clause")),
				Date: text(e.Value.Get("date")), Mark: text(e.Value.Get("mark")), Says: text(e.Value.Get("says")),
			},
			States: readStated(e.Value.Get("states"), faults), Place: e.Key.Place,
		}
		if r.Title == "" {
			faults.Add(fault.At(e.Key.Place, "the reference %q has no title", r.ID).Want("title: what the work is called"))
		}
		if !slices.Contains(Marks, r.Mark) {
			faults.Add(fault.At(e.Key.Place, "the reference %q does not say how it is known", r.ID).
				Want("mark: read, computed, practice or memory"))
		}
		if r.Date == "" && (r.Mark == "read" || r.Mark == "computed") {
			faults.Add(fault.At(e.Key.Place, "the reference %q has no date", r.ID).
				Want("date: the year of the work, or of the computing"))
		}
		entries[r.ID] = r
	}
	return entries
}

// readStated reads what a reference states, by name.
func readStated(n *record.Node, faults *fault.List) []Stated {
	if n == nil {
		return nil
	}
	if n.Kind != record.Map {
		faults.Add(fault.At(n.Place, "states holds %s", n.Kind).Want("values by name, such as exchange rate: 3 dB"))
		return nil
	}
	var all []Stated
	for _, e := range n.Entries {
		checkTexts(n, faults, e.Key.Text)
		all = append(all, Stated{Name: e.Key.Text, Value: text(e.Value)})
	}
	return all
}

// readCautions reads a record of cautions by name.
func readCautions(n *record.Node, faults *fault.List) map[string]*Caution {
	entries := map[string]*Caution{}
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("a caution", "signal", "happens", "how", "instead", "ask", "words", "units", "unless"))
		checkTexts(e.Value, faults, "signal", "happens", "how", "instead", "ask", "unless")
		c := &Caution{
			CautionText: CautionText{
				ID: e.Key.Text, Signal: text(e.Value.Get("signal")), Happens: text(e.Value.Get("happens")),
				How: text(e.Value.Get("how")), Instead: text(e.Value.Get("instead")), Ask: text(e.Value.Get("ask")),
			},
			Words: Wordings(e.Value.Get("words"), faults), Units: readUnits(e.Value.Get("units"), faults),
			Unless: text(e.Value.Get("unless")), Place: e.Key.Place,
		}
		if !slices.Contains(Signals, c.Signal) {
			faults.Add(fault.At(e.Key.Place, "the caution %q has no signal word", c.ID).Want("signal: WARNING, CAUTION or NOTE"))
		}
		if c.Happens == "" || c.How == "" || c.Instead == "" || c.Ask == "" {
			faults.Add(fault.At(e.Key.Place, "the caution %q is not whole", c.ID).
				Want("happens, how, instead and ask: what can happen, how, what to do instead, whom to ask"))
		}
		entries[c.ID] = c
	}
	return entries
}

// Wordings reads a list of wordings that are looked for in prose.
func Wordings(n *record.Node, faults *fault.List) []wording.Pattern {
	if n == nil {
		return nil
	}
	var all []wording.Pattern
	for _, item := range n.Items {
		p, err := wording.Read(text(item))
		if err != nil {
			faults.Add(fault.At(item.Place, "%v", err).Want("words in their order, such as: wire ... in|behind ... wall"))
			continue
		}
		all = append(all, p)
	}
	if len(n.Items) == 0 {
		faults.Add(fault.At(n.Place, "this is no list of wordings").Want("[laser, lens ... player]"))
	}
	return all
}

// readUnits reads a list of units.
func readUnits(n *record.Node, faults *fault.List) []unit.Unit {
	if n == nil {
		return nil
	}
	words, fs := n.Words("units")
	faults.Join(fs)
	var all []unit.Unit
	for _, w := range words {
		u, f := unit.Parse(w.Place)
		if f != nil {
			faults.Add(f)
			continue
		}
		all = append(all, u)
	}
	return all
}

// text returns a scalar's text, and "" for anything else.
func text(n *record.Node) string {
	if n == nil || n.Kind != record.Scalar {
		return ""
	}
	return n.Text
}

// checkTexts sees that what stands under keys that hold a text is one.
func checkTexts(n *record.Node, faults *fault.List, keys ...string) {
	for _, key := range keys {
		if v := n.Get(key); v != nil && (v.Kind == record.Map || v.Kind == record.List) {
			faults.Add(fault.At(v.Place, "%s holds %s", key, v.Kind).Want("a text").
				Fix("put a text that begins with a bracket, or holds a colon and a space, between straight quotes"))
		}
	}
}
