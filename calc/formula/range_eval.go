package formula

import "math"

// Range returns every value that the formula may take while the values it
// rests on move within the ranges of an environment. A formula whose type has
// a list group gives a list of ranges, one for each member.
func (f *Formula) Range(e RangeEnv) Range {
	return f.bend(&ranger{scope: f.scope, env: e, member: whole}).Range
}

// Answers returns every answer that a condition may have while the values it
// rests on move within the ranges of an environment.
func (f *Formula) Answers(e RangeEnv) Answers {
	r := &ranger{scope: f.scope, env: e, member: whole}
	n := r.members(f)
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

// ranger walks a tree as [machine] does, with ranges in the place of values,
// and with the slopes of what it finds where somebody asked for them.
type ranger struct {
	scope  *Scope
	env    RangeEnv
	bends  BendEnv // nil where no slopes are asked for
	member int
}

// bent is a range on the way, with its slopes.
type bent struct {
	Range
	slopes []span // by moving value, and behind these the stray; nil where none of them moves it
	rough  bool   // it may jump
	form   *form  // nil where it has none
}

// ranged is a call of an own function being ranged.
type ranged = callOf[bent]

// members is how many members a formula's list has, -1 where it is none.
func (r *ranger) members(f *Formula) int {
	if f.typ.Group == "" {
		return -1
	}
	return r.length(f.node, nil)
}

// of returns the range of one piece.
func (r *ranger) of(n Node, f *ranged) bent {
	switch n := n.(type) {
	case *Number:
		return bent{Range: Between(n.Value, n.Value)}
	case *Name:
		return r.name(n, f)
	case *Group:
		return r.of(n.Inner, f)
	case *Negate:
		x := r.of(n.Operand, f)
		y := bent{Range: x.span().negated().asRange().carrying(x.Range), slopes: scaled(x.slopes, pointSpan(-1)), rough: x.rough}
		if g := x.plain(); g != nil && x.slopes != nil {
			y.formed(g.scaled(pointSpan(-1), g.off))
		}
		return y
	case *Binary:
		return r.binary(n, f)
	case *Call:
		return r.call(n, f)
	case *Cases:
		return r.cases(n, f)
	case *NoneOutcome:
		return bent{Range: RangeOf(NoValue(n.Why))}
	case *UnknownOutcome:
		return bent{Range: RangeOf(CannotTell(n.Why))}
	case *Word:
		return bent{Range: WordsAmong(n.Text)}
	}
	a := r.answers(n, f)
	return bent{Range: a.asRange(), rough: a.True && a.False}
}

func (r *ranger) name(n *Name, f *ranged) bent {
	if n.Text == "pi" {
		return bent{Range: Between(math.Pi, higher(math.Pi))}
	}
	if a := f.find(n.Text); a != nil {
		if !a.done || a.member != r.member {
			a.value, a.done, a.member = r.of(a.node, a.caller), true, r.member
		}
		return a.value
	}
	x := bent{Range: r.env.Range(n.Text)}
	listed := x.List != nil && r.member != whole
	if listed {
		x.Range = x.pick(r.member)
	}
	if !x.Empty() && !x.span().bounded() {
		x.Failed = true
	}
	if r.bends != nil {
		member := whole
		if listed {
			member = r.member
		}
		x.bending(r.bends.Bend(n.Text, member))
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

func (r *ranger) binary(n *Binary, f *ranged) bent {
	l, right := r.of(n.Left, f), r.of(n.Right, f)
	if l.Empty() || right.Empty() {
		return bent{Range: noRange.carrying(l.Range, right.Range)}
	}
	y, fails := operated(n.Op, l.span(), right.span())
	x := bent{Range: y.asRange().carrying(l.Range, right.Range), rough: l.rough || right.rough}
	x.Failed = x.Failed || fails
	if l.slopes != nil || right.slopes != nil {
		x.slopes = operatedSlopes(n.Op, l, right, y)
		x.formed(operatedForm(n.Op, l, right, y))
	}
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

func (r *ranger) call(n *Call, f *ranged) bent {
	if b := builtin(n.Function); b != nil {
		return r.builtin(n, b, f)
	}
	own := r.scope.Functions[n.Function]
	if own.Column != nil {
		return r.lookUp(n, own.Column, f)
	}
	return r.of(own.Body, called(own, n, f))
}

func (r *ranger) builtin(n *Call, b *function, f *ranged) bent {
	if !b.folds(len(n.Args)) {
		args := make([]bent, len(n.Args))
		for i, a := range n.Args {
			args[i] = r.of(a, f)
		}
		return ranges(b, args)
	}
	args, list := r.each(n.Args[0], f)
	switch {
	case list && b.rule == countRule:
		return bent{Range: RangeOf(Quantity(float64(len(args))))}
	case len(args) == 0 && b.rule == equalRule:
		return bent{Range: RangeOf(NoValue(""))}
	}
	return ranges(b, args)
}

// ranges is the range of a built-in function over the ranges of its
// arguments.
func ranges(b *function, args []bent) bent {
	spans, x := make([]span, len(args)), bent{}
	empty, moves := false, false
	for i, a := range args {
		spans[i] = a.span()
		empty = empty || a.Empty()
		moves = moves || a.slopes != nil
		x.rough = x.rough || a.rough
	}
	y, fails := nowhere, false
	if !empty {
		y, fails = rangeFaces[b.name].over(spans)
	}
	x.Range = y.asRange()
	for _, a := range args {
		x.Range = x.carrying(a.Range)
	}
	x.Failed = x.Failed || fails
	if moves && !empty {
		x.bendBy(b.name, args, spans, y)
		if len(args) == 1 && !args[0].rough {
			x.formed(calledForm(b.name, args[0], y))
		}
	}
	return x
}

// each ranges an argument for each member of the list that it is one of;
// where no list can be seen, the argument as it is.
func (r *ranger) each(arg Node, f *ranged) (members []bent, list bool) {
	outer := r.member
	defer func() { r.member = outer }()
	length := r.length(arg, f)
	if length < 0 {
		r.member = whole
		return []bent{r.of(arg, f)}, false
	}
	members = make([]bent, length)
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
// told makes the value unknown, or failed, from there on. Where more than one
// may be chosen the value may jump from one to the other, unless there are two
// that meet.
func (r *ranger) cases(n *Cases, f *ranged) bent {
	var chosen []bent
	var first Node // the condition of the first that may be chosen
	states := noRange
	for _, c := range n.Cases {
		a := r.answers(c.When, f)
		states.Unknown = states.Unknown || a.Unknown
		states.Failed = states.Failed || a.Failed
		if a.True {
			if chosen = append(chosen, r.of(c.Outcome, f)); first == nil {
				first = c.When
			}
		}
		if !a.False {
			return r.joined(chosen, first, f).with(states)
		}
	}
	return r.joined(append(chosen, r.of(n.Else, f)), first, f).with(states)
}

// joined joins the outcomes that may be chosen.
func (r *ranger) joined(chosen []bent, first Node, f *ranged) bent {
	if len(chosen) == 0 {
		return bent{Range: noRange}
	}
	if len(chosen) == 2 {
		if y, ok := r.meeting(first, chosen[0], chosen[1], f); ok {
			return y
		}
	}
	y := chosen[0]
	for _, x := range chosen[1:] {
		y = bent{Range: y.Join(x.Range), slopes: hulls(y.slopes, x.slopes), rough: true}
	}
	return y
}

func (b bent) with(states Range) bent {
	b.Range = b.carrying(states)
	return b
}
