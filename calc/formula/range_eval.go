package formula

import "math"

// Range returns every value that the formula may take while the values it
// rests on move within the ranges of an environment. A formula whose type has
// a list group gives a list of ranges, one for each member.
func (f *Formula) Range(e RangeEnv) Range {
	r := &ranger{scope: f.scope, env: e, member: whole}
	n := -1
	if f.typ.Group != "" {
		n = r.length(f.node, nil)
	}
	if n < 0 {
		return r.of(f.node, nil)
	}
	list := noRange
	list.List = make([]Range, n)
	for i := range list.List {
		r.member = i
		list.List[i] = r.of(f.node, nil)
	}
	return list
}

// Answers returns every answer that a condition may have while the values it
// rests on move within the ranges of an environment.
func (f *Formula) Answers(e RangeEnv) Answers {
	r := &ranger{scope: f.scope, env: e, member: whole}
	n := -1
	if f.typ.Group != "" {
		n = r.length(f.node, nil)
	}
	if n < 0 {
		return r.answers(f.node, nil)
	}
	all := Answers{True: true}
	for i := range n {
		r.member = i
		all = all.and(r.answers(f.node, nil))
	}
	return all
}

// ranger walks a tree as [machine] does, with ranges in the place of values.
type ranger struct {
	scope  *Scope
	env    RangeEnv
	member int
}

// ranged holds the arguments of a call of an own function as pieces of the
// caller, since an argument that is a list is ranged for the member at hand.
type ranged struct {
	names  []string
	args   []Node
	caller *ranged
}

func (f *ranged) find(name string) (Node, bool) {
	if f == nil {
		return nil, false
	}
	for i, n := range f.names {
		if n == name {
			return f.args[i], true
		}
	}
	return nil, false
}

// of returns the range of one piece.
func (r *ranger) of(n Node, f *ranged) Range {
	switch n := n.(type) {
	case *Number:
		return Between(n.Value, n.Value)
	case *Name:
		return r.name(n, f)
	case *Group:
		return r.of(n.Inner, f)
	case *Negate:
		x := r.of(n.Operand, f)
		return x.span().negated().asRange().carrying(x)
	case *Binary:
		return r.binary(n, f)
	case *Call:
		return r.call(n, f)
	case *Cases:
		return r.cases(n, f)
	case *NoneOutcome:
		none := noRange
		none.None = true
		return none
	case *UnknownOutcome:
		unknown := noRange
		unknown.Unknown = true
		return unknown
	case *Word:
		return WordsAmong(n.Text)
	}
	return r.answers(n, f).asRange()
}

func (r *ranger) name(n *Name, f *ranged) Range {
	if n.Text == "pi" {
		return Between(math.Pi, higher(math.Pi))
	}
	if arg, ok := f.find(n.Text); ok {
		return r.of(arg, f.caller)
	}
	x := r.env.Range(n.Text)
	if x.List == nil || r.member == whole {
		return x
	}
	if r.member >= len(x.List) {
		failed := noRange
		failed.Failed = true
		return failed
	}
	return x.List[r.member].carrying(Range{None: x.None, Unknown: x.Unknown, Failed: x.Failed})
}

func (r *ranger) binary(n *Binary, f *ranged) Range {
	l, right := r.of(n.Left, f), r.of(n.Right, f)
	if l.Empty() || right.Empty() {
		return noRange.carrying(l, right)
	}
	y, fails := operated(n.Op, l.span(), right.span())
	x := y.asRange().carrying(l, right)
	x.Failed = x.Failed || fails
	return x
}

// operated is the span of one operation, and whether it may fail.
func operated(op Op, l, r span) (y span, fails bool) {
	switch op {
	case Add:
		return l.plus(r), false
	case Sub:
		return l.minus(r), false
	case Mul:
		return l.times(r), false
	case Div:
		return l.over(r), r.holds(0)
	}
	return l.raised(r)
}

func (r *ranger) call(n *Call, f *ranged) Range {
	if b := builtin(n.Function); b != nil {
		return r.builtin(n, b, f)
	}
	own := r.scope.Functions[n.Function]
	if own.Column != nil {
		return r.lookUp(n, own.Column, f)
	}
	return r.of(own.Body, &ranged{names: own.Params, args: n.Args, caller: f})
}

func (r *ranger) builtin(n *Call, b *function, f *ranged) Range {
	var args []Range
	if b.folds(len(n.Args)) {
		args = r.members(n.Args[0], f)
		if b.rule == countRule {
			return Between(float64(len(args)), float64(len(args)))
		}
		if len(args) == 0 && b.rule == equalRule {
			none := noRange
			none.None = true
			return none
		}
	} else {
		for _, a := range n.Args {
			args = append(args, r.of(a, f))
		}
	}
	spans := make([]span, len(args))
	possible := true
	for i, a := range args {
		spans[i] = a.span()
		possible = possible && !a.Empty()
	}
	if !possible {
		return noRange.carrying(args...)
	}
	y, fails := rangeFaces[b.name].over(spans)
	x := y.asRange().carrying(args...)
	x.Failed = x.Failed || fails
	return x
}

// members ranges an argument for each member of the list that it is one of.
func (r *ranger) members(arg Node, f *ranged) []Range {
	outer := r.member
	defer func() { r.member = outer }()
	length := r.length(arg, f)
	if length < 0 {
		r.member = whole
		return []Range{r.of(arg, f)}
	}
	members := make([]Range, length)
	for i := range members {
		r.member = i
		members[i] = r.of(arg, f)
	}
	return members
}

// length is how many members the list has that a piece is one of, -1 for none.
func (r *ranger) length(n Node, f *ranged) int {
	length := -1
	inspect(n, func(n Node) bool {
		switch n := n.(type) {
		case *Name:
			if arg, ok := f.find(n.Text); ok {
				length = max(length, r.length(arg, f.caller))
			} else if n.Text != "pi" {
				if list := r.env.Range(n.Text).List; list != nil {
					length = max(length, len(list))
				}
			}
		case *Call:
			if b := builtin(n.Function); b != nil && b.folds(len(n.Args)) {
				return false
			}
			if own := r.scope.Functions[n.Function]; own != nil && own.Body != nil {
				length = max(length, r.length(own.Body, &ranged{names: own.Params, args: n.Args, caller: f}))
			}
		}
		return true
	})
	return length
}

// lookUp joins the cells of every row whose keys are possible. Where a key may
// also be something that no row has, the look-up may fail.
func (r *ranger) lookUp(n *Call, col *Column, f *ranged) Range {
	args := make([]Range, len(n.Args))
	for i, a := range n.Args {
		args[i] = r.of(a, f)
	}
	found := noRange
	for _, row := range col.Rows {
		switch {
		case !row.possible(args):
		case row.Empty:
			found.Unknown = true
		default:
			found = found.Join(Between(row.Value, row.Value))
		}
	}
	found = found.carrying(args...)
	for i, a := range args {
		found.Failed = found.Failed || !col.covers(i, a)
	}
	return found
}

func (r Row) possible(args []Range) bool {
	for i, k := range r.Keys {
		if !k.possible(args[i]) {
			return false
		}
	}
	return true
}

func (k Key) possible(x Range) bool {
	if k.Word != "" {
		return x.Holds(WordOf(k.Word))
	}
	for _, only := range x.Only {
		if same(only, k.Number) {
			return true
		}
	}
	return x.Only == nil && !x.Empty() && (x.span().holds(k.Number) || same(x.Lo, k.Number) || same(x.Hi, k.Number))
}

// covers reports whether every value that key i may have stands in some row
// with the others; a table whose rows do not make a whole grid counts as not
// covering.
func (c *Column) covers(i int, x Range) bool {
	grid := 1
	for key := range c.Keys {
		grid *= len(c.distinct(key))
	}
	if grid != len(c.Rows) {
		return x.point() && len(c.Keys) == 1 && c.has(i, x)
	}
	for _, word := range x.Words {
		if !c.has(i, WordsAmong(word)) {
			return false
		}
	}
	numbers, told := x.numbers()
	for _, number := range numbers {
		if !c.has(i, Between(number, number)) {
			return false
		}
	}
	return told
}

// point reports whether only one value is possible.
func (r Range) point() bool {
	return len(r.Words) == 1 && r.Empty() || len(r.Words) == 0 && r.Lo == r.Hi
}

func (c *Column) has(i int, x Range) bool {
	for _, row := range c.Rows {
		if row.Keys[i].possible(x) {
			return true
		}
	}
	return false
}

// distinct returns the keys that stand in one key column, each once.
func (c *Column) distinct(i int) []Key {
	var keys []Key
	for _, row := range c.Rows {
		k := row.Keys[i]
		seen := false
		for _, other := range keys {
			seen = seen || other.Word == k.Word && other.Number == k.Number
		}
		if !seen {
			keys = append(keys, k)
		}
	}
	return keys
}

// cases joins the outcomes that may be chosen. A condition that may not be
// told makes the value unknown, or failed, from there on.
func (r *ranger) cases(n *Cases, f *ranged) Range {
	chosen := noRange
	for _, c := range n.Cases {
		a := r.answers(c.When, f)
		chosen.Unknown = chosen.Unknown || a.Unknown
		chosen.Failed = chosen.Failed || a.Failed
		if a.True {
			chosen = chosen.Join(r.of(c.Outcome, f))
		}
		if !a.False {
			return chosen
		}
	}
	return chosen.Join(r.of(n.Else, f))
}
