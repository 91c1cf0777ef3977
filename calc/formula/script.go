package formula

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
)

// ScriptRuntime is the JavaScript that scripts of formulas are worked with:
// it names one object, bindpost, which is the k of [Formula.Script]. It is
// plain ES2017 in strict mode and touches neither a page nor a network.
//
//go:embed runtime.js
var ScriptRuntime string

// Script writes the formula as a JavaScript expression over two names, k and
// v. k is the runtime. v answers for the values, as an [Env] does here:
//
//   - v.value(name) gives a value by name;
//   - v.given(name) says whether it was given, true or false;
//   - v.missing(name) says whether one that was not given is a fact missing;
//   - v.assume(name) is told each missing fact that something stood in for;
//   - v.used(name), where there is one, is told each name whose value is worked with.
//
// A value is a number in base units, a word, an array of values for a list, or
// a gap with its reason in words: {none: why}, {unknown: why}, {failed: why}.
// The expression comes to what [Formula.Eval] comes to, and of a condition to
// true, false or a gap; never to NaN, null or undefined. It throws nothing
// that v does not throw.
//
// The text is plain ASCII but for what stands in the author's own words, holds
// no < outside of escapes, and so may be written into a script file or a
// script element as it is.
func (f *Formula) Script() string {
	s := &scripter{scope: f.scope, index: outside}
	if f.typ.Group == "" {
		return s.piece(f.node, nil)
	}
	each := "k.each(" + s.lists(f.node, nil) + ", " + s.member(f.node, nil) + ")"
	if f.typ.Truth {
		return "k.holds(" + each + ")"
	}
	return each
}

// Outcomes returns the pieces of which the formula comes to one: the outcomes
// of its cases, the last of them that of "else"; the formula itself where it
// has no cases.
func (f *Formula) Outcomes() []Node {
	c, ok := f.node.(*Cases)
	if !ok {
		return []Node{f.node}
	}
	var all []Node
	for _, one := range c.Cases {
		all = append(all, one.Outcome)
	}
	return append(all, c.Else)
}

// ChoiceScript writes a JavaScript expression, as [Formula.Script] does, that
// comes to the place of the outcome that is chosen among [Formula.Outcomes]: of
// a list, to the place for each member. It is "0" where there are no cases.
func (f *Formula) ChoiceScript() string {
	c, ok := f.node.(*Cases)
	if !ok {
		return "0"
	}
	places := &Cases{At: c.At, Cases: make([]Case, len(c.Cases)), Else: &Number{Value: float64(len(c.Cases))}}
	for i, one := range c.Cases {
		places.Cases[i] = Case{Outcome: &Number{Value: float64(i)}, When: one.When}
	}
	s := &scripter{scope: f.scope, index: outside}
	if f.typ.Group == "" {
		return s.piece(places, nil)
	}
	return "k.each(" + s.lists(f.node, nil) + ", " + s.member(places, nil) + ")"
}

// scripter writes a tree as [machine] works it.
type scripter struct {
	scope *Scope
	index string // the name that holds the member being worked, or outside
	names int    // names made so far
}

// outside is the index of a piece that is not one of a list's members.
const outside = "-1"

// scripted is a call of an own function being written; an argument comes to
// the name of the arrow function that works it.
type scripted = callOf[string]

// piece writes an expression or a condition.
func (s *scripter) piece(n Node, f *scripted) string {
	switch n := n.(type) {
	case *Number:
		return jsNumber(n.Value)
	case *Word:
		return jsText(n.Text)
	case *Name:
		return s.name(n, f)
	case *Group:
		return s.piece(n.Inner, f)
	case *Negate:
		return "k.neg(" + s.piece(n.Operand, f) + ")"
	case *Binary:
		return s.binary(n, f)
	case *Call:
		return s.call(n, f)
	case *Cases:
		return s.cases(n, f)
	case *NoneOutcome:
		return "({none: " + jsText(n.Why) + "})"
	case *UnknownOutcome:
		return "({unknown: " + jsText(n.Why) + "})"
	}
	return s.condition(n, f)
}

func (s *scripter) pieces(nodes []Node, f *scripted) string {
	all := make([]string, len(nodes))
	for i, n := range nodes {
		all[i] = s.piece(n, f)
	}
	return "[" + strings.Join(all, ", ") + "]"
}

func (s *scripter) name(n *Name, f *scripted) string {
	if n.Text == "pi" {
		return "Math.PI"
	}
	if a := f.find(n.Text); a != nil {
		return a.value + "(" + s.index + ")"
	}
	if s.index == outside {
		return "k.of(v, " + jsText(n.Text) + ")"
	}
	return "k.of(v, " + jsText(n.Text) + ", " + s.index + ")"
}

var jsOps = map[Op]string{Add: "add", Sub: "sub", Mul: "mul", Div: "div", PowerOf: "pow"}

func (s *scripter) binary(n *Binary, f *scripted) string {
	args := []string{s.piece(n.Left, f), s.piece(n.Right, f), jsText(quote(n))}
	switch n.Op {
	case Div:
		args = append(args, jsText(quote(n.Right)))
	case PowerOf:
		args = append(args, jsText(quote(n.Left)))
	}
	return "k." + jsOps[n.Op] + "(" + strings.Join(args, ", ") + ")"
}

// fresh makes a name that no author can have made and nothing else bears.
func (s *scripter) fresh(letter string) string {
	s.names++
	return letter + strconv.Itoa(s.names)
}

// member writes a piece as an arrow function of the member being worked.
func (s *scripter) member(n Node, f *scripted) string {
	outer := s.index
	s.index = s.fresh("i")
	defer func() { s.index = outer }()
	return s.index + " => " + s.piece(n, f)
}

// lists writes the values among which the runtime finds the list that a piece
// is a member of.
func (s *scripter) lists(n Node, f *scripted) string {
	names := f.reach(s.scope, n)
	for i, name := range names {
		names[i] = "v.value(" + jsText(name) + ")"
	}
	return "[" + strings.Join(names, ", ") + "]"
}

func (s *scripter) cases(n *Cases, f *scripted) string {
	list := make([]string, len(n.Cases))
	for i, c := range n.Cases {
		list[i] = "[() => " + s.piece(c.When, f) + ", () => " + s.piece(c.Outcome, f) + "]"
	}
	return "k.cases([" + strings.Join(list, ", ") + "], () => " + s.piece(n.Else, f) + ")"
}

var jsRelations = map[Relation]string{Less: "below", AtMost: "most", Equal: "equal", AtLeast: "least", Greater: "above"}

func (s *scripter) condition(n Node, f *scripted) string {
	switch n := n.(type) {
	case *And:
		return "k.and(" + s.pieces(n.Tests, f) + ")"
	case *Or:
		return "k.or(" + s.pieces(n.Tests, f) + ")"
	case *Not:
		return "k.not(" + s.piece(n.Test, f) + ")"
	case *Given:
		return "k.given(v, " + jsText(n.Name.Text) + ", " + s.index + ")"
	case *Is:
		return "k.is(" + s.piece(n.Name, f) + ", " + s.piece(n.Value, f) + ")"
	case *Compare:
		return fmt.Sprintf("k.compare(%s, %q, %s)", s.piece(n.Left, f), jsRelations[n.Relation], s.piece(n.Right, f))
	}
	panic(fmt.Sprintf("formula: no script for a %T", n))
}

// jsNumber writes a number so that it is read back to the last bit.
func jsNumber(x float64) string { return strconv.FormatFloat(x+0, 'g', -1, 64) }

// jsText writes a text as a string that is safe in a script file and in a
// script element alike.
func jsText(s string) string {
	b, err := json.Marshal(s) // escapes <, >, & and the line separators too
	if err != nil {
		panic("formula: a text that cannot be written: " + err.Error())
	}
	return string(b)
}
