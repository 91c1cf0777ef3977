package formula

import (
	"maps"
	"math"
	"reflect"
	"testing"
)

// notedEnv is a wild environment whose evaluations are noted.
type notedEnv struct {
	wildEnv
	notes *Notes
}

func (e notedEnv) Notes() *Notes { return e.notes }

func (g *wilds) noted(e wildEnv) notedEnv {
	n := notedEnv{wildEnv{}, NewNotes()}
	for name, v := range e {
		n.wildEnv[name] = n.notes.Entered(v)
	}
	return n
}

// alikeValues reports whether two values differ in nothing but numbers.
func alikeValues(a, b Value) bool {
	if a.State != b.State || a.Word != b.Word || a.Why != b.Why || len(a.List) != len(b.List) {
		return false
	}
	for i := range a.List {
		if !alikeValues(a.List[i], b.List[i]) {
			return false
		}
	}
	return true
}

// TestWildPathsHold goes along the path of a formula noted at one point, at
// others: where it holds it comes to what the formula comes to, to the bit.
// Then one value moves alone, and only what rests on it is worked again.
func TestWildPathsHold(t *testing.T) {
	g := newWilds(11)
	held, left := 0, 0
	for range 8000 {
		f, ranges := g.formula(t), g.ranges()
		first := g.noted(g.within(ranges))
		came := f.Eval(first)
		path := first.notes.Path()
		if path == nil {
			continue
		}
		registers := path.Start(nil)
		if !path.Run(registers) {
			t.Fatalf("%s does not hold where it was noted, at %+v", Text(f.Node()), first.wildEnv)
		}
		samePath(t, f, path, registers, came, first.wildEnv)
		for range 8 {
			env := g.within(ranges)
			registers := path.Start(nil)
			if !enterAll(path, registers, first.wildEnv, env) {
				continue
			}
			if !path.Run(registers) {
				left++
				continue
			}
			held++
			samePath(t, f, path, registers, came, env)
			moved := maps.Clone(env)
			name := g.pick("x", "y", "z", "o", "l", "q")
			if v, ok := g.within(ranges)[name]; ok {
				moved[name] = v
			}
			if part := path.From(ptr(first.wildEnv[name])); enterAll(path, registers, first.wildEnv, moved) && part.Run(registers) {
				samePath(t, f, path, registers, came, moved)
			}
		}
	}
	if held < 10_000 || left < 1000 {
		t.Errorf("paths held at %d points and were left at %d", held, left)
	}
}

func ptr[T any](v T) *T { return &v }

// enterAll enters all values of an environment of the same shape.
func enterAll(p *Path, registers []float64, noted, e wildEnv) bool {
	for name, v := range noted {
		now := e[name]
		if !alikeValues(v, now) || !p.Enter(registers, &v, &now) {
			return false
		}
	}
	return true
}

func samePath(t *testing.T, f *Formula, p *Path, registers []float64, noted Value, e wildEnv) {
	t.Helper()
	var got Value
	p.Read(registers, &noted, &got)
	if want := f.Eval(e).Unnoted(); !reflect.DeepEqual(got, want) || !sameBits(got, want) {
		t.Fatalf("%s\ncomes to %+v at %+v\nand along its path to %+v", Text(f.Node()), want, e, got)
	}
}

func sameBits(a, b Value) bool {
	for i := range a.List {
		if !sameBits(a.List[i], b.List[i]) {
			return false
		}
	}
	return math.Float64bits(a.Number) == math.Float64bits(b.Number)
}

// TestPathIsLeft holds a path to end where a choice falls otherwise, where
// something cannot be worked, and where a number has no end.
func TestPathIsLeft(t *testing.T) {
	for source, points := range map[string]map[float64]bool{
		"10/x":                            {4: true, -3: true, 0: false, math.Inf(1): false, math.NaN(): false},
		"log10(x)":                        {1e-300: true, 0: false, -1: false},
		"exp(x)":                          {700: true, 800: false},
		"1 when x > 2, else x":            {2.5: true, 2: false, 1: false},
		"1 when x = 3, else x":            {3.0000000001: true, 3.1: false},
		"x when 1/x > 0 or y < 0, else 2": {7: true, 0: false},
	} {
		e := notedEnv{wildEnv{"x": Quantity(3), "y": Quantity(-2)}, NewNotes()}
		e.wildEnv["x"] = e.notes.Entered(e.wildEnv["x"])
		e.wildEnv["y"] = e.notes.Entered(e.wildEnv["y"])
		f := sound1(t, mustBody(t, source))
		f.Eval(e)
		path := e.notes.Path()
		for x, holds := range points {
			registers, noted, v := path.Start(nil), e.wildEnv["x"], Quantity(x)
			if got := path.Enter(registers, &noted, &v) && path.Run(registers); got != holds {
				t.Errorf("the path of %s holds at %v: %v", source, x, got)
			}
		}
	}
	for _, source := range []string{"1/(x - 3)", "sqrt(y)", "1/(x - 3) when y > 0, 2 when 1/(x - 3) > 1 or x > 0, else 3"} {
		e := notedEnv{wildEnv{"x": Quantity(3), "y": Quantity(-2)}, NewNotes()}
		for name, v := range e.wildEnv {
			e.wildEnv[name] = e.notes.Entered(v)
		}
		sound1(t, mustBody(t, source)).Eval(e)
		if e.notes.Path() != nil {
			t.Errorf("%s, of which a piece could not be worked, has a path", source)
		}
	}
	bare := notedEnv{wildEnv{"x": Quantity(3)}, NewNotes()} // nobody entered it
	sound1(t, mustBody(t, "x + 1")).Eval(bare)
	if bare.notes.Path() != nil {
		t.Error("a number that was not entered has a path")
	}
}
