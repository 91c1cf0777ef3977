package formula

import "slices"

// alikeTrees reports whether two trees are the same but for their places.
func alikeTrees(a, b Node) bool {
	if (a == nil) != (b == nil) || a != nil && !alikeNodes(a, b) {
		return false
	}
	return slices.EqualFunc(parts(a), parts(b), alikeTrees)
}

// alikeNodes compares two nodes without the pieces in them.
func alikeNodes(a, b Node) bool {
	switch a := a.(type) {
	case *Number:
		b, ok := b.(*Number)
		return ok && a.Text == b.Text && a.Unit.Symbol() == b.Unit.Symbol() && a.Value == b.Value && a.Typed == b.Typed
	case *Name:
		b, ok := b.(*Name)
		return ok && a.Text == b.Text
	case *Word:
		b, ok := b.(*Word)
		return ok && a.Text == b.Text
	case *Call:
		b, ok := b.(*Call)
		return ok && a.Function == b.Function
	case *Binary:
		b, ok := b.(*Binary)
		return ok && a.Op == b.Op
	case *Negate:
		_, ok := b.(*Negate)
		return ok
	case *Group:
		_, ok := b.(*Group)
		return ok
	case *Cases:
		_, ok := b.(*Cases)
		return ok
	case *NoneOutcome:
		b, ok := b.(*NoneOutcome)
		return ok && a.Why == b.Why
	case *UnknownOutcome:
		b, ok := b.(*UnknownOutcome)
		return ok && a.Why == b.Why
	case *And:
		_, ok := b.(*And)
		return ok
	case *Or:
		_, ok := b.(*Or)
		return ok
	case *Not:
		_, ok := b.(*Not)
		return ok
	case *Given:
		_, ok := b.(*Given)
		return ok
	case *Is:
		_, ok := b.(*Is)
		return ok
	case *Compare:
		b, ok := b.(*Compare)
		return ok && a.Relation == b.Relation
	}
	return false
}
