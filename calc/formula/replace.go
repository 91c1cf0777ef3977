package formula

// Replaced returns a piece with other nodes in the place of its numbers, all
// but those of its conditions; where with gives nil, the number stays. The
// piece itself is left as it is.
func Replaced(n Node, with func(*Number) Node) Node {
	again := func(n Node) Node { return Replaced(n, with) }
	switch n := n.(type) {
	case *Number:
		if other := with(n); other != nil {
			return other
		}
	case *Call:
		c := *n
		c.Args = make([]Node, len(n.Args))
		for i, arg := range n.Args {
			c.Args[i] = again(arg)
		}
		return &c
	case *Binary:
		c := *n
		c.Left, c.Right = again(n.Left), again(n.Right)
		return &c
	case *Negate:
		c := *n
		c.Operand = again(n.Operand)
		return &c
	case *Group:
		c := *n
		c.Inner = again(n.Inner)
		return &c
	case *Cases:
		c := *n
		c.Cases = make([]Case, len(n.Cases))
		for i, one := range n.Cases {
			c.Cases[i] = Case{Outcome: again(one.Outcome), When: one.When}
		}
		c.Else = again(n.Else)
		return &c
	}
	return n
}

// Scaled returns a piece times a number, in brackets where it is a sum.
func Scaled(n Node, by *Number) Node {
	sum, isBinary := n.(*Binary)
	_, isNegated := n.(*Negate)
	if isNegated || isBinary && (sum.Op == Add || sum.Op == Sub) {
		n = &Group{At: At{n.Place()}, Inner: n}
	}
	return &Binary{At: At{n.Place()}, Op: Mul, Mark: n.Place(), Left: n, Right: by}
}
