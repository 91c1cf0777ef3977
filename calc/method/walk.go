package method

import "bindpost/calc/formula"

// calls returns the names of the functions that a tree calls, in order.
func calls(n formula.Node) []string {
	var names []string
	formula.Walk(n, func(n formula.Node) {
		if c, ok := n.(*formula.Call); ok {
			names = append(names, c.Function)
		}
	})
	return names
}
