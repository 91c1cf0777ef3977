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
	notes  *formula.Notes // nil where nothing is noted
	asked  []asked        // those that were asked for, where it is
}

func newInputs(s *Sheet, v Values) *inputs { return &inputs{sheet: s, values: v} }

// Notes implements [formula.Noting].
func (in *inputs) Notes() *formula.Notes { return in.notes }

// standing returns the value of an input as it stands.
func (in *inputs) standing(i *Input) formula.Value {
	point, typed := in.values[i.Name]
	switch {
	case typed && point.Known():
		return point.Value
	case i.Usually != nil:
		v := i.Usually.Value
		if typed {
			v.Assumed = []string{i.Name}
		}
		return v
	}
	return i.unknown()
}

// given reports whether an input that stands so is given: a usual value counts
// as given, and so does one that is being looked for.
func (in *inputs) given(i *Input, standing *formula.Value) bool {
	return standing.State == formula.Known || in.values[i.Name].Sought
}

// ask returns an input as it stands, and notes that it was asked for.
func (in *inputs) ask(name string) asked {
	for _, a := range in.asked {
		if a.input.Name == name {
			return a
		}
	}
	a := asked{input: in.sheet.Input(name)}
	a.value = in.standing(a.input)
	a.given = in.given(a.input, &a.value)
	if in.notes != nil {
		a.value = in.notes.Entered(a.value)
		in.asked = append(in.asked, a)
	}
	return a
}

// all returns the inputs that have a value.
func (in *inputs) all() []Taken {
	var all []Taken
	for _, i := range in.sheet.Takes {
		if t := in.taken(i); in.given(i, &t.Point.Value) {
			all = append(all, t)
		}
	}
	return all
}

// taken returns an input as it stands.
func (in *inputs) taken(i *Input) Taken {
	t := Taken{Input: i}
	point, typed := in.values[i.Name]
	switch {
	case typed && point.Known():
		t.Point = point
	case i.Usually != nil:
		t.Point, t.Usual, t.Assumed = *i.Usually, !typed, typed
		if typed {
			t.Point.Value.Assumed = []string{i.Name}
		}
	default:
		t.Point = Point{Value: i.unknown(), Text: DontKnow, Place: point.Place}
	}
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
