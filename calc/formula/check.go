package formula

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// Check settles what every name in a tree stands for and that the kinds fit,
// before any number exists. The formula is nil when the list holds a stop. A
// name whose type is Broken is passed over in silence, and so is all that
// follows from it: the formula then has a Broken type and no fault.
func Check(n Node, s *Scope) (*Formula, *fault.List) {
	c := newChecker(s)
	t := c.of(n)
	return c.formula(n, t)
}

// CheckAs checks as [Check] does, and that the value is what is wanted: the
// kind of a result's unit, or a choice. Where a choice is wanted, one of its
// words may stand instead of a name: `metal = copper` in a binding.
func CheckAs(n Node, s *Scope, want Type) (*Formula, *fault.List) {
	c := newChecker(s)
	if name, ok := n.(*Name); ok && want.Words != nil && !c.known(name.Text) {
		n = &Word{name.At, name.Text}
		t := c.choice(name.Text, name.Place(), want.Words)
		return c.formula(n, t)
	}
	t := c.of(n)
	if !t.Fits(want) {
		c.tell(c.misfit(n, t, want))
	}
	return c.formula(n, t)
}

// CheckFunction checks the body of an own function for what is wrong with any
// values put in: names, and kinds that do not hang on its parameters. A caller
// that finds a stop marks the function as Broken, so that its calls are passed
// over. The kinds of each call are checked where the call stands.
func CheckFunction(f *Function, s *Scope) *fault.List {
	c := newChecker(s)
	c.calling = []string{f.Name}
	c.params = map[string]Type{}
	for _, p := range f.Params {
		c.params[p] = Broken
	}
	c.of(f.Body)
	return c.faults
}

// checker walks a tree once. It never looks at a value, only at types.
type checker struct {
	scope   *Scope
	params  map[string]Type // of the own function being checked; nil outside
	calling []string        // own functions being checked, outermost first
	types   map[Node]Type   // of the pieces walked so far of what is reckoned; nil where nothing is
	uses    *[]string       // each once
	nodes   *int
	faults  *fault.List
}

func newChecker(s *Scope) *checker {
	if s == nil {
		s = &Scope{}
	}
	return &checker{scope: s, uses: &[]string{}, nodes: new(int), faults: &fault.List{}}
}

func (c *checker) formula(n Node, t Type) (*Formula, *fault.List) {
	if c.faults.Stopped() {
		return nil, c.faults
	}
	slices.Sort(*c.uses)
	return &Formula{node: n, typ: t, scope: c.scope, uses: *c.uses, nodes: *c.nodes}, c.faults
}

// tell adds a fault and returns the type of what was found wrong.
func (c *checker) tell(f *fault.Fault) Type {
	c.faults.Add(f)
	return Broken
}

// of returns the type of a piece, and tells what is wrong in it.
func (c *checker) of(n Node) Type {
	if *c.nodes++; *c.nodes > mostNodes {
		if *c.nodes == mostNodes+1 {
			c.tell(fault.At(n.Place(), "the formula has too many pieces with its own functions written out").
				Want("at most %d", mostNodes).Fix("split it into steps of its own"))
		}
		return Broken
	}
	t := c.piece(n)
	if c.types != nil {
		c.types[n] = t
	}
	return t
}

// reckoned begins to keep the types of pieces: what is said of sums and products
// looks back at them.
func (c *checker) reckoned() {
	if c.types == nil {
		c.types = map[Node]Type{}
	}
}

func (c *checker) piece(n Node) Type {
	switch n := n.(type) {
	case *Number:
		return Of(n.Unit.Kind())
	case *Name:
		return c.name(n)
	case *Group:
		return c.of(n.Inner)
	case *Negate:
		return c.negate(n)
	case *Binary:
		c.reckoned()
		return c.binary(n)
	case *Call:
		c.reckoned()
		return c.call(n)
	case *NoneOutcome, *UnknownOutcome:
		return Type{Any: true}
	case *Cases:
		return c.cases(n)
	case *Word:
		return c.tell(fault.At(n.Place(), "%q is a word of a choice, and stands only behind `is`", clip(n.Text)))
	}
	return c.condition(n)
}

// known reports whether a name stands for a value here.
func (c *checker) known(name string) bool {
	if _, ok := c.params[name]; ok || name == "pi" {
		return true
	}
	_, ok := c.scope.Values[name]
	return ok
}

func (c *checker) name(n *Name) Type {
	if n.Text == "pi" {
		return Type{}
	}
	if t, ok := c.params[n.Text]; ok {
		return t
	}
	if s, ok := c.scope.Values[n.Text]; ok {
		if !slices.Contains(*c.uses, n.Text) {
			*c.uses = append(*c.uses, n.Text)
		}
		return s.Type
	}
	return c.tell(c.unknownName(n))
}

// unknownName is the fault of a name that stands for nothing here.
func (c *checker) unknownName(n *Name) *fault.Fault {
	if f := c.scope.Functions[n.Text]; f != nil {
		return fault.At(n.Place(), "%q is a function, and its brackets are missing", clip(n.Text)).
			Fix("%s", shape(f))
	}
	if builtin(n.Text) != nil {
		return bracketless(n.Text, n.Place())
	}
	if strings.EqualFold(n.Text, "pi") || n.Text == "π" {
		return fault.At(n.Place(), "%q is not the name of a value here", n.Text).Fix("pi")
	}
	names := c.valueNames()
	for _, name := range names {
		if slices.Contains(c.scope.Values[name].Type.Words, n.Text) {
			return fault.At(n.Place(), "%q is a word of the choice %q, and no value", clip(n.Text), name).
				Want("a choice only in a condition").Fix("… when %s is %s, else …", name, n.Text)
		}
	}
	f := fault.At(n.Place(), "%q is not the name of a value here", clip(n.Text))
	if near := fault.Near(n.Text, names); near != "" {
		return f.Fix("%s", near)
	}
	if len(names) > 0 && len(names) <= 12 {
		f.Want("one of: %s", list(names))
	}
	return f
}

// valueNames returns the names of all values in scope, sorted.
func (c *checker) valueNames() []string {
	var names []string
	for name := range c.params {
		names = append(names, name)
	}
	for name := range c.scope.Values {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	return names
}

func (c *checker) cases(n *Cases) Type {
	outcomes := make([]Node, 0, len(n.Cases)+1)
	group := ""
	for _, k := range n.Cases {
		outcomes = append(outcomes, k.Outcome)
		cond := c.of(k.When)
		group = c.together(k.When, group, cond)
	}
	t := c.alike(append(outcomes, n.Else), "the cases of one step")
	if !t.loose() || t.Any {
		t.Group = c.together(n, group, t)
	}
	return t
}

// alike returns the common type of values that must be of one kind.
func (c *checker) alike(nodes []Node, what string) Type {
	types := make([]Type, len(nodes))
	first, found := 0, false
	for i, n := range nodes {
		types[i] = c.of(n)
		if !types[i].loose() && (!found || bare(nodes[first])) {
			first, found = i, true
		}
	}
	if !found {
		return c.loosest(types)
	}
	t, group, broken := types[first], "", false
	for i, n := range nodes {
		group = c.together(n, group, types[i])
		switch {
		case t.Words != nil && types[i].Words != nil:
			t.Words = merged(t.Words, types[i].Words)
		case !types[i].Fits(t):
			c.tell(c.unlike(n, types[i], nodes[first], t).Want("%s in %s", t, what))
			broken = true
		}
	}
	if broken {
		return Broken
	}
	return t.In(group)
}

// loosest is the type of values none of which has a kind of its own.
func (c *checker) loosest(types []Type) Type {
	for _, t := range types {
		if t.Broken {
			return Broken
		}
	}
	return Type{Any: true}
}

func merged(a, b []string) []string {
	all := slices.Clone(a)
	for _, w := range b {
		if !slices.Contains(all, w) {
			all = append(all, w)
		}
	}
	return all
}

// together returns the list group that two pieces make, and tells when each
// belongs to a list of its own.
func (c *checker) together(n Node, group string, t Type) string {
	switch {
	case t.Broken || t.Group == "" || t.Group == group:
		return group
	case group == "":
		return t.Group
	}
	c.tell(fault.At(n.Place(), "%q is one for each %s, and meets one for each %s", quote(n), t.Group, group).
		Want("values of one list").Fix("sum(…), min(…) or max(…) makes one value of a list"))
	return group
}

// quote returns the text of a piece for a sentence.
func quote(n Node) string {
	if s := n.Place().String(); s != "" {
		return clip(s)
	}
	return clip(Text(n))
}

// bare reports whether a piece is a number without a unit.
func bare(n Node) bool {
	switch n := n.(type) {
	case *Number:
		return n.Unit.Symbol() == ""
	case *Negate:
		return bare(n.Operand)
	case *Group:
		return bare(n.Inner)
	}
	return false
}

func list(names []string) string {
	s := ""
	for i, n := range names {
		if i > 0 {
			s += ", "
		}
		s += n
	}
	return s
}
