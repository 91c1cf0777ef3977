package method

import (
	"math"
	"slices"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Answer is what came of a question put backwards. Its value is Known where
// there is one; None, with the reason, where no value meets the condition or
// the condition does not depend on the value; Unknown where a fact is missing.
type Answer struct {
	Value  formula.Value
	Exact  float64   // before rounding, in base units
	Point  Point     // as rounded and printed: the most down, the least up
	Values Values    // with the answer in them
	Check  *Outcome  // of the run forwards at the answer, for the results of the condition; nil where there is no value
	Whole  bool      // every value that the method covers meets the condition
	Parts  []Stretch // where it is met in several stretches, all of them, in order
}

// Stretch is a piece of an input's range over which a condition holds.
type Stretch struct{ From, To float64 }

// Solve answers a question put backwards by running the method forwards at
// many values: on a linear and a logarithmic grid over the hard bounds, with
// every crossing closed in to one part in 10¹² and every turning point between
// the grid's values looked at. A value from a list, or a whole number, is
// tried one by one. The answer is rounded in the direction in which the
// condition stays met and is checked by running forwards at the rounded value.
// The values must be fit to run without the one asked for, as [Sheet.Check]
// says; of a list they hold the other members.
func Solve(m Method, v Values, ask *Ask) *Answer {
	s := &solver{method: m, values: v, ask: ask, sheet: m.Sheet()}
	s.unit = ask.Unit
	if s.unit.Symbol() == "" {
		s.unit = ask.Input.Unit
	}
	s.prepare(ask.Holds.Node())
	tried := s.candidates()
	listed := tried != nil
	if !listed {
		tried = s.scan()
	}
	parts := stretches(tried)
	if why := s.idle(tried); why != "" {
		return &Answer{Value: formula.NoValue(why)}
	}
	if len(parts) == 0 {
		return &Answer{Value: s.nothing(tried)}
	}
	last := parts[len(parts)-1]
	exact := last.To
	if ask.Least {
		last, exact = parts[0], parts[0].From
	}
	a := s.answer(exact, exact)
	if !listed {
		a = s.rounded(exact, last)
	}
	a.Whole = len(parts) == 1 && parts[0].From == tried[0].x && parts[0].To == tried[len(tried)-1].x
	if len(parts) > 1 {
		a.Parts = parts
	}
	return a
}

// solver is a question being answered.
type solver struct {
	method   Method
	sheet    *Sheet
	values   Values
	ask      *Ask
	unit     unit.Unit
	compares []*comparison
	strict   bool // the condition is comparisons joined by `and`, which are then held to the last digit
}

// comparison is one comparison of the condition, its sides worked apart.
type comparison struct {
	relation    formula.Relation
	left, right *formula.Formula
}

// open reports whether a comparison is not met at its bound.
func (c *comparison) open() bool {
	return c.relation == formula.Less || c.relation == formula.Greater
}

// trial is one value that was tried.
type trial struct {
	x       float64
	met     bool
	margins []float64 // of each comparison, above 0 where it is met with room; NaN where it cannot be told
	why     formula.Value
}

// prepare takes the condition apart into its comparisons.
func (s *solver) prepare(n formula.Node) {
	s.strict = true
	s.gather(n)
	s.strict = s.strict && len(s.compares) > 0
}

func (s *solver) gather(n formula.Node) {
	switch n := n.(type) {
	case *formula.And:
		for _, t := range n.Tests {
			s.gather(t)
		}
	case *formula.Or:
		s.strict = false
		for _, t := range n.Tests {
			s.gather(t)
		}
	case *formula.Not:
		s.strict = false
		s.gather(n.Test)
	case *formula.Compare:
		left, bad := formula.Check(n.Left, s.sheet.scope())
		right, worse := formula.Check(n.Right, s.sheet.scope())
		if bad.Stopped() || worse.Stopped() || n.Relation == formula.Equal {
			s.strict = false
		}
		if left != nil && right != nil {
			s.compares = append(s.compares, &comparison{n.Relation, left, right})
		}
	default:
		s.strict = false
	}
}

// try runs the method forwards at a value.
func (s *solver) try(x float64) trial {
	t, e := trial{x: x}, s.at(s.with(x))
	for _, c := range s.compares {
		t.margins = append(t.margins, c.margin(e))
	}
	if s.strict {
		t.met = true
		for n, m := range t.margins {
			t.met = t.met && (m > 0 || m == 0 && !s.compares[n].open())
		}
		if t.met || !slices.ContainsFunc(t.margins, math.IsNaN) {
			return t
		}
	}
	truth, why := s.ask.Holds.Truth(e)
	t.met = truth == formula.True && !s.strict
	if truth == formula.Untold {
		t.why = formula.CannotTell(why)
	}
	return t
}

// with returns the values with the one asked for in its place.
func (s *solver) with(x float64) Values {
	p := Point{Value: formula.Quantity(x), Unit: s.unit, Text: typed(unit.Quantity{Value: x, Unit: s.unit})}
	if s.ask.Member == 0 {
		return s.values.With(s.ask.Input.Name, p)
	}
	list := s.values[s.ask.Input.Name]
	list.Value.List = slices.Clone(list.Value.List)
	list.Value.List[s.ask.Member-1] = p.Value
	text := typed(unit.Quantity{Value: x, Unit: s.unit})
	if s.unit == list.Unit && strings.HasSuffix(list.Text, list.Unit.Symbol()) {
		text = strings.TrimSpace(strings.TrimSuffix(text, list.Unit.Symbol()))
	}
	list.Text, list.Asked = strings.Replace(list.Text, askedMember, text, 1), 0
	return s.values.With(s.ask.Input.Name, list)
}

// at answers for values and results of a run forwards.
func (s *solver) at(v Values) *forwards {
	return &forwards{inputs: newInputs(s.sheet, v), outcome: s.method.Run(v, s.sheet.results(s.ask.Holds)...)}
}

// forwards is a [formula.Env] over the values and results of one run.
type forwards struct {
	*inputs
	outcome *Outcome
}

// Value implements [formula.Env].
func (f *forwards) Value(name string) formula.Value {
	if v, ok := f.outcome.Results.Find(name); ok {
		return v
	}
	return f.inputs.Value(name)
}

// Given implements [formula.Env].
func (f *forwards) Given(name string) bool { return f.Value(name).State == formula.Known }

// Missing implements [formula.Env].
func (f *forwards) Missing(string) bool { return false }

// margin is by how much a comparison is met, over a list by how much its worst
// member is. Of `=` it is the difference, which changes its sign where it is met.
func (c *comparison) margin(e formula.Env) float64 {
	l, r := c.left.Eval(e), c.right.Eval(e)
	worst := math.Inf(1)
	for i := range max(1, len(l.List), len(r.List)) {
		x, y := member(l, i), member(r, i)
		if x.State != formula.Known || y.State != formula.Known {
			return math.NaN()
		}
		m := y.Number - x.Number
		if c.relation == formula.AtLeast || c.relation == formula.Greater {
			m = -m
		}
		worst = min(worst, m)
	}
	return worst
}

func member(v formula.Value, i int) formula.Value {
	if i < len(v.List) {
		return v.List[i]
	}
	return v
}

// stretches joins neighbours that meet the condition.
func stretches(tried []trial) []Stretch {
	var parts []Stretch
	before := false
	for _, t := range tried {
		switch {
		case t.met && before:
			parts[len(parts)-1].To = t.x
		case t.met:
			parts = append(parts, Stretch{t.x, t.x})
		}
		before = t.met
	}
	return parts
}

// idle says that the condition does not depend on the value, "" where it
// does, or where it cannot be told.
func (s *solver) idle(tried []trial) string {
	if len(tried) < 2 || len(s.compares) == 0 || slices.Contains(s.ask.Holds.Uses(), s.ask.Input.Name) {
		return ""
	}
	for _, t := range tried {
		for n, m := range t.margins {
			if math.IsNaN(m) || !near(m, tried[0].margins[n]) {
				return ""
			}
		}
		if t.met != tried[0].met {
			return ""
		}
	}
	var names []string
	for _, name := range s.sheet.results(s.ask.Holds) {
		names = append(names, s.sheet.Result(name).Label())
	}
	verb := " does not depend on "
	if len(names) > 1 {
		verb = " do not depend on "
	}
	return strings.Join(names, " and ") + verb + s.ask.Input.Label() + " here"
}

// nothing says that no value meets the condition, or that it cannot be told.
func (s *solver) nothing(tried []trial) formula.Value {
	told := slices.IndexFunc(tried, func(t trial) bool { return t.why.State == formula.Known })
	if told < 0 {
		return tried[0].why
	}
	said := "no " + s.ask.label()
	if s.ask.Member > 0 {
		said = "no value of " + s.ask.Input.Label()
	}
	from, to := s.text(tried[0].x), s.text(tried[len(tried)-1].x)
	if from != to && s.ask.list == "" {
		said += " from " + from + " to " + to
	}
	return formula.NoValue(said + " meets it: " + spaced(formula.Text(s.ask.Holds.Node())))
}

// text prints a value in the answer's unit.
func (s *solver) text(x float64) string { return Rough(x, s.unit) }

// Rough prints a value to at most three figures, and fewer where they say the
// same.
func Rough(x float64, u unit.Unit) string {
	const figures = 3
	v := unit.Format{Unit: u, Figures: figures}.Printed(x)
	if exact := typed(unit.Quantity{Value: x, Unit: u}); len(exact) <= len(typed(unit.Quantity{Value: v, Unit: u})) {
		return exact
	}
	return typed(unit.Quantity{Value: v, Unit: u})
}
