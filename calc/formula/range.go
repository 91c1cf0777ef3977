package formula

import (
	"math"
	"slices"
)

// Range is every value that a formula may take while the values it rests on
// move, each by itself, within their own ranges: numbers from Lo to Hi, one of
// Words, or members of a List; and whether it may instead be none, unknown or
// failed. More than one of these may be possible at once. There is no number
// in it when Lo > Hi; the zero Range is the number 0 alone.
//
// A Range never leaves a value out: bounds are rounded outwards, and what
// cannot be settled counts as possible. It may hold more than can really
// happen, since a name that stands twice in a formula moves twice. A bound
// that has no end is infinite; then Failed is set.
type Range struct {
	Lo, Hi float64   // in base units
	Only   []float64 // when not nil, the only numbers possible, rising: the sizes of a table
	Words  []string  // of a choice: the words possible, sorted
	List   []Range   // of a list: its members
	None   bool      // there may be no such value
	Unknown,
	Failed bool
}

// RangeEnv answers for the ranges of the values that a formula names.
type RangeEnv interface {
	// Range returns the range of a value. A missing input is one that may
	// only be Unknown.
	Range(name string) Range
	// Given reports whether a value is given: True, False, or Untold where
	// it may be either.
	Given(name string) Truth
}

// Between returns the range of all quantities from lo to hi, in base units.
func Between(lo, hi float64) Range { return Range{Lo: lo, Hi: hi} }

// Among returns the range of quantities that may only be one of these, in
// base units: the sizes of a table, the cases of a sweep.
func Among(numbers ...float64) Range {
	only := slices.Clone(numbers)
	slices.Sort(only)
	only = slices.Compact(only)
	if len(only) == 0 {
		return noRange
	}
	return Range{Lo: only[0], Hi: only[len(only)-1], Only: only}
}

// WordsAmong returns the range of a choice that may be one of these words.
func WordsAmong(words ...string) Range {
	r := noRange
	r.Words = slices.Clone(words)
	slices.Sort(r.Words)
	r.Words = slices.Compact(r.Words)
	return r
}

// RangeOf returns the range that holds one value alone. Why it is none or
// unknown is left behind.
func RangeOf(v Value) Range {
	r := noRange
	switch {
	case v.State == None:
		r.None = true
	case v.State == Unknown:
		r.Unknown = true
	case v.State == Failed:
		r.Failed = true
	case v.List != nil:
		for _, member := range v.List {
			r.List = append(r.List, RangeOf(member))
		}
	case v.Word != "":
		r.Words = []string{v.Word}
	default:
		r.Lo, r.Hi = v.Number, v.Number
	}
	return r
}

// noRange holds nothing; it is what ranges are joined to.
var noRange = Range{Lo: math.Inf(1), Hi: math.Inf(-1)}

// Empty reports whether no number is possible.
func (r Range) Empty() bool { return r.span().empty() }

// Sure reports whether the value is surely there: neither none nor unknown
// nor failed, and each member of a list likewise.
func (r Range) Sure() bool {
	for _, member := range r.List {
		if !member.Sure() {
			return false
		}
	}
	return !r.None && !r.Unknown && !r.Failed
}

// Holds reports whether a value is among those of the range.
func (r Range) Holds(v Value) bool {
	switch v.State {
	case None:
		return r.None
	case Unknown:
		return r.Unknown
	case Failed:
		return r.Failed
	}
	switch {
	case v.List != nil:
		if len(v.List) != len(r.List) {
			return false
		}
		for i, member := range v.List {
			if !r.List[i].Holds(member) {
				return false
			}
		}
		return true
	case v.Word != "":
		return slices.Contains(r.Words, v.Word)
	case r.Only != nil:
		return slices.Contains(r.Only, v.Number)
	}
	return r.span().holds(v.Number)
}

// Join returns the range of what either range holds.
func (r Range) Join(o Range) Range {
	joined := r.span().hull(o.span()).asRange()
	joined.Only = joinOnly(r, o)
	joined.Words = union(r.Words, o.Words)
	joined.List = joinLists(r.List, o.List)
	return joined.carrying(r, o)
}

// joinOnly keeps the numbers of both apart when both are told one by one.
func joinOnly(r, o Range) []float64 {
	a, aTold := r.numbers()
	b, bTold := o.numbers()
	if !aTold || !bTold || r.Only == nil && o.Only == nil {
		return nil
	}
	only := slices.Concat(a, b)
	slices.Sort(only)
	return slices.Compact(only)
}

// numbers returns the numbers possible, when they can be told one by one.
func (r Range) numbers() ([]float64, bool) {
	switch {
	case r.Only != nil:
		return r.Only, true
	case r.Empty():
		return nil, true
	case r.Lo == r.Hi:
		return []float64{r.Lo}, true
	}
	return nil, false
}

// joinLists joins member by member. Lists of one group are of one length.
func joinLists(a, b []Range) []Range {
	if a == nil || b == nil {
		return slices.Concat(a, b)
	}
	joined := make([]Range, min(len(a), len(b)))
	for i := range joined {
		joined[i] = a[i].Join(b[i])
	}
	return joined
}

// carrying returns the range, also none, unknown or failed where one of the
// others is.
func (r Range) carrying(others ...Range) Range {
	for _, o := range others {
		r.None = r.None || o.None
		r.Unknown = r.Unknown || o.Unknown
		r.Failed = r.Failed || o.Failed
	}
	return r
}

func (r Range) span() span { return span{r.Lo, r.Hi} }

// asRange makes a range of a span; one without end may fail.
func (s span) asRange() Range {
	if s.empty() {
		return noRange
	}
	return Range{Lo: s.lo + 0, Hi: s.hi + 0, Failed: !s.bounded()}
}
