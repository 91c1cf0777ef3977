package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

// Ask is a question put backwards: the most, or the least, of a value of a
// method with which a condition holds.
type Ask struct {
	Input  *Input
	Member int // of a list, the member to solve for, counted from 1; 0 where the value is no list
	Least  bool
	Among  []Point          // the values to choose from, where the line lists them
	Holds  *formula.Formula // over the method's values and results
	Unit   unit.Unit        // in which the answer is rounded and printed; the zero unit is the input's own
	Each   []fault.Place    // the values for each point of which it is asked
	Place  fault.Place      // the whole line

	list string // the values to choose from, as they were typed
}

const askShape = "a value, where and a condition, such as: run where loss at most 0.5 dB"

// eachMark begins the second part of a most or least line.
const eachMark = ", for each "

// ReadAsk reads a most or least line: a value, `where` and a condition, and
// where the answer differs from point to point, `, for each` and the values
// that run. It returns nil where a fault stops.
func (s *Sheet) ReadAsk(p fault.Place, least bool) (*Ask, *fault.List) {
	faults := &fault.List{}
	a := &Ask{Least: least, Place: p}
	text := p.String()
	if f := noComma(p); f != nil {
		faults.Add(f)
		return nil, faults
	}
	if i := strings.Index(text, eachMark); i >= 0 {
		a.Each = split(p.Sub(i+len(eachMark), len(text)), " and ")
		p = p.Sub(0, i).Trim()
		text = p.String()
	}
	name, cond := p, fault.Place{}
	if i := strings.Index(text, " where "); i >= 0 {
		name, cond = p.Sub(0, i).Trim(), p.Sub(i+len(" where "), len(text)).Trim()
	}
	if cond.Text == nil || cond.String() == "" {
		faults.Add(fault.At(p, "this line does not say what must hold").Want(askShape))
		return nil, faults
	}
	s.readAskedValue(a, name, faults)
	a.Holds = s.condition(cond, faults)
	if faults.Stopped() {
		return nil, faults
	}
	faults.Add(s.aboutResult(a, cond))
	return a, faults
}

// noComma is the fault of a line in which the comma before `for each` is left
// out, or nil.
func noComma(p fault.Place) *fault.Fault {
	words := eachMark[1:]
	before, after, found := strings.Cut(p.String(), words)
	if !found || strings.HasSuffix(before, ",") {
		return nil
	}
	at := p.Sub(len(before)+1, len(before)+len(words)-1)
	return fault.At(at, "a comma is missing before for each").Fix("%s%s%s", strings.TrimRight(before, " ,"), eachMark, after)
}

// readAskedValue reads the value that is asked for, and the list to choose from
// where one stands behind it: gauge of 10, 12, 14 AWG.
func (s *Sheet) readAskedValue(a *Ask, p fault.Place, faults *fault.List) {
	text, name, list := p.String(), p, fault.Place{}
	if i := strings.Index(text, ofMark); i >= 0 {
		name, list = p.Sub(0, i).Trim(), p.Sub(i+len(ofMark), len(text)).Trim()
	}
	if a.Input = s.Input(name.String()); a.Input == nil {
		faults.Add(s.notAsked(name))
		return
	}
	if f := a.Input.solvable(name); f != nil {
		faults.Add(f)
		return
	}
	if list.Text == nil {
		return
	}
	if a.Input.Group != "" {
		faults.Add(fault.At(list, "%s is a list itself, and a member of it is not chosen from another", a.Input.Name).Fix("take this list out"))
		return
	}
	points, fs := a.Input.ReadSweep(list)
	faults.Join(fs)
	if !fs.Stopped() && slices.ContainsFunc(points, func(p Point) bool { return !p.Known() }) {
		faults.Add(fault.At(list, "a value that is not known cannot be chosen").Want("%s", a.Input.wanted()))
	}
	a.Among, a.list = points, list.String()
	if len(points) > 0 {
		a.Unit = points[0].Unit
	}
}

// ofMark begins the list to choose from.
const ofMark = " of "

// notAsked is the fault of a most or least line about no value.
func (s *Sheet) notAsked(name fault.Place) *fault.Fault {
	if s.Result(name.String()) == nil {
		return s.Unknown(name.String(), name)
	}
	return fault.At(name, "%q is a result of %s, and a value is asked for", name, s.Name).Want("a value that it takes: run where loss at most 0.5 dB")
}

// solvable refuses a value that has no most and no least.
func (i *Input) solvable(at fault.Place) *fault.Fault {
	switch {
	case i.Choice != nil:
		return fault.At(at, "%s is a choice of words, and has no most or least", i.Name).Want("a value that is a number")
	case len(i.Among) == 0 && (i.From == nil || i.To == nil):
		return fault.At(at, "it is not stated from where to where %s may go", i.Name).Want("a value with bounds in its method")
	}
	return nil
}

// condition reads a condition over values and results.
func (s *Sheet) condition(p fault.Place, faults *fault.List) *formula.Formula {
	n, fs := formula.ParseCond(p)
	faults.Join(fs)
	if fs.Stopped() {
		return nil
	}
	f, fs := formula.Check(n, s.scope())
	faults.Join(fs)
	return f
}

// scope is what a condition about a method may name: its values and its
// results, each of which may be missing.
func (s *Sheet) scope() *formula.Scope {
	scope := &formula.Scope{Values: map[string]formula.Symbol{}}
	for _, in := range s.Takes {
		scope.Values[in.Name] = formula.Symbol{Type: in.Type(), Missing: true}
	}
	for _, r := range s.Gives {
		scope.Values[r.Name] = formula.Symbol{Type: r.Type(), Missing: true}
	}
	return scope
}

// aboutResult refuses a condition that no result takes part in: its answer
// would be the number that was typed.
func (s *Sheet) aboutResult(a *Ask, cond fault.Place) *fault.Fault {
	if len(s.results(a.Holds)) > 0 {
		return nil
	}
	if len(s.Gives) == 0 {
		return fault.At(cond, "%s gives a verdict and no figure that a condition could be about", s.Name).Fix("take this line out")
	}
	var names []string
	for _, r := range s.Gives {
		names = append(names, r.Name)
	}
	return fault.At(cond, "this condition is about no result of %s", s.Name).Want("one of its results: %s", strings.Join(names, ", "))
}

// results are the results that a condition is about, in the method's order.
func (s *Sheet) results(holds *formula.Formula) []string {
	var names []string
	for _, r := range s.Gives {
		if slices.Contains(holds.Uses(), r.Name) {
			names = append(names, r.Name)
		}
	}
	return names
}

// Extreme names what is asked for, as it is printed: "longest run", or "least
// load" where the method has no word of its own for it.
func (s *Sheet) Extreme(a *Ask) string {
	word := "most"
	if a.Least {
		word = "least"
	}
	if own := s.Directions[a.Input.Name]; own != nil {
		if n := slices.Index([]string{"most", "least"}, word); n < len(own) {
			word = own[n]
		}
	}
	return word + " " + a.label()
}

// label names the value that is asked for, with the list to choose from.
func (a *Ask) label() string {
	if a.list == "" {
		return a.Input.Label()
	}
	return a.Input.Label() + " of " + a.list
}

// Word is the word of the line: most or least.
func (a *Ask) Word() string {
	if a.Least {
		return "least"
	}
	return "most"
}

// directionWords reads the words for the most and the least of a value, joined
// by `or`; the second may be left out.
func directionWords(n *record.Node) map[string][]string {
	if n == nil || n.Kind != record.Map {
		return nil
	}
	words := map[string][]string{}
	for _, e := range n.Entries {
		words[e.Key.Text] = strings.Split(e.Value.Text, " or ")
	}
	return words
}
