package formula

import (
	"sort"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

func (c *checker) call(n *Call) Type {
	if b := builtin(n.Function); b != nil {
		return c.builtin(n, b)
	}
	if f := c.scope.Functions[n.Function]; f != nil {
		args := c.each(n.Args)
		switch {
		case f.Broken:
			return Broken
		case f.Column != nil:
			return c.column(n, f.Column, args)
		}
		return c.own(n, f, args)
	}
	c.each(n.Args)
	return c.tell(c.unknownFunction(n))
}

func (c *checker) each(nodes []Node) []Type {
	types := make([]Type, len(nodes))
	for i, n := range nodes {
		types[i] = c.of(n)
	}
	return types
}

// head is the place of the name of a called function.
func head(n *Call) fault.Place {
	if n.Head.Text != nil {
		return n.Head
	}
	return n.Place()
}

func (c *checker) unknownFunction(n *Call) *fault.Fault {
	name := clip(n.Function)
	if c.known(n.Function) {
		return fault.At(head(n), "%q is a value and no function", name).
			Want("a sign between a value and a bracket").Fix("put * before the bracket: %s*(…)", name)
	}
	f := fault.At(head(n), "%q is not a function", name)
	if meant := strange[n.Function]; meant != "" {
		return f.Fix("%s", meant)
	}
	names := make([]string, 0, len(functions))
	for i := range functions {
		names = append(names, functions[i].name)
	}
	for own := range c.scope.Functions {
		names = append(names, own)
	}
	sort.Strings(names)
	if near := fault.Near(n.Function, names); near != "" {
		return f.Fix("%s", near)
	}
	return f.Want("one of: %s", list(names))
}

// counted tells a call with too few or too many arguments.
func (c *checker) counted(n *Call, least, most int, of string) bool {
	got := len(n.Args)
	if got >= least && (most == 0 && least > 0 || got <= most) {
		return true
	}
	c.tell(fault.At(n.Place(), "%s takes %s, and %s", clip(n.Function), counts(least, most), stand(got)).Want("%s", of))
	return false
}

func counts(least, most int) string {
	switch {
	case most == 0 && least > 0:
		return "at least one value"
	case least == 1:
		return "one value"
	}
	return plural(least)
}

func stand(n int) string {
	switch n {
	case 0:
		return "none stands"
	case 1:
		return "one stands"
	}
	return strings.TrimSuffix(plural(n), " values") + " stand"
}

func plural(n int) string {
	small := []string{"no", "one", "two", "three", "four", "five", "six"}
	if n < len(small) {
		return small[n] + " values"
	}
	return "many values"
}

func (c *checker) builtin(n *Call, b *function) Type {
	shapes := map[bool]string{true: "(x)", false: "(a, b, …)"}
	if !c.counted(n, b.least, b.most, b.name+shapes[b.most == 1]) {
		c.each(n.Args)
		return Broken
	}
	switch b.rule {
	case tallyRule:
		return c.tally(n)
	case equalRule:
		return c.extreme(n)
	}
	arg := n.Args[0]
	t := c.of(arg)
	switch b.rule {
	case sumRule, countRule:
		return c.fold(n, b, t)
	case rootRule:
		return c.root(n, t)
	case stepRule:
		if !c.amount(arg, t, "stripped of its sign") {
			return Broken
		}
		return t
	}
	return c.curve(arg, b, t)
}

// angle is the kind of an angle.
var angle = unit.Kind{Dims: unit.Dims{5: 2}}

// curve types the functions that take and give plain numbers or angles.
func (c *checker) curve(arg Node, b *function, t Type) Type {
	if t.loose() {
		return Broken
	}
	want, gives := unit.Kind{}, unit.Kind{}
	switch b.rule {
	case angleRule:
		want = angle
	case arcRule:
		gives = angle
	}
	if t.quantity() && t.Kind.IsPoint() {
		return c.tell(pointFault(arg, t, "put into "+b.name))
	}
	if !c.number(arg, t) {
		return Broken
	}
	if t.Kind == want {
		return Of(gives).In(t.Group)
	}
	f := fault.At(arg.Place(), "%s takes %s, and %q is %s", b.name, Of(want), quote(arg), t).Want("%s", Of(want))
	switch {
	case b.rule == angleRule && t.Kind.IsNumber():
		f.Fix("%s(%s deg), or multiply by 1 rad", b.name, quote(arg))
	case b.rule == angleRule:
	default:
		f.Fix("divide by 1 %s first", t.Kind.Base().Symbol())
	}
	return c.tell(f)
}

func (c *checker) root(n *Call, t Type) Type {
	if !c.amount(n.Args[0], t, "put under a root") {
		return Broken
	}
	k, ok := t.Kind.Power(1)
	if !ok {
		return c.tell(fault.At(n.Args[0].Place(), "%q is %s, which has no root with a unit", quote(n.Args[0]), t).
			Want("a value whose unit has a root"))
	}
	return Of(k).In(t.Group)
}

// extreme types min and max: of several values of one kind, or of one list.
func (c *checker) extreme(n *Call) Type {
	t := c.alike(n.Args, n.Function)
	if t.loose() || !c.number(n.Args[0], t) {
		return Broken
	}
	if len(n.Args) > 1 {
		return t
	}
	if t.Group == "" {
		return c.tell(fault.At(n.Place(), "%s of one value is that value", n.Function).
			Want("several values, or one list").Fix("%s(a, b)", n.Function))
	}
	return t.In("")
}

// fold types sum and count, which make one value of a list.
func (c *checker) fold(n *Call, b *function, t Type) Type {
	arg := n.Args[0]
	switch {
	case t.loose():
		return Broken
	case t.Group == "":
		f := fault.At(arg.Place(), "%s takes a list, and %q is one value", b.name, quote(arg)).
			Want("a value that stands once for each member of a list")
		if b.rule == sumRule {
			f.Fix("a + b adds two values")
		}
		return c.tell(f)
	case b.rule == countRule:
		return Type{}
	case !c.number(arg, t):
		return Broken
	case t.Kind.IsPoint():
		f := fault.At(arg.Place(), "%q is %s for each %s, and points on a scale cannot be added", quote(arg), t, t.Group)
		if levels()[t.Kind.Scale].factor != 0 {
			f.Fix("%s", combined(t.Kind, quote(arg)))
		}
		return c.tell(f)
	}
	return t.In("")
}

// tally types the count of conditions that are true.
func (c *checker) tally(n *Call) Type {
	group := ""
	for _, arg := range n.Args {
		t := c.of(arg)
		if !t.Truth && !t.loose() {
			c.tell(fault.At(arg.Place(), "tally counts conditions, and %q is none", quote(arg)).Want("`is` or a relation"))
			continue
		}
		group = c.together(arg, group, t)
	}
	return Type{Group: group}
}

// own types a call of an own function by walking its body with the kinds of
// this call. What does not fit there is told here, in the words of the body.
func (c *checker) own(n *Call, f *Function, args []Type) Type {
	if !c.counted(n, len(f.Params), len(f.Params), shape(f)) {
		return Broken
	}
	for _, name := range c.calling {
		if name == f.Name {
			return c.tell(fault.At(head(n), "%s calls itself, and would never come to an end", clip(f.Name)).
				Want("functions of earlier steps only"))
		}
	}
	inner := *c
	inner.params = map[string]Type{}
	for i, p := range f.Params {
		inner.params[p] = args[i]
	}
	inner.calling = append(c.calling[:len(c.calling):len(c.calling)], f.Name)
	inner.faults = &fault.List{}
	t := inner.of(f.Body)
	if first := inner.faults.All(); len(first) > 0 {
		return c.tell(fault.At(n.Place(), "%s cannot be worked with these values: %s", shape(f), first[0].Message).
			Want("values that fit %s", clip(Text(f.Body))))
	}
	return t
}

// shape writes a function with its parameters.
func shape(f *Function) string {
	params := f.Params
	if f.Column != nil {
		params = f.Column.KeyNames
	}
	return f.Name + "(" + strings.Join(params, ", ") + ")"
}

// column types a look-up in a table.
func (c *checker) column(n *Call, col *Column, args []Type) Type {
	wanted := col.Name + "(" + strings.Join(col.KeyNames, ", ") + ")"
	if !c.counted(n, len(col.Keys), len(col.Keys), wanted) {
		return Broken
	}
	t := Of(col.Unit.Kind())
	for i, arg := range n.Args {
		t.Group = c.together(arg, t.Group, args[i])
		if args[i].Fits(col.Keys[i]) {
			continue
		}
		f := fault.At(arg.Place(), "%q is %s, and this key of the table %s is %s", quote(arg), args[i], col.Table, col.Keys[i])
		if col.Keys[i].quantity() {
			f.Want("%s, such as %s", col.Keys[i], col.Keys[i].Kind.Example())
		}
		c.tell(f)
		t = Broken
	}
	return t
}
