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

// Script writes the formula as a JavaScript expression over two names: v, an
// object whose value(name) gives a value and whose given(name) says whether it
// was given; and k, the runtime. It comes to what [Formula.Eval] comes to: a
// number in base units, a word, a list, or a gap with its reason; a condition
// comes to true, false or a gap.
//
// The expression holds only letters that mean the same in every script file,
// so that it may be written into one as it is.
func (f *Formula) Script() string {
	s := &scripter{scope: f.scope, index: "-1"}
	if f.typ.Group == "" {
		return s.piece(f.node, nil)
	}
	lists := s.lists(f.node, nil)
	s.index = "i0"
	s.depth = 1
	each := "k.each(" + lists + ", i0 => " + s.piece(f.node, nil) + ")"
	if f.typ.Truth {
		return "k.holds(" + each + ")"
	}
	return each
}

// scripter writes a tree as [machine] works it.
type scripter struct {
	scope *Scope
	index string // the name that holds the member being worked, or -1
	depth int    // of such names
}

// piece writes an expression or a condition.
func (s *scripter) piece(n Node, f *ranged) string {
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

func (s *scripter) name(n *Name, f *ranged) string {
	if n.Text == "pi" {
		return "Math.PI"
	}
	if arg, ok := f.find(n.Text); ok {
		return s.piece(arg, f.caller)
	}
	value := "v.value(" + jsText(n.Text) + ")"
	if s.index == "-1" {
		return value
	}
	return "k.at(" + value + ", " + s.index + ", " + jsText(n.Text) + ")"
}

var jsOps = map[Op]string{Add: "add", Sub: "sub", Mul: "mul", Div: "div", PowerOf: "pow"}

func (s *scripter) binary(n *Binary, f *ranged) string {
	args := []string{s.piece(n.Left, f), s.piece(n.Right, f), jsText(quote(n))}
	switch n.Op {
	case Div:
		args = append(args, jsText(quote(n.Right)))
	case PowerOf:
		args = append(args, jsText(quote(n.Left)))
	}
	return "k." + jsOps[n.Op] + "(" + strings.Join(args, ", ") + ")"
}

func (s *scripter) call(n *Call, f *ranged) string {
	b := builtin(n.Function)
	if b == nil {
		own := s.scope.Functions[n.Function]
		if own.Column != nil {
			return s.column(n, own.Column, f)
		}
		return s.piece(own.Body, &ranged{names: own.Params, args: n.Args, caller: f})
	}
	if b.folds(len(n.Args)) {
		return s.fold(n, b, f)
	}
	args := s.pieces(n.Args, f)
	if b.conditions {
		for i := range args {
			args[i] = "k.truth(" + args[i] + ")"
		}
	}
	return fmt.Sprintf("k.call(%q, [%s], %s, %s)", b.name, strings.Join(args, ", "), jsText(quote(n)), jsText(quote(n.Args[0])))
}

func (s *scripter) pieces(nodes []Node, f *ranged) []string {
	all := make([]string, len(nodes))
	for i, n := range nodes {
		all[i] = s.piece(n, f)
	}
	return all
}

// fold writes a function that makes one value of a list.
func (s *scripter) fold(n *Call, b *function, f *ranged) string {
	lists := s.lists(n.Args[0], f)
	outer := s.index
	s.index = "i" + strconv.Itoa(s.depth)
	s.depth++
	work := s.index + " => " + s.piece(n.Args[0], f)
	s.index = outer
	return fmt.Sprintf("k.fold(%q, %s, %s, %s, %s)", b.name, lists, work, jsText(quote(n)), jsText(quote(n.Args[0])))
}

// lists writes the values among which the runtime finds the list that a piece
// is a member of.
func (s *scripter) lists(n Node, f *ranged) string {
	var names []string
	s.gather(n, f, map[string]bool{}, &names)
	return "[" + strings.Join(names, ", ") + "]"
}

func (s *scripter) gather(n Node, f *ranged, seen map[string]bool, names *[]string) {
	inspect(n, func(n Node) bool {
		switch n := n.(type) {
		case *Name:
			if arg, ok := f.find(n.Text); ok {
				s.gather(arg, f.caller, seen, names)
			} else if n.Text != "pi" && !seen[n.Text] {
				seen[n.Text] = true
				*names = append(*names, "v.value("+jsText(n.Text)+")")
			}
		case *Call:
			if b := builtin(n.Function); b != nil && b.folds(len(n.Args)) {
				return false
			}
			if own := s.scope.Functions[n.Function]; own != nil && own.Body != nil {
				s.gather(own.Body, &ranged{names: own.Params, args: n.Args, caller: f}, seen, names)
			}
		}
		return true
	})
}

// column writes a look-up with its rows beside it: keys are compared as
// numbers and words, never by how a number happens to be written.
func (s *scripter) column(n *Call, c *Column, f *ranged) string {
	rows := make([]string, len(c.Rows))
	for i, r := range c.Rows {
		keys := make([]string, len(r.Keys))
		for j, k := range r.Keys {
			if keys[j] = jsNumber(k.Number); k.Word != "" {
				keys[j] = jsText(k.Word)
			}
		}
		value := jsNumber(r.Value)
		if r.Empty {
			value = "null"
		}
		rows[i] = "[[" + strings.Join(keys, ", ") + "], " + value + ", " + jsText(r.text()) + "]"
	}
	return fmt.Sprintf("k.column(%s, %s, [%s], [%s], %s)", jsText(c.Table), jsText(spaced(c.Name)),
		strings.Join(rows, ", "), strings.Join(s.pieces(n.Args, f), ", "), jsText(quote(n)))
}

func (s *scripter) cases(n *Cases, f *ranged) string {
	list := make([]string, len(n.Cases))
	for i, c := range n.Cases {
		list[i] = "[() => " + s.piece(c.When, f) + ", () => " + s.piece(c.Outcome, f) + "]"
	}
	return "k.cases([" + strings.Join(list, ", ") + "], () => " + s.piece(n.Else, f) + ")"
}

var jsRelations = map[Relation]string{Less: "<", AtMost: "<=", Equal: "=", AtLeast: ">=", Greater: ">"}

func (s *scripter) condition(n Node, f *ranged) string {
	switch n := n.(type) {
	case *And:
		return "k.and([" + strings.Join(s.pieces(n.Tests, f), ", ") + "])"
	case *Or:
		return "k.or([" + strings.Join(s.pieces(n.Tests, f), ", ") + "])"
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

// jsNumber writes a number so that it is read back to the last bit. One below
// nothing is bracketed.
func jsNumber(x float64) string {
	text := strconv.FormatFloat(x+0, 'g', -1, 64)
	if x < 0 {
		return "(" + text + ")"
	}
	return text
}

// jsText writes a text as a string that is safe in a script file and in a
// script element alike.
func jsText(s string) string {
	b, err := json.Marshal(s) // escapes <, >, & and the line separators too
	if err != nil {
		panic("formula: a text that cannot be written: " + err.Error())
	}
	return string(b)
}
