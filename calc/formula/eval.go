package formula

import "math"

// Eval works the formula with the values of an environment. Nothing is rounded
// on the way. A formula whose type has a list group gives a list, each member
// worked by itself; where the list itself is missing, the one value says so.
// What cannot be worked is Failed, with a fault at the piece that failed. The
// value of a condition is a truth: use [Formula.Answer].
func (f *Formula) Eval(e Env) Value {
	m := f.machine(e)
	if f.typ.Group == "" {
		return m.value(f.node, nil)
	}
	n := m.length(f.node, nil)
	if n < 0 {
		return m.value(f.node, nil)
	}
	list := Value{List: make([]Value, n)}
	for i := range list.List {
		m.member = i
		list.List[i] = m.value(f.node, nil)
		list.Assumed = union(list.Assumed, list.List[i].Assumed)
	}
	return list
}

// Chosen returns the outcome that the formula's cases come to with the values
// of an environment: the node itself where there are no cases or where the
// members of a list differ, and nil where it cannot be told.
func (f *Formula) Chosen(e Env) Node {
	c, ok := f.node.(*Cases)
	if !ok {
		return f.node
	}
	m := f.machine(e)
	n := m.length(f.node, nil)
	if n <= 0 || f.typ.Group == "" {
		chosen, _ := m.choose(c, nil)
		return chosen
	}
	var first Node
	for i := range n {
		m.member = i
		chosen, _ := m.choose(c, nil)
		if i > 0 && chosen != first {
			return f.node
		}
		first = chosen
	}
	return first
}

// whole is the member of a machine that works a formula once, and not for a
// member of a list.
const whole = -1

// machine works a tree. It holds where it is, and so serves one evaluation.
type machine struct {
	scope  *Scope
	env    Env
	member int // of the list being worked, or whole
	notes  *Notes
}

func (f *Formula) machine(e Env) machine {
	return machine{scope: f.scope, env: e, member: whole, notes: notesOf(e)}
}

// constant is a number that is the same at any values.
func (m *machine) constant(x float64) Value {
	v := Quantity(x)
	v.register = m.notes.constant(v.Number)
	return v
}

// frame is a call of an own function being worked.
type frame = callOf[Value]

// value works one piece.
func (m *machine) value(n Node, f *frame) Value {
	switch n := n.(type) {
	case *Number:
		return m.constant(n.Value)
	case *Name:
		return m.name(n, f)
	case *Group:
		return m.value(n.Inner, f)
	case *Negate:
		v := m.value(n.Operand, f)
		v.Number = -v.Number + 0
		v.register = m.notes.negated(v)
		return v
	case *Binary:
		return m.binary(n, f)
	case *Call:
		return m.call(n, f)
	case *Cases:
		return m.cases(n, f)
	case *NoneOutcome:
		return NoValue(n.Why)
	case *UnknownOutcome:
		return CannotTell(n.Why)
	case *Word:
		return WordOf(n.Text)
	}
	return m.truth(n, f)
}

// truth is a condition as a number: 1 for true, 0 for false.
func (m *machine) truth(n Node, f *frame) Value {
	switch a := m.answer(n, f); {
	case a.Fault != nil:
		return FailedAt(a.Fault).with(a.Assumed)
	case a.Truth == Untold:
		return CannotTell(a.Why).with(a.Assumed)
	default:
		return m.constant(float64(a.Truth)).with(a.Assumed)
	}
}

func (m *machine) name(n *Name, f *frame) Value {
	if n.Text == "pi" {
		return m.constant(math.Pi)
	}
	if a := f.find(n.Text); a != nil {
		if !a.done || a.member != m.member {
			a.value, a.done, a.member = m.value(a.node, a.caller), true, m.member
		}
		return a.value
	}
	v := m.env.Value(n.Text)
	if v.List != nil && m.member != whole {
		v = m.pick(n, v)
	}
	if v.State == Known && (math.IsNaN(v.Number) || math.IsInf(v.Number, 0)) {
		return m.failed(n, "%q is no number that can be worked with", quote(n))
	}
	return v
}

// pick returns the member of a list that is being worked.
func (m *machine) pick(n *Name, list Value) Value {
	if m.member >= len(list.List) {
		return m.failed(n, "%q has only %d members, fewer than the list beside it", quote(n), len(list.List))
	}
	return list.List[m.member].with(list.Assumed)
}

// length returns how many members the list has that a piece is one of, and -1
// where no list can be seen.
func (m *machine) length(n Node, f *frame) int {
	length := -1
	for _, name := range f.reach(m.scope, n) {
		length = max(length, m.members(name))
	}
	return length
}

func (m *machine) members(name string) int {
	if v := m.env.Value(name); v.List != nil {
		return len(v.List)
	}
	return -1
}

func (m *machine) cases(n *Cases, f *frame) Value {
	chosen, told := m.choose(n, f)
	switch {
	case told.Fault != nil:
		return FailedAt(told.Fault).with(told.Assumed)
	case chosen == nil:
		return CannotTell(told.Why).with(told.Assumed)
	}
	return m.value(chosen, f).with(told.Assumed)
}

// choose returns the first outcome whose condition is true, if all before it
// are surely false; nil where one before it cannot be told, with the answer
// that stands in the way. The answer's Assumed holds what the choice rests on.
func (m *machine) choose(n *Cases, f *frame) (Node, Answer) {
	rests := Answer{}
	for _, c := range n.Cases {
		a := m.answer(c.When, f)
		rests.Assumed = union(rests.Assumed, a.Assumed)
		switch a.Truth {
		case True:
			return c.Outcome, rests
		case Untold:
			a.Assumed = rests.Assumed
			return nil, a
		}
	}
	return n.Else, rests
}
