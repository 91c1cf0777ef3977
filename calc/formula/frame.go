package formula

import "slices"

// callOf is a call of an own function while its body is walked: what its
// parameters stand for. Evaluation, ranges and scripts each walk with their
// own V, what an argument comes to.
type callOf[V any] struct {
	names []string
	args  []argumentOf[V]
}

// argumentOf is worked when it is first asked for, in the frame of the call,
// for the member that is then being worked; and only once, so that functions
// within functions cost no more than their pieces.
type argumentOf[V any] struct {
	node    Node
	caller  *callOf[V]
	done    bool
	member  int
	value   V
	reached bool
	reach   []string
}

func called[V any](own *Function, n *Call, caller *callOf[V]) *callOf[V] {
	c := &callOf[V]{names: own.Params, args: make([]argumentOf[V], len(n.Args))}
	for i, a := range n.Args {
		c.args[i] = argumentOf[V]{node: a, caller: caller}
	}
	return c
}

func (c *callOf[V]) find(name string) *argumentOf[V] {
	if c == nil {
		return nil
	}
	if i := slices.Index(c.names, name); i >= 0 {
		return &c.args[i]
	}
	return nil
}

// reach returns the names of the values that a piece rests on, each once: if
// one of them is a list, the piece is worked for each member of it. What sum,
// count, min and max make one value of is passed over.
func (c *callOf[V]) reach(s *Scope, n Node) []string {
	return reach(s, n, func(name string) ([]string, bool) {
		a := c.find(name)
		if a == nil {
			return nil, false
		}
		if !a.reached {
			a.reach, a.reached = a.caller.reach(s, a.node), true
		}
		return a.reach, true
	})
}

// reach asks param for what a parameter reaches.
func reach(s *Scope, n Node, param func(name string) (names []string, ok bool)) []string {
	var names []string
	inspect(n, func(n Node) bool {
		switch n := n.(type) {
		case *Name:
			if through, ok := param(n.Text); ok {
				names = merged(names, through)
			} else if n.Text != "pi" {
				names = merged(names, []string{n.Text})
			}
		case *Call:
			if b := builtin(n.Function); b != nil {
				return !b.folds(len(n.Args))
			}
			own := s.Functions[n.Function]
			if own.Body == nil {
				return true
			}
			args := make([][]string, len(n.Args))
			for i, a := range n.Args {
				args[i] = reach(s, a, param)
				names = merged(names, args[i])
			}
			names = merged(names, reach(s, own.Body, func(name string) ([]string, bool) {
				if i := slices.Index(own.Params, name); i >= 0 {
					return args[i], true
				}
				return nil, false
			}))
			return false
		}
		return true
	})
	return names
}
