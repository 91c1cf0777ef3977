package formula

import (
	"math"
	"reflect"
	"testing"

	"bindpost/calc/fault"
)

// rangeTried is a formula or a condition over the values of [wilds]: x, y and z
// numbers, w a choice, l a list, o and q (a list) values that may be missing.
func rangeTried(t *testing.T, text string) *Formula {
	t.Helper()
	n, faults := ParseCond(fault.NewText("tried", text).All())
	if n == nil {
		n, faults = ParseBody(fault.NewText("tried", text).All())
	}
	f, more := Check(n, newWilds(1).scope)
	if f == nil {
		t.Fatal(faults, more)
	}
	return f
}

// rangesWith answers with ranges, and with what is told of values given.
type rangesWith struct {
	wildRanges
	told map[string]Truth
}

func (e rangesWith) Given(name string) Truth {
	if told, ok := e.told[name]; ok {
		return told
	}
	return e.wildRanges.Given(name)
}

// TestAnswersOverRanges holds what a condition may be where ranges meet, part
// or touch.
func TestAnswersOverRanges(t *testing.T) {
	yes, no, either := Answers{True: true}, Answers{False: true}, Answers{True: true, False: true}
	gap := RangeOf(CannotTell("not known"))
	list := noRange
	list.List = []Range{Between(1, 2), gap.Join(Between(1, 2))}
	env := rangesWith{
		wildRanges{
			"x": Between(1, 2), "y": Between(2, 3), "z": Among(1, 4), "w": WordsAmong("ash", "oak"),
			"l": {List: []Range{Between(1, 2), Between(3, 4)}}, "q": list, "o": Between(1, 1).Join(gap),
		},
		map[string]Truth{"o": Untold},
	}
	cases := []struct {
		cond string
		want Answers
	}{
		{"x < 1", no}, {"x < 1.5", either}, {"x < 2.5", yes}, {"x < y", either}, {"x <= y", yes},
		{"x > 2", no}, {"x >= 1", yes}, {"y > x", either}, {"y >= x", yes}, {"x = y", either}, {"x = 3", no}, {"x*0 = 0", yes},
		{"x = 2 + 1e-10", either}, {"z is 4", either}, {"z is 2", no}, {"x is 1.5", either}, {"x is 7", no}, {"x*0 + 1 = 1", yes},
		{"w is ash", either}, {"w is elm", no}, {"not w is elm", yes},
		{"o is given", either}, {"q is given", Answers{True: true, False: true}}, {"not o is given", either},
		{"o < 5", Answers{True: true, Unknown: true}}, {"1/(x - y) > 0", Answers{False: true, Failed: true}}, {"1/(x - 1.5) > 0", Answers{True: true, False: true, Failed: true}},
		{"x < 0 and o < 5", no}, {"x > 0 or o < 5", yes}, {"x > 0 and o < 5", Answers{True: true, Unknown: true}},
		{"log10(-x) > 0", Answers{Failed: true}}, {"l > 0", yes}, {"l > 2.5", no}, {"l > 1.5", either},
	}
	for _, c := range cases {
		f := rangeTried(t, c.cond)
		if got := f.Answers(env); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.cond, got, c.want)
		}
	}
}

// TestAnswersOnly holds when a condition is settled.
func TestAnswersOnly(t *testing.T) {
	for _, c := range []struct {
		a           Answers
		truth, sure bool
	}{
		{Answers{True: true}, true, true}, {Answers{False: true}, false, true}, {Answers{}, false, false},
		{Answers{True: true, False: true}, true, false}, {Answers{True: true, Unknown: true}, true, false}, {Answers{False: true, Failed: true}, false, false},
	} {
		if truth, sure := c.a.Only(); truth != c.truth || sure != c.sure {
			t.Errorf("%+v: %t, %t", c.a, truth, sure)
		}
	}
}

// TestRangesOfCases holds ranges of whole formulas: outcomes that may be
// chosen, look-ups, lists and gaps.
func TestRangesOfCases(t *testing.T) {
	none, unknown, failed := RangeOf(NoValue("")), RangeOf(CannotTell("")), RangeOf(FailedAt(&fault.Fault{}))
	env := rangesWith{wildRanges{
		"x": Between(1, 2), "y": Between(2, 3), "z": Among(1, 2), "w": WordsAmong("ash"),
		"l": {List: []Range{Between(1, 2), Between(3, 4)}}, "q": {List: []Range{Between(1, 1)}},
	}, nil}
	cases := []struct {
		text string
		want Range
	}{
		{"x", Between(1, 2)}, {"z", Among(1, 2)}, {"o", unknown}, {"x + o", unknown}, {"-x", Between(-2, -1)}, {"x^2", Between(1, 4)},
		{`5 when x > 0, else none "no"`, Between(5, 5)}, {`5 when x > 3, else none "no"`, none}, {`5 when x > 1.5, else none "no"`, none.Join(Between(5, 5))},
		{`unknown "why" when x > 1.5, 6 when x > 0, else 7`, unknown.Join(Between(6, 6))},
		{`5 when o > 3, else 6`, unknown}, {`5 when sqrt(-x) > 3, else 6`, failed},
		{"board(w, 1)", Between(3.5, 3.5)}, {"board(w, z)", Between(-7, 3.5)}, {"board(w, x)", failed.Join(Between(-7, 3.5))},
		{"board(w, 7)", failed}, {"board(w, o)", unknown}, {"board(w, 2.5)", failed},
		{"sum(l)", Between(4, 6)}, {"count(l)", Between(2, 2)}, {"max(l)", Between(3, 4)}, {"min(l)", Between(1, 2)},
		{"l*2", Range{Lo: math.Inf(1), Hi: math.Inf(-1), List: []Range{Between(2, 4), Between(6, 8)}}},
		{"l + q", Range{Lo: math.Inf(1), Hi: math.Inf(-1), List: []Range{Between(2, 3), failed}}},
		{"tally(x > 1.5, x > 0, x > 5)", Between(1, 2)}, {"twice(2, 1)", Between(-6, -2)},
		{"1/(x - 1)", Range{Lo: 1, Hi: math.Inf(1), Failed: true}}, {"x/0", failed}, {"sum(l/0)", failed},
	}
	for _, c := range cases {
		if got := rangeTried(t, c.text).Range(env); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.text, got, c.want)
		}
	}
}

// TestRangesOfMissingLists holds what becomes of a list that is not there, is
// empty, or has no end.
func TestRangesOfMissingLists(t *testing.T) {
	empty := wildRanges{"l": {Lo: math.Inf(1), Hi: math.Inf(-1), List: []Range{}}, "x": Between(0, math.Inf(1))}
	unknown := RangeOf(CannotTell(""))
	for _, c := range []struct {
		text string
		env  wildRanges
		want Range
	}{
		{"count(l)", wildRanges{}, unknown}, {"sum(l)", wildRanges{}, unknown}, {"l*2", wildRanges{}, unknown}, {"max(l)", empty, RangeOf(NoValue(""))},
		{"sum(l)", empty, Between(0, 0)}, {"count(l)", empty, Between(0, 0)}, {"x", empty, Range{Lo: 0, Hi: math.Inf(1), Failed: true}},
	} {
		if got := rangeTried(t, c.text).Range(c.env); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %+v, want %+v", c.text, got, c.want)
		}
	}
	if got := rangeTried(t, "l > 0").Answers(wildRanges{}); got != (Answers{Unknown: true}) {
		t.Errorf("a list that is missing is compared: %+v", got)
	}
}

// TestTablesCover holds a look-up with two keys that need not make a grid: elm
// has one size, and ash has not that one.
func TestTablesCover(t *testing.T) {
	for _, c := range []struct {
		words []string
		sizes []float64
		fails bool
	}{
		{[]string{"ash"}, []float64{1, 2}, false}, {[]string{"ash", "oak"}, []float64{1, 2}, false}, {[]string{"ash", "elm"}, []float64{1}, true},
		{[]string{"elm"}, []float64{2.5}, false}, {[]string{"elm"}, []float64{1}, true}, {[]string{"ash"}, []float64{1, 2.5}, true},
	} {
		env := wildRanges{"w": WordsAmong(c.words...), "x": Among(c.sizes...)}
		if got := rangeTried(t, "board(w, x)").Range(env); got.Failed != c.fails {
			t.Errorf("%v by %v: %+v", c.words, c.sizes, got)
		}
	}
}

// TestRangeSets holds the making and joining of ranges.
func TestRangeSets(t *testing.T) {
	list := func(members ...Range) Range { r := noRange; r.List = members; return r }
	a := Value{List: []Value{Quantity(1), CannotTell("why")}}
	if got := Among(); !got.Empty() || got.Only != nil {
		t.Errorf("among none is %+v", got)
	}
	if got := Among(3, 1, 3); got.Lo != 1 || got.Hi != 3 || len(got.Only) != 2 {
		t.Errorf("among 3, 1, 3 is %+v", got)
	}
	if got := WordsAmong("b", "a", "b"); !reflect.DeepEqual(got.Words, []string{"a", "b"}) || !got.Empty() {
		t.Errorf("words are %+v", got)
	}
	if RangeOf(a).Sure() || !RangeOf(ListOf(Quantity(1))).Sure() || RangeOf(NoValue("")).Sure() {
		t.Error("a list with a gap is sure, or one without is not")
	}
	if got := list(Between(1, 2)).Join(list(Between(4, 5))); !reflect.DeepEqual(got, list(Between(1, 5))) {
		t.Errorf("lists join to %+v", got)
	}
	if got := Among(1, 2).Join(Between(5, 6)); got.Only != nil || got.Hi != 6 {
		t.Errorf("some numbers and a stretch join to %+v", got)
	}
	for _, c := range []struct {
		r    Range
		v    Value
		want bool
	}{
		{RangeOf(a), a, true}, {RangeOf(a), ListOf(Quantity(1)), false}, {RangeOf(a), ListOf(Quantity(2), CannotTell("")), false},
		{Among(1, 3), Quantity(2), false}, {Among(1, 3), Quantity(3), true}, {Between(1, 3), Quantity(2), true},
		{WordsAmong("a"), WordOf("a"), true}, {WordsAmong("a"), WordOf("b"), false}, {WordsAmong("a"), NoValue(""), false},
		{RangeOf(NoValue("")), NoValue("x"), true}, {RangeOf(FailedAt(nil)), FailedAt(nil), true}, {RangeOf(NoValue("")), Quantity(0), false},
	} {
		if got := c.r.Holds(c.v); got != c.want {
			t.Errorf("%+v holds %+v: %t", c.r, c.v, got)
		}
	}
}
