package formula

import (
	"testing"

	"bindpost/calc/fault"
)

// TestListsThroughParameters folds a list that an own function knows only by
// its parameter, also through a second function: value, range and script must
// find the list behind it.
func TestListsThroughParameters(t *testing.T) {
	read := func(text string) Node {
		n, faults := ParseBody(fault.NewText("lists", text).All())
		if n == nil {
			t.Fatal(faults)
		}
		return n
	}
	scope := &Scope{
		Values: map[string]Symbol{"loads": {Type: Type{Group: "speaker"}}, "k": {}},
		Functions: map[string]*Function{
			"together": {Name: "together", Params: []string{"a"}, Body: read("1/sum(1/a)")},
			"scaled":   {Name: "scaled", Params: []string{"b", "c"}, Body: read("together(b*c) + count(b)")},
		},
	}
	env := wildEnv{"loads": ListOf(Quantity(8), Quantity(8), Quantity(4)), "k": Quantity(2)}
	l := &trials{number: map[*Formula]int{}}
	for text, want := range map[string]float64{"together(loads)": 2, "scaled(loads, k)": 7, "scaled(loads + 0, 1)": 5} {
		f, faults := Check(read(text), scope)
		if f == nil {
			t.Fatal(faults)
		}
		if v := f.Eval(env); v.State != Known || !near(v.Number, want) {
			t.Errorf("%s: %+v, want %g", text, v, want)
		}
		over := wildRanges{"loads": RangeOf(env["loads"]), "k": Between(2, 2)}
		if r := f.Range(over); !r.Sure() || !r.Holds(f.Eval(env)) || r.Hi-r.Lo > 1e-12 {
			t.Errorf("%s: range %+v, want %g", text, r, want)
		}
		l.add(f, env)
	}
	l.agree(t, 0)
}
