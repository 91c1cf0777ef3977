package formula

// Truth answers a condition with the values of an environment, and says why
// where it cannot be told. Over a list it is false if it is false for one
// member, else untold if it is for one.
func (f *Formula) Truth(e Env) (truth Truth, why string) {
	a := f.Answer(e)
	return a.Truth, a.Why
}

// Answer answers a condition as [Formula.Truth] does, and also says what the
// answer rests on, and what could not be worked.
func (f *Formula) Answer(e Env) Answer {
	m := f.machine(e)
	n := -1
	if f.typ.Group != "" {
		n = m.length(f.node, nil)
	}
	if n < 0 {
		return m.answer(f.node, nil)
	}
	all := Answer{Truth: True}
	for i := range n {
		m.member = i
		all = both(all, m.answer(f.node, nil))
	}
	return all
}

// BarredBy reports whether what one value is alone keeps a condition from surely
// holding: of the tests that it joins by `and`, one of what that value is does
// not hold. It never is where the condition holds.
func (f *Formula) BarredBy(name string, e Env) bool {
	tests := []Node{f.node}
	if and, ok := f.node.(*And); ok {
		tests = and.Tests
	}
	if f.typ.Group != "" {
		return false
	}
	m := f.machine(e)
	for _, t := range tests {
		if is, ok := t.(*Is); ok && is.Name.Text == name && m.is(is, nil).Truth != True {
			return true
		}
	}
	return false
}

// both is true when two answers are: false if one is, else untold if one is.
// What could not be worked is told before what is not known.
func both(a, b Answer) Answer {
	assumed := union(a.Assumed, b.Assumed)
	switch {
	case a.Truth == False || b.Truth == True:
	case b.Truth == False || a.Truth == True:
		a = b
	case a.Fault == nil && b.Fault != nil:
		a = b
	}
	a.Assumed = assumed
	return a
}

func (a Answer) not() Answer {
	switch a.Truth {
	case True:
		a.Truth = False
	case False:
		a.Truth = True
	}
	return a
}

// answer works one condition.
func (m *machine) answer(n Node, f *frame) Answer {
	switch n := n.(type) {
	case *And:
		all := Answer{Truth: True}
		for _, t := range n.Tests {
			all = both(all, m.answer(t, f))
		}
		return all
	case *Or:
		none := Answer{Truth: True}
		for _, t := range n.Tests {
			none = both(none, m.answer(t, f).not())
		}
		return none.not()
	case *Not:
		return m.answer(n.Test, f).not()
	case *Given:
		return m.given(n.Name.Text)
	case *Is:
		return m.is(n, f)
	case *Compare:
		l, r := m.value(n.Left, f), m.value(n.Right, f)
		return told(worse(l, r), func() bool { return m.compare(n.Relation, l, r) })
	}
	panic("formula: a node that is no condition")
}

// told answers a test of a value: untold where there is no value.
func told(v Value, test func() bool) Answer {
	a := Answer{Truth: Untold, Why: v.Why, Assumed: v.Assumed}
	switch v.State {
	case Failed:
		a.Fault, a.Why = v.Fault, v.Fault.Message
	case Known:
		a.Truth = False
		if test() {
			a.Truth = True
		}
	}
	return a
}

// compare compares two known numbers.
func (m *machine) compare(how Relation, l, r Value) bool {
	holds := how.holds(l.Number, r.Number)
	m.notes.compared(how, l, r, holds)
	return holds
}

func (m *machine) is(n *Is, f *frame) Answer {
	v := m.value(n.Name, f)
	return told(v, func() bool {
		if w, ok := n.Value.(*Word); ok {
			return v.Word == w.Text
		}
		return m.compare(Equal, v, m.value(n.Value, f))
	})
}

// given answers whether a value was given. Where it was not, and is a fact
// that is missing, whatever is chosen then stands in for it.
func (m *machine) given(name string) Answer {
	gap := false
	if v := m.env.Value(name); m.member != whole && m.member < len(v.List) {
		gap = v.List[m.member].State == Unknown
	}
	switch {
	case gap, !m.env.Given(name) && m.env.Missing(name):
		return Answer{Truth: False, Assumed: []string{name}}
	case m.env.Given(name):
		return Answer{Truth: True}
	}
	return Answer{Truth: False}
}
