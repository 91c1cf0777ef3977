package formula

import (
	"iter"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/unit"
)

// outside reads what a line of testdata/formula/outside.txt gives to a rule.
func outsideInputs(t *testing.T, s *sound, text string) map[string]Value {
	t.Helper()
	inputs := map[string]Value{}
	for _, part := range strings.Split(text, "; ") {
		name, value, _ := strings.Cut(part, " = ")
		in := s.input(name)
		switch {
		case in == nil:
			t.Fatalf("%s takes no %q", s.name, name)
		case in.typ.Words != nil:
			inputs[name] = WordOf(value)
		case in.typ.Group != "":
			list := Value{}
			for _, member := range strings.Split(value, " and ") {
				list.List = append(list.List, Quantity(quantity(t, member, in.typ.Kind)))
			}
			inputs[name] = list
		default:
			inputs[name] = Quantity(quantity(t, value, in.typ.Kind))
		}
	}
	return inputs
}

// quantity reads a typed value of a kind, in base units.
func quantity(t *testing.T, text string, k unit.Kind) float64 {
	t.Helper()
	q, f := unit.Read(placed(strings.TrimSuffix(text, " number")))
	if f != nil {
		t.Fatal(f)
	}
	if q.Unit.Kind() != k {
		t.Fatalf("%q is no %s", text, k)
	}
	return q.Value
}

// TestOutside works formulas at points whose values were worked outside this
// program, and holds the result to them.
func TestOutside(t *testing.T) {
	source, err := os.ReadFile("../../testdata/formula/outside.txt")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]*sound{}
	for _, s := range sounds(t) {
		rules[s.name] = s
	}
	count := 0
	for line := range strings.Lines(string(source)) {
		line = strings.TrimSpace(line)
		if line == "" || line[0] == '#' {
			continue
		}
		count++
		f := strings.Split(line, " | ")
		t.Run(f[0]+" at "+f[1], func(t *testing.T) {
			rule, result, _ := strings.Cut(f[0], " ")
			holdOutside(t, rules[rule], result, f)
		})
	}
	if count < 80 {
		t.Errorf("only %d values are held against others", count)
	}
}

func holdOutside(t *testing.T, s *sound, result string, f []string) {
	if s == nil {
		t.Fatalf("no rule for %q", f[0])
	}
	e := newSoundEnv(s, outsideInputs(t, s, f[1]))
	for _, g := range s.gives {
		if g.name != result {
			continue
		}
		got := e.Value(g.of)
		members := got.List
		if members == nil {
			members = []Value{got}
		}
		wanted := strings.Split(f[2], " and ")
		if len(members) != len(wanted) {
			t.Fatalf("%d members, want %d", len(members), len(wanted))
		}
		for i, m := range members {
			want := quantity(t, wanted[i], g.unit.Kind())
			within := tolerance(t, f[3], want, g.unit)
			if m.State != Known || math.Abs(m.Number-want) > within {
				t.Errorf("%s is %v %v, want %v within %v (%s)", result, m.State, m.Number, want, within, f[4])
			}
		}
		return
	}
	t.Fatalf("%s gives no %q", s.name, result)
}

func tolerance(t *testing.T, text string, want float64, u unit.Unit) float64 {
	if share, ok := strings.CutSuffix(text, " of it"); ok {
		x, err := strconv.ParseFloat(share, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x * math.Abs(want)
	}
	return quantity(t, text, u.Step().Kind()) + 1e-12*math.Abs(want)
}

// outsidePoints gives each rule with the inputs of each outside case.
func outsidePoints(t *testing.T) iter.Seq2[*sound, map[string]Value] {
	t.Helper()
	source, err := os.ReadFile("../../testdata/formula/outside.txt")
	if err != nil {
		t.Fatal(err)
	}
	rules := map[string]*sound{}
	for _, s := range sounds(t) {
		rules[s.name] = s
	}
	return func(yield func(*sound, map[string]Value) bool) {
		for line := range strings.Lines(string(source)) {
			f := strings.Split(strings.TrimSpace(line), " | ")
			rule, _, _ := strings.Cut(f[0], " ")
			if s := rules[rule]; s != nil && !yield(s, outsideInputs(t, s, f[1])) {
				return
			}
		}
	}
}

// TestTextWithEvaluates puts the values of a step into its text, at the points
// of the outside cases, and works the text: it comes to what the step does.
func TestTextWithEvaluates(t *testing.T) {
	tried := 0
	for s, point := range outsidePoints(t) {
		e := newSoundEnv(s, point)
		for _, st := range s.steps {
			if st.body == nil || st.body.Type().Group != "" || e.Value(st.name).State != Known {
				continue
			}
			text := TextWith(st.body.Node(), func(name string) (string, bool) { return typedValue(s, e, name) })
			n, faults := ParseBody(placed(text))
			if faults.Len() > 0 {
				t.Errorf("%s: %q with its numbers is %q, which is refused: %v", s.name, Text(st.body.Node()), text, faults)
				continue
			}
			f, faults := Check(n, s.scope)
			if faults.Len() > 0 {
				t.Errorf("%s: %q: %v", s.name, text, faults)
				continue
			}
			tried++
			got, want := f.Eval(e), e.Value(st.name)
			if got.State != Known || got.Word != want.Word || math.Abs(got.Number-want.Number) > 1e-12*math.Abs(want.Number) {
				t.Errorf("%s: %q comes to %v %v, and %q to %v", s.name, text, got.Number, got.Fault, st.name, want.Number)
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d steps were tried", tried)
	}
}

// typedValue is the value of a name as it might be typed, with all its digits.
func typedValue(s *sound, e *soundEnv, name string) (string, bool) {
	typ := s.scope.Values[name].Type
	v := e.Value(name)
	if v.State != Known || typ.Words != nil || typ.Group != "" {
		return "", false
	}
	return strings.TrimSpace(strconv.FormatFloat(v.Number, 'g', -1, 64) + " " + typ.Kind.Base().Symbol()), true
}
