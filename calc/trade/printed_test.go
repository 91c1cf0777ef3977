package trade

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
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
	eachDrawn(t, printedDraws, func(d *method.Data, v method.Values) int {
		held := 0
		for _, res := range d.Sheet().Gives {
			want := d.Run(v, res.Name).Results[res.Name]
			steps := d.Work(v, res.Name)
			if want.State != formula.Known || want.Word != "" || len(steps) == 0 {
				continue
			}
			o := &oracle{t: t, found: map[string]formula.Value{}}
			var last formula.Value
			for _, s := range steps {
				last = o.step(s)
			}
			if !alike(last, want, 1e-9) {
				t.Fatalf("%s: %s is %+v at %v, and the formulas as printed come to %+v", d.Sheet().Name, res.Name, want, texts(v), last)
			}
			held++
		}
		return held
	})
}

// eachDrawn calls do for values drawn about the cases of every formula method,
// and sees that it held something often enough.
func eachDrawn(t *testing.T, draws int, do func(d *method.Data, v method.Values) int) {
	t.Helper()
	for _, name := range Library().Names() {
		d, ok := methodOf(t, name).(*method.Data)
		if !ok {
			continue
		}
		r, held := rand.New(rand.NewPCG(21, uint64(len(name)))), 0
		cases := d.Sheet().Cases
		for n := range draws {
			held += do(d, drawnValues(r, d, cases[n%len(cases)].Values))
		}
		if held < draws/2 {
			t.Errorf("%s: only %d results were held", name, held)
		}
	}
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
var programs = map[string]*vm.Program{}

func compiled(source string) (*vm.Program, error) {
	if p, ok := programs[source]; ok {
		return p, nil
	}
	p, err := expr.Compile(source, expr.DisableAllBuiltins())
	if err == nil {
		programs[source] = p
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

// TestWorkedLines follows worked lines as a reader would: it reads each step
// again with its numbers put in, works it from these alone, and finds the
// printed figure of the step; the last gives the printed result.
func TestWorkedLines(t *testing.T) {
	eachDrawn(t, 300, func(d *method.Data, v method.Values) int {
		held := 0
		for _, res := range d.Sheet().Gives {
			want := d.Run(v, res.Name).Results[res.Name]
			steps := d.Work(v, res.Name)
			if want.State != formula.Known || want.Word != "" || len(steps) == 0 {
				continue
			}
			for i, s := range steps {
				followed(t, d, res, s, i == len(steps)-1)
			}
			held++
		}
		return held
	})
}

// followed works one step from its printed numbers. A line whose values are
// lists is worked with the lists as printed; a look-up in a table is no sum.
func followed(t *testing.T, d *method.Data, res *method.Result, s method.Worked, last bool) {
	t.Helper()
	if s.Rule == nil || s.Value.State != formula.Known || s.Value.Word != "" || lookedUp(s.Rule) {
		return
	}
	line, scope, env := formula.TextWith(s.Rule, s.Given), &formula.Scope{}, onPaper{}
	if holdsList(s) {
		line, scope = formula.Text(s.Rule), env.read(t, s)
	}
	n, faults := formula.ParseBody(fault.NewText("printed", line).All())
	if faults.Stopped() {
		t.Fatalf("%s: the line %q cannot be read again: %v", d.Sheet().Name, line, faults)
	}
	f, faults := formula.Check(n, scope)
	if faults.Stopped() {
		t.Fatalf("%s: the line %q is not sound: %v", d.Sheet().Name, line, faults)
	}
	got := f.Eval(env)
	if last {
		if again := res.Text(method.Calculated(got)); again != s.Text {
			t.Errorf("%s: %s = %s comes to %s, and %s is printed", d.Sheet().Name, s.Name, line, again, s.Text)
		}
		return
	}
	for i, q := range printedList(t, s.Text) {
		member := got
		if got.List != nil {
			member = got.List[i]
		}
		if math.Abs(member.Number-q.Value) > 0.5001*lastDigit(q) {
			t.Errorf("%s: %s = %s comes to %.9g, and %s is printed", d.Sheet().Name, s.Name, line, q.Unit.FromBase(member.Number), s.Text)
		}
	}
}

// holdsList reports whether a value that went into a step is a list.
func holdsList(s method.Worked) bool {
	return slices.ContainsFunc(formula.Names(s.Rule), func(name string) bool { return name != "pi" && s.At(name).List != nil })
}

// onPaper answers with the values that stand on paper.
type onPaper map[string]formula.Value

func (p onPaper) Value(name string) formula.Value {
	if v, ok := p[name]; ok {
		return v
	}
	return formula.CannotTell(name + " is not known")
}
func (p onPaper) Given(name string) bool { return p.Value(name).State == formula.Known }
func (p onPaper) Missing(string) bool    { return true }

// read takes the printed values of a step's names, and says what they are.
func (p onPaper) read(t *testing.T, s method.Worked) *formula.Scope {
	t.Helper()
	scope := &formula.Scope{Values: map[string]formula.Symbol{}}
	for _, name := range formula.Names(s.Rule) {
		text, shown := s.Given(name)
		if !shown {
			p[name] = s.At(name) // members are missing: what is given is told by them
			scope.Values[name] = formula.Symbol{Type: formula.Type{Kind: kindLike(s), Group: "member"}, Missing: true}
			continue
		}
		all := printedList(t, text)
		symbol := formula.Symbol{Type: formula.Type{Kind: all[0].Unit.Kind()}}
		if v := s.At(name); v.List != nil {
			list := formula.Value{}
			for _, q := range all {
				list.List = append(list.List, formula.Quantity(q.Value))
			}
			p[name], symbol.Type.Group = list, "member"
		} else {
			p[name] = formula.Quantity(all[0].Value)
		}
		scope.Values[name] = symbol
	}
	return scope
}

// kindLike is the kind of a step's own printed value.
func kindLike(s method.Worked) unit.Kind {
	q, _ := unit.Read(fault.NewText("printed", s.Text[strings.LastIndex(s.Text, " and ")+1:]).All())
	if _, after, ok := strings.Cut(s.Text, " and "); ok {
		q, _ = unit.Read(fault.NewText("printed", after).All())
	}
	return q.Unit.Kind()
}

// printedList reads a printed value, or the members of a list, which have one
// unit at their end.
func printedList(t *testing.T, text string) []unit.Quantity {
	t.Helper()
	parts := strings.Split(strings.ReplaceAll(text, "−", "-"), " and ")
	last := parts[len(parts)-1]
	var all []unit.Quantity
	for _, part := range parts {
		q, bad := unit.Read(fault.NewText("printed", part).All())
		if end, f := unit.Read(fault.NewText("printed", last).All()); bad == nil && f == nil && q.Unit.Symbol() == "" && end.Unit.Symbol() != "" {
			q = unit.Quantity{Value: end.Unit.ToBase(q.Value), Unit: end.Unit, Text: part}
		}
		if bad != nil {
			t.Fatalf("%q cannot be read again: %v", text, bad)
		}
		all = append(all, q)
	}
	return all
}

// lastDigit is one in the last place of a printed quantity with all of its
// four to ten figures, in base units.
func lastDigit(q unit.Quantity) float64 {
	x := q.Unit.FromBase(q.Value)
	if x == 0 {
		return 1e-9
	}
	figures := max(4, len(strings.Trim(strings.NewReplacer(".", "", "-", "", "−", "").Replace(strings.Fields(q.Text)[0]), "0")))
	return math.Abs(q.Unit.Step().ToBase(math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-float64(figures-1))))
}
