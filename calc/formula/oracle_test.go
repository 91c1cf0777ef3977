package formula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
)

// names answers for plain numbers by name.
type names map[string]Value

func (n names) Value(name string) Value {
	if v, ok := n[name]; ok {
		return v
	}
	return CannotTell(name + " is not known")
}

func (n names) Given(name string) bool { return n.Value(name).State == Known }

func (n names) Missing(name string) bool { return !n.Given(name) }

// sums writes random arithmetic as it stands in this language and in the
// oracle's, which has its own names for functions and writes ** for a power.
type sums struct{ *rand.Rand }

func (s sums) expr(depth int) string {
	if depth == 0 || s.IntN(6) == 0 {
		if s.IntN(2) == 0 {
			return []string{"a", "b", "c"}[s.IntN(3)]
		}
		return fmt.Sprintf("%.4g", s.Float64()*9+0.1)
	}
	l, r := s.expr(depth-1), s.expr(depth-1)
	switch s.IntN(8) {
	case 0:
		return "(" + l + ")"
	case 1:
		return "-" + l
	case 2:
		return "sqrt(abs(" + l + "))"
	case 3:
		return l + "^" + fmt.Sprint(s.IntN(5)-2)
	case 4:
		return "max(" + l + ", " + r + ")"
	case 5:
		return l + "/" + r
	case 6:
		return l + "*" + r
	}
	return l + []string{" + ", " - "}[s.IntN(2)] + r
}

// oracleSqrt takes whole numbers too, which the oracle keeps apart.
func oracleSqrt(x any) float64 {
	switch x := x.(type) {
	case int:
		return math.Sqrt(float64(x))
	case float64:
		return math.Sqrt(x)
	}
	return math.NaN()
}

// TestOracle works random arithmetic here and by another evaluator; the two
// agree in what binds how tightly and in every value.
func TestOracle(t *testing.T) {
	s := sums{rand.New(rand.NewPCG(5, 6))}
	env := map[string]any{"a": 1.5, "b": 0.25, "c": 7.0, "sqrt": oracleSqrt}
	values := names{"a": Quantity(1.5), "b": Quantity(0.25), "c": Quantity(7)}
	plain := Symbol{}
	scope := &Scope{Values: map[string]Symbol{"a": plain, "b": plain, "c": plain}}
	worked := 0
	for range 5000 {
		source := s.expr(1 + s.IntN(5))
		n, faults := ParseBody(placed(source))
		if faults.Len() > 0 {
			if len(source) > mostBytes || strings.Contains(faults.String(), "nested") {
				continue
			}
			t.Fatalf("%q is refused: %v", source, faults)
		}
		f, faults := Check(n, scope)
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		out, err := expr.Eval(strings.ReplaceAll(source, "^", "**"), env)
		if err != nil {
			t.Fatalf("%q: the oracle says %v", source, err)
		}
		want := toFloat(t, out)
		got := f.Eval(values)
		if math.IsNaN(want) || math.IsInf(want, 0) {
			continue
		}
		if got.State == Failed && strings.Contains(got.Fault.Message, "divi") {
			continue // the oracle goes on with an infinity, and may come back from it
		}
		worked++
		if got.State != Known || math.Abs(got.Number-want) > 1e-12*math.Abs(want) {
			t.Fatalf("%q is %v %v %v, the oracle says %v", source, got.State, got.Number, got.Fault, want)
		}
	}
	if worked < 3000 {
		t.Errorf("only %d were compared", worked)
	}
}

func toFloat(t *testing.T, v any) float64 {
	switch v := v.(type) {
	case float64:
		return v
	case int:
		return float64(v)
	}
	t.Fatalf("the oracle gave %T", v)
	return 0
}
