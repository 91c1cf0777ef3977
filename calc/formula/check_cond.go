package formula

import (
	"slices"

	"bindpost/calc/fault"
)

// condition types a condition; each of its tests may be one for each member
// of a list, all of the same list.
func (c *checker) condition(n Node) Type {
	switch n := n.(type) {
	case *And:
		return c.tests(n.Tests)
	case *Or:
		return c.tests(n.Tests)
	case *Not:
		return c.of(n.Test)
	case *Given:
		return c.given(n)
	case *Is:
		return c.is(n)
	case *Compare:
		return c.compare(n)
	}
	panic("formula: a node that the check does not know")
}

func (c *checker) tests(tests []Node) Type {
	group, broken := "", false
	for _, n := range tests {
		t := c.of(n)
		broken = broken || t.Broken
		group = c.together(n, group, t)
	}
	if broken {
		return Broken
	}
	return Type{Truth: true, Group: group}
}

func (c *checker) given(n *Given) Type {
	t := c.of(n.Name)
	if t.Broken && !c.isParam(n.Name.Text) {
		return Broken
	}
	if !c.scope.Values[n.Name.Text].Missing || c.isParam(n.Name.Text) {
		return c.tell(fault.At(n.Place(), "%q is always there, and need not be asked for", clip(n.Name.Text)).
			Want("`is given` only of a value that may be missing"))
	}
	return Type{Truth: true, Group: t.Group}
}

func (c *checker) isParam(name string) bool {
	_, ok := c.params[name]
	return ok
}

func (c *checker) is(n *Is) Type {
	t := c.of(n.Name)
	truth := Type{Truth: true, Group: t.Group}
	switch v := n.Value.(type) {
	case *Number:
		return c.isNumber(n, v, t, truth)
	case *Word:
		switch {
		case t.loose():
			return Broken
		case t.Words == nil:
			f := fault.At(n.Place(), "%q is %s, and no choice", clip(n.Name.Text), t).
				Want("a relation").Fix("%s = %s", clip(n.Name.Text), t.Kind.Example())
			if mistyped(v.Text) == "given" {
				f.Want("a relation, or `is given`").Fix("%s is given", clip(n.Name.Text))
			}
			return c.tell(f)
		case c.choice(v.Text, v.Place(), t.Words).Broken:
			return Broken
		}
	}
	return truth
}

func (c *checker) isNumber(n *Is, v *Number, t, truth Type) Type {
	switch got := Of(v.Unit.Kind()); {
	case t.loose():
		return Broken
	case t.Words != nil:
		return c.tell(fault.At(v.Place(), "%q is %s, and no number", clip(n.Name.Text), t).Want("%s", either(t.Words)))
	case got.Kind != t.Kind:
		return c.tell(c.unlike(v, got, n.Name, t))
	}
	return truth
}

// choice types a word of a choice, and tells one that it does not have.
func (c *checker) choice(word string, at fault.Place, words []string) Type {
	if slices.Contains(words, word) {
		return Type{Words: words}
	}
	f := fault.At(at, "%q is no word of this choice", clip(word)).Want("one of: %s", list(words))
	if near := fault.Near(word, words); near != "" {
		f.Fix("%s", near)
	}
	return c.tell(f)
}

func (c *checker) compare(n *Compare) Type {
	if f := c.wordCompared(n); f != nil {
		return c.tell(f)
	}
	l, r := c.of(n.Left), c.of(n.Right)
	if l.loose() || r.loose() {
		return Broken
	}
	group := c.together(n.Right, l.Group, r)
	if left, right := c.number(n.Left, l), c.number(n.Right, r); !left || !right {
		return Broken
	}
	if l.Kind == r.Kind {
		return Type{Truth: true, Group: group}
	}
	if bare(n.Left) && !bare(n.Right) {
		return c.tell(c.unlike(n.Left, l, n.Right, r))
	}
	return c.tell(c.unlike(n.Right, r, n.Left, l))
}

// wordCompared is the fault of a choice that is compared with a sign.
func (c *checker) wordCompared(n *Compare) *fault.Fault {
	left, ok := n.Left.(*Name)
	right, ok2 := n.Right.(*Name)
	if !ok || !ok2 || c.known(right.Text) {
		return nil
	}
	words := c.scope.Values[left.Text].Type.Words
	if !slices.Contains(words, right.Text) {
		return nil
	}
	return fault.At(n.Place(), "a choice is asked for with `is`").Fix("%s is %s", clip(left.Text), clip(right.Text))
}
