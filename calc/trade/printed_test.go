package trade

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// printedDraws is how many points of each formula method are worked by the
// oracle.
const printedDraws = 1000

// TestFormulasAsPrinted reads each formula again as it is printed, and works
// it by another evaluator, which takes numbers in base units and knows no
// units: at a thousand points of every method both agree to 10⁻⁹, each step
// being worked from what the other evaluator itself found before it.
func TestFormulasAsPrinted(t *testing.T) {
	eachDrawn(t, printedDraws, func(t *testing.T, d *method.Data, v method.Values, res *method.Result) bool {
		want := d.Run(v, res.Name).Results.Of(res.Name)
		steps := d.Work(v, res.Name)[0]
		if want.State != formula.Known || want.Word != "" || len(steps) == 0 {
			return false
		}
		o := &oracle{t: t, found: map[string]formula.Value{}}
		var last formula.Value
		for _, s := range steps {
			last = o.step(s)
		}
		if !alike(last, want, 1e-9) {
			t.Fatalf("%s: %s is %+v at %v, and the formulas as printed come to %+v", d.Sheet().Name, res.Name, want, texts(v), last)
		}
		return true
	})
}

// eachDrawn calls do for values drawn about the cases of every formula method,
// with each of its results in turn, and sees that it held something often
// enough.
func eachDrawn(t *testing.T, draws int, do func(t *testing.T, d *method.Data, v method.Values, res *method.Result) bool) {
	t.Helper()
	if raced {
		draws /= 20
	}
	eachData(t, func(t *testing.T, d *method.Data) {
		r, held := rand.New(rand.NewPCG(21, uint64(len(d.Sheet().Name)))), 0
		cases, gives := casesOf(d.Sheet()), d.Sheet().Gives
		for n := range draws {
			// Not n%len(cases): the two would never meet where one divides the other.
			if do(t, d, drawnValues(r, d, cases[n/len(gives)%len(cases)].Values), gives[n%len(gives)]) {
				held++
			}
		}
		if held < draws/8 {
			t.Errorf("only %d results were held", held)
		}
	})
}

// drawnValues draws every number of a case anew within its hard bounds, as an
// author would type it: with three or four figures, in the input's unit.
func drawnValues(r *rand.Rand, d *method.Data, v method.Values) method.Values {
	for _, in := range d.Sheet().Takes {
		p, typed := v[in.Name]
		if !typed || in.Choice != nil || in.Whole || len(in.Among) > 0 || !p.Known() || in.From == nil || in.To == nil {
			continue
		}
		f := unit.Format{Unit: in.Unit, Figures: 3 + r.IntN(2)}
		number := func() float64 {
			return min(in.To.Value, max(in.From.Value, f.Printed(drawn(r, in.From.Value, in.To.Value))))
		}
		if p.Value.List == nil {
			p.Value = formula.Quantity(number())
			p.Text = f.Text(p.Value.Number)
		} else {
			p.Value.List = slices.Clone(p.Value.List)
			var parts []string
			for i, m := range p.Value.List {
				if m.State == formula.Known {
					p.Value.List[i] = formula.Quantity(number())
				}
				parts = append(parts, f.Text(p.Value.List[i].Number))
			}
			p.Text = strings.Join(parts, " and ")
		}
		p.Unit = in.Unit
		v = v.With(in.Name, p)
	}
	if d.Sheet().Check(v, fault.Place{}).Stopped() {
		return v // a need may not be met: the results are then no numbers
	}
	return v
}

// oracle works printed formulas with expr.
type oracle struct {
	t     *testing.T
	found map[string]formula.Value // by method and name
}

func (o *oracle) step(s method.Worked) formula.Value {
	v := s.Value
	if s.Rule != nil {
		v = o.rule(s, formula.Text(s.Rule))
	}
	o.found[s.Method+" "+s.Name] = v
	return v
}

// rule reads a formula and works it, for each member where a name in it is a
// list.
func (o *oracle) rule(s method.Worked, text string) formula.Value {
	n, faults := formula.ParseBody(fault.NewText("printed", text).All())
	if faults.Stopped() {
		o.t.Fatalf("%s: %q cannot be read again: %v", s.Name, text, faults)
	}
	if v := s.Value; v.State != formula.Known || v.Word != "" || lookedUp(n) {
		return v // a word, or a cell of a table: no formula
	}
	if s.Value.List == nil {
		return formula.Quantity(o.number(s, n, -1))
	}
	list := formula.Value{}
	for i := range s.Value.List {
		list.List = append(list.List, formula.Quantity(o.number(s, n, i)))
	}
	return list
}

// lookedUp reports whether a formula looks something up in a table.
func lookedUp(n formula.Node) bool {
	builtin := []string{"log10", "sqrt", "sum"}
	return slices.ContainsFunc(formula.Calls(n), func(name string) bool { return !slices.Contains(builtin, name) })
}

// number works a formula with plain numbers in base units, for one member.
func (o *oracle) number(s method.Worked, n formula.Node, member int) float64 {
	env := map[string]any{"log10": math.Log10, "sqrt": math.Sqrt, "pi": math.Pi}
	source := o.source(s, n, member, env)
	program, err := compiled(source)
	if err != nil {
		o.t.Fatalf("%s: the oracle says of %q: %v", s.Name, source, err)
	}
	out, err := expr.Run(program, env)
	if err != nil {
		o.t.Fatalf("%s: the oracle says of %q: %v", s.Name, source, err)
	}
	switch x := out.(type) {
	case float64:
		return x
	case int:
		return float64(x)
	}
	o.t.Fatalf("%s: the oracle gave %T for %q", s.Name, out, source)
	return 0
}

// programs are formulas that expr has read already.
var programs sync.Map

func compiled(source string) (*vm.Program, error) {
	if p, ok := programs.Load(source); ok {
		return p.(*vm.Program), nil
	}
	p, err := expr.Compile(source, expr.DisableAllBuiltins())
	if err == nil {
		programs.Store(source, p)
	}
	return p, err
}

// source writes a formula as expr reads it.
func (o *oracle) source(s method.Worked, n formula.Node, member int, env map[string]any) string {
	in := func(n formula.Node) string { return "(" + o.source(s, n, member, env) + ")" }
	switch n := n.(type) {
	case *formula.Number:
		return fmt.Sprintf("%.17e", n.Value)
	case *formula.Name:
		if n.Text != "pi" {
			env[n.Text] = o.value(s, n.Text, member)
		}
		return n.Text
	case *formula.Group:
		return in(n.Inner)
	case *formula.Negate:
		return "-" + in(n.Operand)
	case *formula.Binary:
		op := string(n.Op)
		if n.Op == formula.PowerOf {
			op = "**"
		}
		return in(n.Left) + op + in(n.Right)
	case *formula.Call:
		if n.Function == "sum" {
			return o.sum(s, n.Args[0])
		}
		return n.Function + in(n.Args[0])
	}
	if c, ok := n.(*formula.Cases); ok {
		return in(o.chosen(s, c, member))
	}
	o.t.Fatalf("%s: the oracle does not know a %T", s.Name, n)
	return ""
}

// chosen returns the case that holds for a member: the one kind of condition
// that a list has asks whether a member is given.
func (o *oracle) chosen(s method.Worked, c *formula.Cases, member int) formula.Node {
	for _, one := range c.Cases {
		given, ok := one.When.(*formula.Given)
		if !ok {
			o.t.Fatalf("%s: the oracle does not know the condition %q", s.Name, formula.Text(one.When))
		}
		if v := o.valueOf(s, given.Name.Text); v.List != nil && v.List[member].State == formula.Known || v.List == nil && v.State == formula.Known {
			return one.Outcome
		}
	}
	return c.Else
}

// sum adds a formula up over the members of the list in it.
func (o *oracle) sum(s method.Worked, n formula.Node) string {
	members := 0
	for _, name := range formula.Names(n) {
		members = max(members, len(o.valueOf(s, name).List))
	}
	var parts []string
	for i := range members {
		parts = append(parts, fmt.Sprintf("%.17e", o.number(s, n, i)))
	}
	return "(" + strings.Join(parts, " + ") + ")"
}

// valueOf is what the oracle found for a name, or for what is no step what
// went in.
func (o *oracle) valueOf(s method.Worked, name string) formula.Value {
	if v, ok := o.found[s.Method+" "+name]; ok {
		return v
	}
	return s.At(name)
}

func (o *oracle) value(s method.Worked, name string, member int) float64 {
	v := o.valueOf(s, name)
	if v.List != nil {
		v = v.List[member]
	}
	return v.Number
}

// alike reports whether two values agree to a share of the larger.
func alike(a, b formula.Value, share float64) bool {
	if len(a.List) != len(b.List) || a.State != b.State {
		return false
	}
	for i := range a.List {
		if !alike(a.List[i], b.List[i], share) {
			return false
		}
	}
	return math.Abs(a.Number-b.Number) <= share*math.Max(math.Abs(a.Number), math.Abs(b.Number))+1e-12
}
