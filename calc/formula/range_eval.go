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

// ranged is a call of an own function being ranged.
type ranged = callOf[Range]

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
		return RangeOf(NoValue(n.Why))
	case *UnknownOutcome:
		return RangeOf(CannotTell(n.Why))
	case *Word:
		return WordsAmong(n.Text)
	}
	return r.answers(n, f).asRange()
}

func (r *ranger) name(n *Name, f *ranged) Range {
	if n.Text == "pi" {
		return Between(math.Pi, higher(math.Pi))
	}
	if a := f.find(n.Text); a != nil {
		if !a.done || a.member != r.member {
			a.value, a.done, a.member = r.of(a.node, a.caller), true, r.member
		}
		return a.value
	}
	x := r.env.Range(n.Text)
	if x.List != nil && r.member != whole {
		x = x.pick(r.member)
	}
	if !x.Empty() && !x.span().bounded() {
		x.Failed = true
	}
	return x
}

// pick returns the member of a list that is being ranged; one that is not
// there fails.
func (r Range) pick(member int) Range {
	if member < len(r.List) {
		return r.List[member].carrying(r)
	}
	missing := noRange
	missing.Failed = true
	return missing
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
	return r.of(own.Body, called(own, n, f))
}

func (r *ranger) builtin(n *Call, b *function, f *ranged) Range {
	if !b.folds(len(n.Args)) {
		args := make([]Range, len(n.Args))
		for i, a := range n.Args {
			args[i] = r.of(a, f)
		}
		return ranges(b, args)
	}
	args, list := r.members(n.Args[0], f)
	switch {
	case list && b.rule == countRule:
		return RangeOf(Quantity(float64(len(args))))
	case len(args) == 0 && b.rule == equalRule:
		return RangeOf(NoValue(""))
	}
	return ranges(b, args)
}

// ranges is the range of a built-in function over the ranges of its
// arguments.
func ranges(b *function, args []Range) Range {
	spans := make([]span, len(args))
	for i, a := range args {
		if a.Empty() {
			return noRange.carrying(args...)
		}
		spans[i] = a.span()
	}
	y, fails := rangeFaces[b.name].over(spans)
	x := y.asRange().carrying(args...)
	x.Failed = x.Failed || fails
	return x
}

// members ranges an argument for each member of the list that it is one of;
// where no list can be seen, the argument as it is.
func (r *ranger) members(arg Node, f *ranged) (members []Range, list bool) {
	outer := r.member
	defer func() { r.member = outer }()
	length := r.length(arg, f)
	if length < 0 {
		r.member = whole
		return []Range{r.of(arg, f)}, false
	}
	members = make([]Range, length)
	for i := range members {
		r.member = i
		members[i] = r.of(arg, f)
	}
	return members, true
}

// length is how many members the list has that a piece is one of, -1 for none.
func (r *ranger) length(n Node, f *ranged) int {
	length := -1
	for _, name := range f.reach(r.scope, n) {
		if list := r.env.Range(name).List; list != nil {
			length = max(length, len(list))
		}
	}
	return length
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
