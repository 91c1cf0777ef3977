package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Unknown returns the fault of a name that the method does not take.
func (s *Sheet) Unknown(name string, at fault.Place) *fault.Fault {
	names := make([]string, len(s.Takes))
	for n, in := range s.Takes {
		names[n] = in.Name
	}
	f := fault.At(at, "%s does not take %q", s.Name, name).Want("one of: %s", strings.Join(names, ", "))
	if near := fault.Near(name, names); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// Check checks typed values against one another: a value that is missing or
// asked for in another case only, a group of which exactly one is given, lists
// of unequal length. A missing value is told at the place given.
func (s *Sheet) Check(v Values, at fault.Place) *fault.List {
	faults := &fault.List{}
	in := newInputs(s, v)
	for _, group := range s.OneOf {
		faults.Add(s.oneOf(group, v, at))
	}
	for _, i := range s.Takes {
		faults.Add(s.present(i, v, in, at))
	}
	faults.Join(s.lengths(v))
	for _, i := range s.Takes {
		if p, typed := v[i.Name]; typed && p.Asked > 0 {
			faults.Add(fault.At(p.Place, "a member of %s is asked for, and no most or least says what must hold", i.Name).
				Want("a number, or most: %s where so and so", i.Name))
		}
	}
	return faults
}

// AsksBy reports whether the method asks for some of its values by what another
// one is, so that [Sheet.Check] may find otherwise where that moves.
func (s *Sheet) AsksBy(name string) bool {
	return slices.ContainsFunc(s.Takes, func(i *Input) bool { return i.When != nil && slices.Contains(i.When.Uses(), name) })
}

func (s *Sheet) oneOf(group []string, v Values, at fault.Place) *fault.Fault {
	var typed []string
	for _, name := range group {
		if _, ok := v[name]; ok {
			typed = append(typed, name)
		}
	}
	switch len(typed) {
	case 1:
		return nil
	case 0:
		return fault.At(at, "%s is missing", strings.Join(group, " or ")).
			Want("exactly one of: %s", strings.Join(group, ", ")).Fix("%s", s.Input(group[0]).example())
	}
	return fault.At(v[typed[1]].Place, "%s stand together", strings.Join(typed, " and ")).
		Want("exactly one of: %s", strings.Join(group, ", ")).Fix("take out all but one")
}

func (i *Input) example() string { return i.Sample(": ") }

// Sample returns the input's name with the book's example, or another value
// of its kind, joined by a mark: "run: 9 m".
func (i *Input) Sample(mark string) string {
	switch {
	case i.Choice != nil && i.Usually != nil:
		return i.Name + mark + asTyped(i.Usually.Value)
	case i.Choice != nil && len(i.Book) > 0:
		return i.Name + mark + asTyped(i.Book[0].Value)
	case len(i.Book) > 0:
		return i.Name + mark + i.Book[0].Text
	case i.Choice != nil:
		return i.Name + mark + i.Choice[0]
	}
	return i.Name + mark + i.anyValue()
}

// asTyped is a word of a choice, or a list of them, as an author types it.
func asTyped(v formula.Value) string {
	if v.List == nil {
		return v.Word
	}
	words := make([]string, len(v.List))
	for k, m := range v.List {
		words[k] = m.Word
	}
	return strings.Join(words, " and ")
}

// anyValue is a value of the input's kind, to show how one is typed: the usual
// example of its kind where the input takes that.
func (i *Input) anyValue() string {
	if len(i.Among) > 0 {
		return i.Among[0].Text
	}
	shown := i.Unit.Kind().Example()
	q, f := unit.Read(fault.NewText("", shown).All())
	switch {
	case f != nil || i.outside(q.Value) == "":
		return shown
	case i.To != nil:
		return i.To.Text
	}
	return i.From.Text
}

// Sample returns the method's name with a sample of each value that it cannot
// do without, and of each of which the book has an example, as they are typed
// at the command line.
func (s *Sheet) Sample() string {
	line := s.Name
	for _, i := range s.Takes {
		first := len(s.OneOf) > 0 && slices.ContainsFunc(s.OneOf, func(g []string) bool { return g[0] == i.Name })
		wanted := !i.Optional || len(i.Book) > 0
		needed := wanted && i.Usually == nil && i.When == nil && !s.inOneOf(i.Name)
		if first || needed {
			name, value, _ := strings.Cut(i.Sample("="), "=")
			line += " " + name + `="` + value + `"`
		}
	}
	return line
}

func (s *Sheet) present(i *Input, v Values, in *inputs, at fault.Place) *fault.Fault {
	point, typed := v[i.Name]
	applies, _ := in.applies(i)
	if typed && applies == formula.False {
		return fault.At(point.Place, "%s does not belong here", i.Name).
			Want("it only when %s", formula.Text(i.When.Node())).Fix("take it out")
	}
	if typed || i.Optional || i.Usually != nil || applies != formula.True || s.inOneOf(i.Name) {
		return nil
	}
	return fault.At(at, "%s is missing", i.Name).Want("%s", i.Fact()).Fix("%s", i.example())
}

func (s *Sheet) inOneOf(name string) bool {
	for _, group := range s.OneOf {
		for _, n := range group {
			if n == name {
				return true
			}
		}
	}
	return false
}

// lengths checks that lists of one group have equally many members.
func (s *Sheet) lengths(v Values) *fault.List {
	faults := &fault.List{}
	first := map[string]*Input{}
	for _, i := range s.Takes {
		p, ok := v[i.Name]
		if !ok || i.Group == "" || !p.Known() {
			continue
		}
		other := first[i.Group]
		if other == nil {
			first[i.Group] = i
			continue
		}
		if n, m := len(p.Value.List), len(v[other.Name].Value.List); n != m {
			faults.Add(fault.At(p.Place, "%s has %d members, and %s has %d", i.Name, n, other.Name, m).
				Want("one of each for every %s", i.Group).Fix("put - where one is not known"))
		}
	}
	return faults
}

// inputs are the inputs of a method as they stand at one point: typed, left
// to the usual value, or missing. It is the part of [formula.Env] that asks
// about them.
type inputs struct {
	sheet  *Sheet
	values Values
	moving []string // names whose points stand in moved, and not among the values
	moved  []*Point // nil for one that was not typed

	notes *formula.Notes // nil where nothing is noted
	asked []asked        // those that were asked for, where it is
}

func newInputs(s *Sheet, v Values) *inputs { return &inputs{sheet: s, values: v} }

// Notes implements [formula.Noting].
func (in *inputs) Notes() *formula.Notes { return in.notes }

// typedValue is what was typed for an input; its value is nil where nothing was.
type typedValue struct {
	value  *formula.Value
	sought bool
}

// typed returns what was typed for an input; a value that is found by name is
// put into the room.
func (in *inputs) typed(name string, room *formula.Value) typedValue {
	for n := range in.moving {
		if in.moving[n] == name {
			return in.moved[n].typed()
		}
	}
	if _, typed := in.values[name]; !typed {
		return typedValue{}
	}
	*room = in.values[name].Value
	return typedValue{room, in.values[name].Sought}
}

func (p *Point) typed() typedValue {
	if p == nil {
		return typedValue{}
	}
	return typedValue{&p.Value, p.Sought}
}

// point returns what was typed under a name, with its text and its place.
func (in *inputs) point(name string) (p Point, typed bool) {
	for n := range in.moving {
		if in.moving[n] == name && in.moved[n] != nil {
			return *in.moved[n], true
		} else if in.moving[n] == name {
			return p, false
		}
	}
	p, typed = in.values[name]
	return p, typed
}

// standing returns the value of an input for which this was typed.
func (i *Input) standing(t typedValue) formula.Value {
	switch {
	case t.value != nil && t.value.State == formula.Known:
		return *t.value
	case i.Usually == nil:
		return i.unknown()
	}
	v := i.Usually.Value
	if t.value != nil {
		v.Assumed = []string{i.Name}
	}
	return v
}

// given reports whether an input is given that stands so: a usual value counts
// as given, and so does one that is being looked for.
func (t typedValue) given(standing *formula.Value) bool {
	return standing.State == formula.Known || t.sought
}

// ask returns an input as it stands, and notes that it was asked for.
func (in *inputs) ask(name string) asked {
	for _, a := range in.asked {
		if a.input.Name == name {
			return a
		}
	}
	var room formula.Value
	t := in.typed(name, &room)
	a := asked{input: in.sheet.Input(name), typed: t.value != nil}
	a.value = a.input.standing(t)
	a.given = t.given(&a.value)
	if in.notes != nil {
		a.value = in.notes.Entered(a.value)
		in.asked = append(in.asked, a)
	}
	return a
}

// all implements standings.
func (in *inputs) all(moved []*Point) []Taken {
	var all []Taken
	for _, i := range in.sheet.Takes {
		if t, ok := in.one(i.Name, moved); ok {
			all = append(all, t)
		}
	}
	return all
}

// one implements standings.
func (in *inputs) one(name string, moved []*Point) (t Taken, ok bool) {
	i := in.sheet.Input(name)
	if i == nil {
		return t, false
	}
	at := inputs{sheet: in.sheet, values: in.values, moving: in.moving, moved: moved}
	t = at.taken(i)
	var room formula.Value
	return t, at.typed(name, &room).given(&t.Point.Value)
}

// taken returns an input as it stands.
func (in *inputs) taken(i *Input) Taken {
	p, typed := in.point(i.Name)
	t := Taken{Input: i, Point: Point{Text: DontKnow, Place: p.Place}}
	switch {
	case typed && p.Known():
		t.Point = p
	case i.Usually != nil:
		t.Point, t.Usual, t.Assumed = *i.Usually, !typed, typed
	}
	var room formula.Value
	t.Point.Value = i.standing(in.typed(i.Name, &room))
	return t
}

// Value implements [formula.Env] for inputs.
func (in *inputs) Value(name string) formula.Value {
	return in.ask(name).value
}

// Given implements [formula.Env].
func (in *inputs) Given(name string) bool { return in.ask(name).given }

// Missing implements [formula.Env]: whether a fact is missing that might have
// been given here. A value that is not asked for, or whose group has another
// member given, is not missing.
func (in *inputs) Missing(name string) bool {
	i := in.sheet.Input(name)
	if i == nil || in.Given(name) || in.sheet.inOneOf(name) {
		return false
	}
	applies, _ := in.applies(i)
	return applies != formula.False
}

// applies asks whether an input is asked for at all.
func (in *inputs) applies(i *Input) (formula.Truth, string) {
	if i.When == nil {
		return formula.True, ""
	}
	return i.When.Truth(in)
}
