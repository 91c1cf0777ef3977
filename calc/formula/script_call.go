package formula

import (
	"fmt"
	"strings"
)

func (s *scripter) call(n *Call, f *scripted) string {
	b := builtin(n.Function)
	if b == nil {
		own := s.scope.Functions[n.Function]
		if own.Column != nil {
			return s.column(n, own.Column, f)
		}
		return s.own(n, own, f)
	}
	what, arg := jsText(quote(n)), jsText(quote(n.Args[0]))
	switch {
	case b.folds(len(n.Args)):
		return fmt.Sprintf("k.fold(%q, %s, %s, %s, %s)", b.name, s.lists(n.Args[0], f), s.member(n.Args[0], f), what, arg)
	case b.conditions:
		return fmt.Sprintf("k.call(%q, k.truths(%s), %s, %s)", b.name, s.pieces(n.Args, f), what, arg)
	}
	return fmt.Sprintf("k.call(%q, %s, %s, %s)", b.name, s.pieces(n.Args, f), what, arg)
}

// own writes the body of an own function in place, as a function of its
// arguments. An argument is itself a function of the member being worked, and
// is worked when it is asked for, once.
func (s *scripter) own(n *Call, own *Function, caller *scripted) string {
	f := called(own, n, caller)
	params, args := make([]string, len(f.args)), make([]string, len(f.args))
	for i := range f.args {
		args[i] = "k.once(" + s.member(n.Args[i], caller) + ")"
		params[i] = s.fresh("p")
		f.args[i].value = params[i]
	}
	return "((" + strings.Join(params, ", ") + ") => " + s.piece(own.Body, f) + ")(" + strings.Join(args, ", ") + ")"
}

// column writes a look-up with its rows beside it: keys are compared as
// numbers and words, never by how a number happens to be written.
func (s *scripter) column(n *Call, c *Column, f *scripted) string {
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
			value = "{unknown: " + jsText(c.emptyCell(r)) + "}"
		}
		rows[i] = "[[" + strings.Join(keys, ", ") + "], " + value + "]"
	}
	texts := make([]string, len(n.Args))
	for i, a := range n.Args {
		texts[i] = jsText(quote(a))
	}
	return fmt.Sprintf("k.column(%s, [%s], %s, [%s])", jsText(c.Table), strings.Join(rows, ", "),
		s.pieces(n.Args, f), strings.Join(texts, ", "))
}
