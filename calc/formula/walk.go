package formula

// inspect calls visit for a piece and all pieces in it, outermost first. The
// pieces inside one for which visit returns false are passed over.
func inspect(n Node, visit func(Node) bool) {
	if n == nil || !visit(n) {
		return
	}
	for _, inner := range parts(n) {
		inspect(inner, visit)
	}
}

// parts returns the pieces of a piece, in the order in which they are written.
func parts(n Node) []Node {
	switch n := n.(type) {
	case *Call:
		return n.Args
	case *Binary:
		return []Node{n.Left, n.Right}
	case *Negate:
		return []Node{n.Operand}
	case *Group:
		return []Node{n.Inner}
	case *Cases:
		var all []Node
		for _, c := range n.Cases {
			all = append(all, c.Outcome, c.When)
		}
		return append(all, n.Else)
	case *And:
		return n.Tests
	case *Or:
		return n.Tests
	case *Not:
		return []Node{n.Test}
	case *Given:
		return []Node{n.Name}
	case *Is:
		return []Node{n.Name, n.Value}
	case *Compare:
		return []Node{n.Left, n.Right}
	}
	return nil
}

// Calls returns the names of the functions that a tree calls, in the order in
// which they are written.
func Calls(n Node) []string {
	var names []string
	inspect(n, func(n Node) bool {
		if c, ok := n.(*Call); ok {
			names = append(names, c.Function)
		}
		return true
	})
	return names
}

// Names returns the names of the values in a tree, in the order in which they
// are written.
func Names(n Node) []string {
	var names []string
	inspect(n, func(n Node) bool {
		if v, ok := n.(*Name); ok {
			names = append(names, v.Text)
		}
		return true
	})
	return names
}

// Numbers returns the numbers in a tree, in the order in which they are
// written.
func Numbers(n Node) []*Number {
	var numbers []*Number
	inspect(n, func(n Node) bool {
		if v, ok := n.(*Number); ok {
			numbers = append(numbers, v)
		}
		return true
	})
	return numbers
}

// Reasons returns where a tree keeps in words why there is no value, or why it
// cannot be told, in the order in which they are written.
func Reasons(n Node) []*string {
	var reasons []*string
	inspect(n, func(n Node) bool {
		switch n := n.(type) {
		case *NoneOutcome:
			reasons = append(reasons, &n.Why)
		case *UnknownOutcome:
			reasons = append(reasons, &n.Why)
		}
		return true
	})
	return reasons
}
