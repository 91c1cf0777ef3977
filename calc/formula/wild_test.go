package formula

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// wilds makes formulas that nobody would write, so that every function and
// operation meets every kind of value: beside the formulas of the trade they
// hold value, range and script to each other. They are plain numbers over the
// inputs x, y, z, the choice w, the list l, and o and q, which may be missing;
// with two own functions and a table.
type wilds struct {
	lot
	scope *Scope
}

func newWilds(seed uint64) *wilds {
	g := &wilds{lot: newLot(seed)}
	row := func(word string, n, value float64, empty bool) Row {
		return Row{Keys: []Key{{Word: word, Text: word}, {Number: n, Text: fmt.Sprint(n)}}, Value: value, Empty: empty}
	}
	g.scope = &Scope{
		Values: map[string]Symbol{
			"x": {}, "y": {}, "z": {}, "w": {Type: Choice("ash", "oak", "elm")},
			"l": {Type: Type{Group: "box"}}, "o": {Missing: true}, "q": {Type: Type{Group: "box"}, Missing: true},
		},
		Functions: map[string]*Function{"board": {Name: "board", Params: []string{"wood", "size"}, Column: &Column{
			Table: "boards", Name: "board", Keys: []Type{Choice("ash", "oak", "elm"), {}}, KeyNames: []string{"wood", "size"},
			Rows: []Row{row("ash", 1, 3.5, false), row("ash", 2, -7, false), row("oak", 1, 0, false), row("oak", 2, 0, true), row("elm", 2.5, 1e-7, false)},
		}}},
	}
	for _, name := range []string{"twice", "mixed"} {
		body := map[string]string{
			"twice": "(a + b)*a - sum(l*a)",
			"mixed": `min(a, b) when a > b, none "level" when a = b, twice(b, a)/b when w is oak, else y`,
		}[name]
		g.scope.Functions[name] = &Function{Name: name, Params: []string{"a", "b"}, Body: g.read(body)}
	}
	return g
}

func (g *wilds) read(text string) Node {
	n, faults := ParseBody(fault.NewText("wild", text).All())
	if n == nil {
		panic(text + ": " + faults.String())
	}
	return n
}

// formula makes a checked formula: an expression, cases or a condition, over
// the list or not.
func (g *wilds) formula(t *testing.T) *Formula {
	t.Helper()
	list := g.IntN(4) == 0
	var n Node
	var faults *fault.List
	text := ""
	switch g.IntN(4) {
	case 0:
		text = g.cond(2, list)
		n, faults = ParseCond(fault.NewText("wild", text).All())
	case 1:
		text = g.cases(list)
		n, faults = ParseBody(fault.NewText("wild", text).All())
	default:
		text = g.expr(4, list)
		n, faults = ParseBody(fault.NewText("wild", text).All())
	}
	if n == nil {
		t.Fatalf("%s\n%s", text, faults)
	}
	f, faults := Check(n, g.scope)
	if f == nil {
		t.Fatalf("%s\n%s", text, faults)
	}
	return f
}

func (g *wilds) pick(from ...string) string { return from[g.IntN(len(from))] }

func (g *wilds) cases(list bool) string {
	var b strings.Builder
	for range 1 + g.IntN(3) {
		fmt.Fprintf(&b, "%s when %s, ", g.outcome(list), g.cond(2, list))
	}
	return b.String() + "else " + g.outcome(list)
}

func (g *wilds) outcome(list bool) string {
	switch g.IntN(6) {
	case 0:
		return `none "nothing \ there"`
	case 1:
		return `unknown "no </script> fact"`
	}
	return g.expr(3, list)
}

func (g *wilds) cond(depth int, list bool) string {
	if depth > 0 {
		switch g.IntN(6) {
		case 0:
			return g.cond(depth-1, list) + " and " + g.cond(depth-1, list)
		case 1:
			return g.cond(depth-1, list) + " or " + g.cond(depth-1, list)
		case 2:
			return "not " + g.cond(0, list)
		}
	}
	switch g.IntN(8) {
	case 0:
		return "o is given"
	case 1:
		if list {
			return "q is given"
		}
		return "not o is given"
	case 2, 3:
		return "w is " + g.pick("ash", "oak", "elm")
	}
	return g.expr(depth, list) + g.pick(" < ", " <= ", " = ", " >= ", " > ") + g.expr(depth, list)
}

var wildFunctions = []string{
	"sqrt(%s)", "log10(%s)", "log2(%s)", "ln(%s)", "exp(%s)", "sin((%s)*1 rad)", "cos((%s)*1 rad)", "tan((%s)*1 rad)",
	"(asin(%s)/1 rad)", "(acos(%s)/1 rad)", "(atan(%s)/1 rad)", "abs(%s)", "sinc(%s)", "round(%s)", "roundup(%s)", "rounddown(%s)",
}

func (g *wilds) expr(depth int, list bool) string {
	if depth == 0 || g.IntN(9) == 0 {
		return g.leaf(list)
	}
	sub := func() string { return g.expr(depth-1, list) }
	switch g.IntN(10) {
	case 0, 1, 2:
		return "(" + sub() + g.pick(" + ", " - ", "*", "/") + sub() + ")"
	case 3:
		return "(" + sub() + ")^" + g.pick("2", "3", "4", "0.5", "(-1)", "(-2)", "0", g.leaf(list))
	case 4:
		return "(-" + sub() + ")"
	case 5, 6:
		return fmt.Sprintf(wildFunctions[g.IntN(len(wildFunctions))], sub())
	case 7:
		return g.pick("min", "max") + "(" + sub() + ", " + sub() + ")"
	case 8:
		if g.IntN(3) == 0 {
			return "tally(" + g.cond(1, list) + ", " + g.cond(0, list) + ")"
		}
		return g.pick("sum", "count", "min", "max") + "(" + g.expr(depth-1, true) + " + 0*l)"
	}
	if g.IntN(3) == 0 {
		return "board(w, " + g.pick("1", "2", "2.5", "x", "round(y)") + ")"
	}
	return g.pick("twice", "mixed") + "(" + sub() + ", " + sub() + ")"
}

func (g *wilds) leaf(list bool) string {
	if list && g.IntN(2) == 0 {
		return g.pick("l", "l", "q")
	}
	return g.pick("x", "y", "z", "o", "x", "y", "pi", "1", "2", "0.5", "10", "1e-3")
}

// ranges draws a range for each input; what may be missing is left out often.
func (g *wilds) ranges() map[string]Range {
	inputs := map[string]Range{"w": g.one(Choice("ash", "oak", "elm"))}
	for _, name := range []string{"x", "y", "z", "o"} {
		inputs[name] = g.oneWild()
	}
	l, q := noRange, noRange
	for range g.IntN(4) {
		l.List = append(l.List, g.oneWild())
		member := g.oneWild()
		if g.IntN(3) == 0 {
			member = RangeOf(CannotTell("a gap"))
		}
		q.List = append(q.List, member)
	}
	if l.List == nil {
		l.List, q.List = []Range{}, []Range{}
	}
	inputs["l"], inputs["q"] = l, q
	for _, name := range []string{"o", "q"} {
		if g.IntN(3) == 0 {
			delete(inputs, name)
		}
	}
	return inputs
}

// oneWild draws a range of numbers near where functions turn, break or end.
func (g *wilds) oneWild() Range {
	near := []float64{0, 1, -1, 2, 0.5, math.Pi, math.Pi / 2, -math.Pi / 2, 4.4934094579, 10, -10, 100, 1e-9, 700, 1e160, -1e-200}
	a := near[g.IntN(len(near))]
	switch g.IntN(7) {
	case 0:
		return Between(a, a)
	case 1:
		return Among(a, near[g.IntN(len(near))], 1, 2)
	case 2:
		b := near[g.IntN(len(near))]
		return Between(math.Min(a, b), math.Max(a, b))
	case 3:
		return Between(a-1e-12, a+1e-12)
	case 4:
		a = g.NormFloat64() * 3
		return Between(a, a+math.Abs(g.NormFloat64()))
	case 5:
		a = math.Exp(g.NormFloat64() * 3)
		return Between(a, a)
	}
	return Between(a-g.Float64(), a+g.Float64())
}

// within draws a value of each range.
func (g *wilds) within(inputs map[string]Range) wildEnv {
	env := wildEnv{}
	for _, name := range []string{"x", "y", "z", "w", "o", "l", "q"} {
		if r, ok := inputs[name]; ok {
			env[name] = g.inside(r)
			if r.List != nil && env[name].List == nil {
				env[name] = Value{List: []Value{}}
			}
		}
	}
	return env
}

// wildEnv answers with values; a name that is not in it is missing.
type wildEnv map[string]Value

func (e wildEnv) Value(name string) Value {
	if v, ok := e[name]; ok {
		return v
	}
	return CannotTell(name + " is not known")
}

func (e wildEnv) Given(name string) bool   { _, ok := e[name]; return ok }
func (e wildEnv) Missing(name string) bool { return name != "q" && !e.Given(name) }

type wildRanges map[string]Range

func (e wildRanges) Range(name string) Range {
	if r, ok := e[name]; ok {
		return r
	}
	return RangeOf(CannotTell(""))
}

func (e wildRanges) Given(name string) Truth {
	if _, ok := e[name]; ok {
		return True
	}
	return False
}

// TestWildRangesHold sees that what a formula comes to, whatever it is, is
// among what its range holds.
func TestWildRangesHold(t *testing.T) {
	g := newWilds(3)
	states, truths := map[State]int{}, map[Truth]int{}
	for range 6000 {
		f := g.formula(t)
		ranges := g.ranges()
		for range 8 {
			env := g.within(ranges)
			if f.Type().Truth {
				a, all := f.Answer(env), f.Answers(wildRanges(ranges))
				truths[a.Truth]++
				for _, name := range f.Uses() {
					if f.BarredBy(name, env) && a.Truth == True {
						t.Fatalf("%s\nholds with %+v, and %s bars it", Text(f.Node()), env, name)
					}
				}
				if !all.Hold(a) {
					t.Fatalf("%s\nis %+v with %+v\nand may be %+v over %+v", Text(f.Node()), a, env, all, ranges)
				}
				continue
			}
			v, r := f.Eval(env), f.Range(wildRanges(ranges))
			states[v.State]++
			if !r.Holds(v) {
				t.Fatalf("%s\ncomes to %+v with %+v\nand its range is %+v over %+v", Text(f.Node()), v, env, r, ranges)
			}
		}
	}
	for _, s := range []State{Known, None, Unknown, Failed} {
		if states[s] < 100 {
			t.Errorf("only %d values were %s", states[s], s)
		}
	}
	for _, a := range []Truth{False, True, Untold} {
		if truths[a] < 100 {
			t.Errorf("only %d answers were %s", truths[a], a)
		}
	}
}
