package trade

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"bindpost/calc/decide"
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/record"
)

// What is asked for when the facts do not tell.
const (
	askNothing = "nothing"
	askPhoto   = "photograph"
)

// Boxes is the table of boxes by the sockets on their rear, as its file states
// it. The replies of the decision table stand for the first, the second and the
// third word of a fact.
type Boxes struct {
	Facts  []*method.Input
	Names  []string // of the boxes, one for each rule of the table
	Table  decide.Table
	text   *fault.Text
	says   map[string]string // by box
	source string            // the reference
	said   said
}

// boxesSay is what the method says beside its sheet.
func boxesSay() said {
	return said{
		"row":    "the row of the table that has these sockets",
		"fewest": "the fact that leaves the fewest boxes, where one is missing",
		"no box": "no box of the table has these sockets",
		"one":    "it may be {box}, or no box of the table",
		"many":   "too little is known: it may be many boxes",
		"some":   "it may be {boxes}",
		"or":     "{first}, or {second}",
		"a":      "a {box}",
		"an":     "an {box}",
	}
}

// ReadBoxes reads the table from its file, and proves that no two rules answer
// the same sockets and that each rule answers some.
func ReadBoxes(t *fault.Text) (*Boxes, *fault.List) {
	n, faults := record.Parse(t)
	b := &Boxes{text: t, says: map[string]string{}, said: boxesSay()}
	if faults.Join(n.Keys("a table of boxes", "reference", "facts", "boxes")); faults.Stopped() {
		return b, faults
	}
	if r := n.Get("reference"); r != nil {
		b.source = r.Text
	}
	for _, e := range entries(n.Get("facts")) {
		b.fact(e, faults)
	}
	b.Table = decide.Table{Conditions: len(b.Facts), Otherwise: true}
	var places []fault.Place
	for _, e := range entries(n.Get("boxes")) {
		b.box(e, faults)
		places = append(places, e.Key.Place)
	}
	if faults.Stopped() {
		return b, faults
	}
	found := b.Table.Check()
	for _, o := range found.Overlaps {
		faults.Add(fault.At(places[o.Second], "%s and %s may have the same sockets", b.Names[o.First], b.Names[o.Second]).
			Want("a fact that differs between the two"))
	}
	for _, i := range found.Unreachable {
		if i < len(places) {
			faults.Add(fault.At(places[i], "no sockets are left for %s", b.Names[i]).Want("sockets that no box before it has"))
		}
	}
	return b, faults
}

func entries(n *record.Node) []record.Entry {
	if n == nil {
		return nil
	}
	return n.Entries
}

// fact reads one fact: what it is, and its words.
func (b *Boxes) fact(e record.Entry, faults *fault.List) {
	faults.Join(e.Value.Keys("a fact", "words", "says", "book"))
	in := &method.Input{Name: e.Key.Text, Print: map[string]string{}, Optional: true, Place: e.Key.Place}
	if says := e.Value.Get("says"); says != nil {
		in.Says = says.Text
	}
	for _, w := range entries(e.Value.Get("words")) {
		in.Choice = append(in.Choice, w.Key.Text)
		in.Print[w.Key.Text] = w.Value.Text
	}
	if len(in.Choice) < 2 || len(in.Choice) > 3 || in.Says == "" {
		faults.Add(fault.At(e.Key.Place, "the fact %q is not whole", in.Name).Want("says, and two or three words"))
		return
	}
	book := e.Value.Get("book")
	if book == nil || !slices.Contains(in.Choice, book.Text) {
		faults.Add(fault.At(e.Key.Place, "the fact %q has no example", in.Name).Want("book: one of %s", strings.Join(in.Choice, ", ")))
		return
	}
	in.Book = []method.Point{factWord(in, book.Text)}
	b.Facts = append(b.Facts, in)
}

// factWord is a word of a choice as a point.
func factWord(in *method.Input, w string) method.Point {
	return method.Point{Value: formula.WordOf(w), Text: in.Printed(w)}
}

// box reads one box: the words that each fact may have.
func (b *Boxes) box(e record.Entry, faults *fault.List) {
	known := []string{"says"}
	for _, in := range b.Facts {
		known = append(known, in.Name)
	}
	faults.Join(e.Value.Keys("a box", known...))
	rule := decide.Rule{}
	for _, in := range b.Facts {
		words, fs := e.Value.Get(in.Name).Words(in.Name)
		faults.Join(fs)
		var set decide.Set
		for _, w := range words {
			i := slices.Index(in.Choice, w.Text)
			if i < 0 {
				faults.Add(fault.At(w.Place, "%s cannot be %q", in.Name, w.Text).Want("one of: %s", strings.Join(in.Choice, ", ")))
				return
			}
			set |= decide.SetOf(decide.Reply(i))
		}
		if len(words) == 0 {
			set = decide.Any >> (3 - len(in.Choice))
		}
		rule.When = append(rule.When, set)
	}
	b.Table.Rules = append(b.Table.Rules, rule)
	b.Names = append(b.Names, e.Key.Text)
	b.says[e.Key.Text] = e.Key.Text
	if says := e.Value.Get("says"); says != nil {
		b.says[e.Key.Text] = says.Text
	}
}

// WhichBox returns the method which-box over a table of boxes: from the sockets
// on the rear, each seen, absent or not known, the box, and what to look for
// next. Where facts are missing the box is told only if it is the same however
// they turn out. The reference is the table's.
func WhichBox(b *Boxes) method.Method {
	h := sha256.Sum256([]byte("which-box 1\n" + b.text.Source()))
	ask := map[string]string{askNothing: "nothing more", askPhoto: "a photograph of the rear"}
	asks := []string{askNothing, askPhoto}
	for _, in := range b.Facts {
		asks = append(asks, in.Name)
		ask[in.Name] = in.Says
	}
	return &answered{
		answer: b.answer, says: b.said,
		sheet: &method.Sheet{
			Name: "which-box", Asks: "Which box is it?", Area: "boxes", Takes: b.Facts, References: []string{b.source},
			Gives: []*method.Result{
				{Name: "box", Of: "box", Says: "what box it is", Words: b.Names, Print: b.says},
				{Name: "ask_for", Of: "ask_for", Says: "what to look for next", Words: asks, Print: ask},
			},
			CoversNot: "boxes with digital inputs of their own, sets for more than two channels, speakers with an amplifier inside, and whatever was rebuilt; the front panel tells nothing here",
			Notes:     "Leave out what you do not know: the box is told only if it is the same whatever that turns out to be.",
			Uncased:   "the table is the trade's practice, which no work that we read prints",
			Hash:      hex.EncodeToString(h[:]),
		},
	}
}

// answer says which box it is, or what to look for.
func (b *Boxes) answer(v method.Values) answer {
	c := make(decide.Case, len(b.Facts))
	var missing []int
	for i, in := range b.Facts {
		if p, ok := v[in.Name]; ok && p.Known() {
			c[i] = decide.Reply(slices.Index(in.Choice, p.Value.Word))
		} else {
			missing = append(missing, i)
		}
	}
	may := b.may(c, missing)
	a := answer{results: map[string]formula.Value{}, references: []string{b.source}, how: map[string]string{
		"box": b.said.say("row"), "ask_for": b.said.say("fewest"),
	}}
	if len(may) == 1 && may[0] < len(b.Names) {
		a.results["box"], a.results["ask_for"] = formula.WordOf(b.Names[may[0]]), formula.WordOf(askNothing)
		return a
	}
	a.results["box"] = formula.CannotTell(b.why(may))
	a.results["ask_for"] = formula.WordOf(askPhoto)
	if len(may) > 1 {
		a.results["ask_for"] = formula.WordOf(b.Facts[b.telling(c, missing)].Name)
	}
	return a
}

// may returns the rules that answer a case, in order, however its missing
// facts turn out; that of no rule is the number of rules.
func (b *Boxes) may(c decide.Case, missing []int) []int {
	if len(missing) == 0 {
		return []int{b.Table.Answer(c)}
	}
	var all []int
	for r := range b.Facts[missing[0]].Choice {
		one := slices.Clone(c)
		one[missing[0]] = decide.Reply(r)
		all = append(all, b.may(one, missing[1:])...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// telling returns the missing fact that leaves the fewest boxes to choose
// between, added up over its words.
func (b *Boxes) telling(c decide.Case, missing []int) int {
	best, fewest := missing[0], 0
	for k, i := range missing {
		rest, left := slices.Delete(slices.Clone(missing), k, k+1), 0
		for r := range b.Facts[i].Choice {
			one := slices.Clone(c)
			one[i] = decide.Reply(r)
			left += len(b.may(one, rest))
		}
		// Words are compared by how much they leave on the average, in whole
		// numbers.
		if left *= 6 / len(b.Facts[i].Choice); k == 0 || left < fewest {
			best, fewest = i, left
		}
	}
	return best
}

// why says why the box cannot be told.
func (b *Boxes) why(may []int) string {
	var boxes []string
	for _, i := range may {
		if i < len(b.Names) {
			boxes = append(boxes, b.article(b.says[b.Names[i]]))
		}
	}
	switch {
	case len(boxes) == 0:
		return b.said.say("no box")
	case len(boxes) == 1:
		return b.said.say("one", "box", boxes[0])
	case len(boxes) > mostBoxes:
		return b.said.say("many")
	}
	row := boxes[0]
	for _, box := range boxes[1:] {
		row = b.said.say("or", "first", row, "second", box)
	}
	return b.said.say("some", "boxes", row)
}

// article is a name behind a or an.
func (b *Boxes) article(name string) string {
	if strings.ContainsAny(name[:1], "aeiou") {
		return b.said.say("an", "box", name)
	}
	return b.said.say("a", "box", name)
}

// mostBoxes is how many boxes a sentence names.
const mostBoxes = 3
