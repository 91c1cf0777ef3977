package trade

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// The words of a cure.
const (
	cureNothing = "nothing"
	cureNone    = "no box"
)

// mostPlaced is how many sources or inputs one plan has at most.
const mostPlaced = 12

// PlaceSources returns the method place-sources over a table of costs. It takes
// sources and inputs (lists of names, at most 12 each), the switch boxes with
// their ports and the phono preamplifiers that are to hand (0 to 3 each, 2 to 6
// ports, plain numbers), and gives the plan that places most sources and of
// those the one of least cost: what stands where, how many are placed, which are
// not and what would place them, its cost, and the cost of the next best plan.
func PlaceSources(p *Placing) method.Method {
	h := sha256.Sum256([]byte("place-sources 1\n" + p.text.Source()))
	number := unit.Must("number")
	count := func(name, says string, round unit.Rounding) *method.Result {
		return &method.Result{Name: name, Of: name, Says: says, Unit: number, Format: unit.Format{Unit: number, Round: round}}
	}
	return &answered{
		answer: p.answer, cases: placingCases, says: p.said,
		sheet: &method.Sheet{
			Name: "place-sources", Asks: "Which source goes on which input?", Area: "inputs",
			Takes: p.inputs(), References: []string{p.rule, p.search}, Cautions: []string{"mute-first", "phono-overload", "supply-check"},
			Gives: []*method.Result{
				{Name: "plan", Of: "plan", Says: "what goes where", Words: p.phrases(), Group: "place"},
				count("placed", "how many sources have an input", unit.Either),
				{Name: "unplaced", Of: "unplaced", Says: "what has no input", Words: p.Sources, Group: "unplaced"},
				{Name: "cure", Of: "cure", Says: "what would place the rest", Words: cures(), Print: map[string]string{cureNothing: "nothing is wanted", cureNone: "no box of these kinds"}},
				headed("ill placed, in points", count("cost", "how far the plan is from each source where it belongs", unit.Up)),
				headed("next best plan, in points", count("next_cost", "the same of the next best plan", unit.Down)),
			},
			Verdicts: placingVerdicts, VerdictNames: []string{"placing"},
			Moves:     placingMoves(),
			CoversNot: "leads and plugs, digital inputs, what a socket is called elsewhere, and who gets up to set the switch box",
			Notes:     "A switch box goes on a line input, which is then its own; it must switch both the signal and its ground where the grounds of the sources differ.",
			Hash:      hex.EncodeToString(h[:]),
		},
	}
}

// placingSays is what the method says beside its sheet.
func placingSays() said {
	return said{
		"no sources": "it is not known what is to be heard",
		"no inputs":  "the inputs of the amplifier are not known",
		"too many":   "more than twelve sources or inputs are not placed",
		"no next":    "no other plan places as many sources",
		"plan":       "the most sources placed, and of such plans the one of least cost",
		"placed":     "the sources of the plan, counted",
		"unplaced":   "the sources that the plan leaves out",
		"cure":       "the fewest boxes more that place every source",
		"cost":       "what each source costs where it stands, added up",
		"next_cost":  "the least cost with one source or more elsewhere",
		"left out":   "not every source has an input",
		"off":        "a deck off its loop plays and cannot record",
		"lone":       "what is on a loop plays with the monitor button pressed, and nothing goes to its record side",
		"of a kind":  "each source has an input of its kind",
	}
}

var placingVerdicts = []string{
	`placing: doubtful "not every source has an input" when placed < the sources`,
	`placing: doubtful "a deck off its loop plays and cannot record" when one stands there`,
	`placing: doubtful "what is on a loop plays with the monitor button pressed, and nothing goes to its record side" when one stands there`,
	`placing: fits "each source has an input of its kind"`,
}

// placingMoves says how the numbers go with the stock.
func placingMoves() []method.Move {
	var all []method.Move
	const traded = "one more may place a source more, which costs, or stand a source where it belongs, which saves"
	for _, with := range []string{"boxes", "ports", "preamplifiers"} {
		all = append(all, method.Move{Result: "placed", Way: "rises", With: with})
		for _, r := range []string{"cost", "next_cost"} {
			all = append(all, method.Move{Result: r, Way: "neither", With: with, Because: traded})
		}
	}
	return all
}

// headed gives a result the head of its column.
func headed(head string, r *method.Result) *method.Result {
	r.Head = head
	return r
}

// inputs are what the method takes.
func (p *Placing) inputs() []*method.Input {
	kinds := slices.DeleteFunc(slices.Clone(p.Inputs), func(k string) bool { return k == switchBox })
	sources := &method.Input{Name: "sources", Says: "what is to be heard", Choice: p.Sources, Group: "source"}
	inputs := &method.Input{Name: "inputs", Says: "the inputs of the amplifier", Choice: kinds, Group: "input"}
	sources.Book = []method.Point{wordList("record player", "CD player", "cassette deck", "television")}
	inputs.Book = []method.Point{wordList("phono", "line", "tape 1")}
	return []*method.Input{
		sources, inputs, some("boxes", "0", "3", "the switch boxes to hand", "0"),
		some("ports", "2", "6", "the sources that a switch box takes", "2"), some("preamplifiers", "0", "3", "the phono preamplifiers to hand", "0"),
	}
}

// some makes an input of a whole number with a usual value.
func some(name, from, to, says, usual string) *method.Input {
	in := &method.Input{Name: name, Says: says, Whole: true, Unit: unit.Must("number")}
	in.From, in.To = &method.Bound{Value: amountOf(from), Text: from}, &method.Bound{Value: amountOf(to), Text: to}
	p := pointOf(in, usual)
	in.Usually = &p
	return in
}

// wordList is a list of words as a point.
func wordList(words ...string) method.Point {
	p := method.Point{Text: strings.Join(words, " and ")}
	for _, w := range words {
		p.Value.List = append(p.Value.List, formula.WordOf(w))
	}
	return p
}

// phrase says of one source where it stands.
func (p *Placing) phrase(source string, through bool, on string) string {
	if through {
		return source + " through a phono preamplifier on " + p.says[on]
	}
	return source + " on " + p.says[on]
}

// phrases are all that a plan may say.
func (p *Placing) phrases() []string {
	var all []string
	for _, s := range p.Sources {
		for _, in := range p.Inputs {
			all = append(all, p.phrase(s, false, in), p.phrase(s, true, in))
		}
	}
	return all
}

// cures are all that may be asked for.
func cures() []string {
	all := []string{cureNothing, cureNone}
	for boxes := range mostHelp + 1 {
		for preamplifiers := range mostHelp + 1 {
			if boxes+preamplifiers > 0 {
				all = append(all, cureOf(boxes, preamplifiers, ""), cureOf(boxes, preamplifiers, ofSix))
			}
		}
	}
	slices.Sort(all) // of preamplifiers alone there is no other size
	return slices.Compact(all)
}

// ofSix says that the boxes to hand have too few sockets.
const (
	ofSix     = " of six sockets"
	mostPorts = 6
)

// cureOf says some boxes, of some size, and preamplifiers in words.
func cureOf(boxes, preamplifiers int, size string) string {
	many := func(n int, what, whats string) string {
		return []string{"", "a " + what, "two " + whats, "three " + whats}[n]
	}
	var parts []string
	for _, s := range []string{
		many(preamplifiers, "phono preamplifier", "phono preamplifiers"), many(boxes, "switch box"+size, "switch boxes"+size),
	} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " with ")
}

// asked makes the question of the values.
func (p *Placing) asked(v method.Values) (placingOf, string) {
	q := placingOf{table: p, off: -1}
	for name, to := range map[string]*[]string{"sources": &q.sources, "inputs": &q.inputs} {
		for _, m := range v[name].Value.List {
			*to = append(*to, m.Word)
		}
	}
	switch {
	case len(q.sources) == 0:
		return q, p.said.say("no sources")
	case len(q.inputs) == 0:
		return q, p.said.say("no inputs")
	case len(q.sources) > mostPlaced || len(q.inputs) > mostPlaced:
		return q, p.said.say("too many")
	}
	whole := func(name string) int { return int(v[name].Value.Number + 0.5) }
	q.stock = stock{boxes: whole("boxes"), ports: whole("ports"), preamplifiers: whole("preamplifiers")}
	return q, ""
}

// answer places the sources.
func (p *Placing) answer(v method.Values) answer {
	a := answer{results: map[string]formula.Value{}, cautions: []string{"mute-first"}, references: []string{p.rule, p.search}}
	q, untold := p.asked(v)
	if untold != "" {
		for _, name := range []string{"plan", "placed", "unplaced", "cure", "cost", "next_cost"} {
			a.results[name] = formula.CannotTell(untold)
		}
		a.verdicts = []method.Verdict{{Name: "placing", Grade: method.CannotTell, Words: untold}}
		return a
	}
	best := q.best()
	plan, out := []formula.Value{}, []formula.Value{}
	for s, on := range best.on {
		if on == "" {
			out = append(out, formula.WordOf(q.sources[s]))
			continue
		}
		plan = append(plan, formula.WordOf(p.phrase(q.sources[s], best.through[s], on)))
		if best.through[s] && !slices.Contains(a.cautions, "supply-check") {
			a.cautions = append(a.cautions, "supply-check")
		}
	}
	if slices.ContainsFunc(q.inputs, func(in string) bool { return strings.Contains(in, "phono") }) {
		a.cautions = append(a.cautions, "phono-overload")
	}
	a.results["plan"], a.results["unplaced"] = formula.Value{List: plan}, formula.Value{List: out}
	a.results["placed"], a.results["cost"] = formula.Quantity(float64(best.count)), formula.Quantity(float64(best.cost))
	a.results["cure"] = formula.WordOf(q.wanted(len(out)))
	a.results["next_cost"] = formula.NoValue(p.said.say("no next"))
	if second, ok := q.next(best); ok {
		a.results["next_cost"] = formula.Quantity(float64(second.cost))
	}
	a.verdicts = []method.Verdict{q.verdict(best, len(out))}
	a.how = map[string]string{}
	for _, result := range []string{"plan", "placed", "unplaced", "cure", "cost", "next_cost"} {
		a.how[result] = p.said.say(result)
	}
	return a
}

// wanted is the cure for some sources that are left out.
func (q placingOf) wanted(out int) string {
	if out == 0 {
		return cureNothing
	}
	if boxes, preamplifiers, ok := q.cure(q.stock.ports); ok {
		return cureOf(boxes, preamplifiers, "")
	}
	if boxes, preamplifiers, ok := q.cure(mostPorts); ok {
		return cureOf(boxes, preamplifiers, ofSix)
	}
	return cureNone
}

// verdict judges the plan by the worst of what stands in it.
func (q placingOf) verdict(p placed, out int) method.Verdict {
	v := method.Verdict{Name: "placing", Grade: method.Doubtful}
	loop := func(in string) bool { return strings.HasPrefix(in, "tape ") }
	recorder := func(s int) bool { return strings.HasSuffix(q.sources[s], " deck") }
	var off, lone bool
	for s, on := range p.on {
		off = off || on != "" && recorder(s) && !loop(on)
		lone = lone || loop(on) && !recorder(s)
	}
	switch {
	case out > 0:
		v.Words = q.table.said.say("left out")
	case off:
		v.Words = q.table.said.say("off")
	case lone:
		v.Words = q.table.said.say("lone")
	default:
		v.Grade, v.Words = method.Fits, q.table.said.say("of a kind")
	}
	return v
}

// placingCases adds the cases: the same sources and inputs with none and with
// one switch box.
func placingCases(a *answered, faults *fault.List) {
	reference, ok := a.library.Reference("placing-search")
	if !ok {
		return
	}
	sources := wordList("record player", "CD player", "cassette deck", "reel deck", "television", "tuner")
	inputs := wordList("phono", "line", "tuner", "tape 1", "tape 2")
	for _, c := range []struct {
		boxes, result string
		want          float64
	}{{"0", "placed", 5}, {"1", "placed", 6}, {"1", "cost", 5}, {"1", "next_cost", 7}} {
		a.sheet.Cases = append(a.sheet.Cases, &method.Case{
			Values:    method.Values{"sources": sources, "inputs": inputs, "boxes": pointOf(a.sheet.Input("boxes"), c.boxes)},
			Wants:     []method.Want{{Result: c.result, Value: formula.Quantity(c.want)}},
			Reference: reference,
		})
	}
}
