package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// mostNodes is how large a method's working may be once every borrowed step
// is written out: what a reader's browser and a claim's proof can bear.
const mostNodes = 2000

// linker finds, for each method read, the methods it borrows from, the inputs
// it passes through to them, and whether its formulas are sound.
type linker struct {
	library *Library
	faults  *fault.List
	state   map[*Data]int
	own     bool // an author's methods: nobody but the press works their cases
}

const (
	linking = 1
	linked  = 2
)

func (l linker) all(read []*Data) {
	for _, d := range read {
		l.link(d)
	}
}

// link links a method after those it borrows from. It returns false where a
// method borrows from itself, also by way of others.
func (l linker) link(d *Data) bool {
	switch l.state[d] {
	case linked:
		return true
	case linking:
		return false
	}
	l.state[d] = linking
	mine := &fault.List{}
	for _, s := range d.steps {
		if s.line.Borrow != nil {
			l.lend(d, s, mine)
		}
	}
	d.pass(mine)
	d.checkInputs(mine)
	d.checkSteps(mine)
	d.checkGives(mine)
	d.checkMoves(mine)
	d.listReferences()
	d.setHash(l.library)
	if !d.broken && !mine.Stopped() {
		d.linkCases(mine)
		if l.own {
			mine.Join(l.library.Uncautioned(d.sheet))
		}
		if !mine.Stopped() && l.own {
			d.workCases(mine)
		}
	}
	d.broken = d.broken || mine.Stopped()
	l.faults.Join(mine)
	l.state[d] = linked
	return true
}

// lend finds the method and result that a step borrows.
func (l linker) lend(d *Data, s *step, faults *fault.List) {
	b := s.line.Borrow
	s.typ = formula.Type{Broken: true}
	from, ok := l.library.methods[b.Method]
	if !ok {
		faults.Add(l.library.NoMethod(b.Method, b.At))
		return
	}
	if other, isData := from.(*Data); isData {
		if !l.link(other) {
			faults.Add(fault.At(b.At, "%s borrows from itself by way of %s", d.sheet.Name, b.Method).
				Want("a rule that does not rest on its own result"))
			return
		}
		if other.broken {
			d.broken = true
			return
		}
	}
	result := from.Sheet().Result(b.Result.Text)
	if result == nil {
		faults.Add(noResult(from.Sheet(), b.Result.Text, b.Result.Place()))
		return
	}
	s.borrow = &loan{from: from, result: result, with: map[string]binding{}}
	if !slices.Contains(d.sheet.Borrows, b.Method) {
		d.sheet.Borrows = append(d.sheet.Borrows, b.Method)
	}
	s.typ = result.Type()
}

func noResult(s *Sheet, name string, at fault.Place) *fault.Fault {
	names := make([]string, len(s.Gives))
	for i, r := range s.Gives {
		names[i] = r.Name
	}
	f := fault.At(at, "%s does not give %q", s.Name, name).Want("one of: %s", strings.Join(names, ", "))
	if near := fault.Near(name, names); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// NoResult returns the fault of a result that the method does not give.
func (s *Sheet) NoResult(name string, at fault.Place) *fault.Fault { return noResult(s, name, at) }

// Type returns what the formula checker knows of the result.
func (r *Result) Type() formula.Type {
	if r.Words != nil {
		return formula.Type{Words: r.Words, Group: r.Group}
	}
	return formula.Type{Kind: r.Unit.Kind(), Group: r.Group}
}

// pass adds the inputs that borrowed methods take and this one neither
// declares nor binds.
func (d *Data) pass(faults *fault.List) {
	for _, s := range d.steps {
		if s.borrow == nil {
			continue
		}
		from := s.borrow.from.Sheet()
		bound := map[string]bool{}
		for _, w := range s.line.Borrow.With {
			bound[w.Input.Text] = true
		}
		for _, in := range from.Takes {
			if !bound[in.Name] {
				d.passOn(s, in, faults)
			}
		}
		for _, group := range from.OneOf {
			if !slices.ContainsFunc(group, func(n string) bool { return bound[n] || d.declares(n) }) {
				d.addGroup(group)
			}
		}
	}
}

// declares reports whether the method itself declares an input.
func (d *Data) declares(name string) bool {
	return slices.ContainsFunc(d.sheet.Takes[:d.passed], func(i *Input) bool { return i.Name == name })
}

func (d *Data) addGroup(group []string) {
	for _, g := range d.sheet.OneOf {
		if slices.Equal(g, group) {
			return
		}
	}
	d.sheet.OneOf = append(d.sheet.OneOf, group)
}

func (d *Data) passOn(s *step, in *Input, faults *fault.List) {
	at := s.line.Borrow.At
	if d.byName[in.Name] != nil {
		faults.Add(fault.At(at, "%s takes %q, which is a step here", s.line.Borrow.Method, in.Name).
			Fix("… with %s = %s", in.Name, in.Name))
		return
	}
	mine := d.sheet.Input(in.Name)
	if mine == nil {
		d.sheet.Takes = append(d.sheet.Takes, in)
		return
	}
	if !mine.Type().Fits(in.Type()) || mine.Group != in.Group {
		faults.Add(fault.At(at, "%s takes %q as %s, and here it is %s", s.line.Borrow.Method, in.Name, in.Type(), mine.Type()).
			Want("one name for one thing"))
		return
	}
	faults.Add(otherSense(mine.Sense, in.Sense, in.Name, at))
}

// otherSense is the fault of a value handed over in another sense: one way
// where out and back is meant. A sense that is not stated fits any.
func otherSense(have, want, name string, at fault.Place) *fault.Fault {
	if have == "" || want == "" || have == want {
		return nil
	}
	return fault.At(at, "%q is meant %s, and what stands here is %s", name, want, have).Want("a value in the same sense")
}

// scope returns what the method's formulas may name before any step.
func (d *Data) scope() *formula.Scope {
	s := &formula.Scope{Values: map[string]formula.Symbol{}, Functions: map[string]*formula.Function{}}
	for _, in := range d.sheet.Takes {
		missing := in.Optional || in.whenNode != nil || in.When != nil || d.sheet.inOneOf(in.Name)
		s.Values[in.Name] = formula.Symbol{Type: in.Type(), Missing: missing}
	}
	for _, name := range d.unread {
		s.Values[name] = formula.Symbol{Type: formula.Type{Broken: true}}
	}
	for name, c := range d.constants {
		s.Values[name] = formula.Symbol{Type: formula.Type{Kind: c.number.Unit.Kind()}}
	}
	for name, f := range d.functions {
		s.Functions[name] = f
	}
	return s
}

func (d *Data) checkInputs(faults *fault.List) {
	s := d.scope()
	for _, in := range d.sheet.Takes[:d.passed] {
		if in.whenNode == nil {
			continue
		}
		f, fs := formula.Check(in.whenNode, s)
		faults.Join(fs)
		if !fs.Stopped() {
			in.When = f
		}
	}
	for _, n := range d.needs {
		f, fs := formula.Check(n.node, s)
		faults.Join(fs)
		n.holds = f
	}
}

// checkSteps checks the working line by line: a step may name only what
// stands before it.
func (d *Data) checkSteps(faults *fault.List) {
	s, nodes := d.scope(), 0
	for _, st := range d.steps {
		switch {
		case st.function != nil:
			d.checkFunction(st, s, faults)
			continue
		case st.borrow != nil:
			nodes += d.checkLoan(st, s, faults)
		case st.line.Body != nil && !st.typ.Broken:
			f, fs := formula.Check(st.line.Body, s)
			faults.Join(fs)
			if fs.Stopped() || f == nil {
				st.typ = formula.Type{Broken: true}
				break
			}
			st.body, st.typ, st.uses = f, f.Type(), f.Uses()
			nodes += f.Nodes()
			d.sourced(st, faults)
		}
		s.Values[st.line.Name.Text] = formula.Symbol{Type: st.typ}
	}
	if nodes > mostNodes {
		faults.Add(fault.At(d.sheet.Place, "the working of %s is too large: %d pieces", d.sheet.Name, nodes).Want("at most %d", mostNodes))
	}
	for _, r := range d.verdicts {
		r.check(s, faults)
	}
	for _, t := range d.cautions {
		if t.node != nil {
			f, fs := formula.Check(t.node, s)
			faults.Join(fs)
			t.when = f
		}
	}
}

// checkFunction checks an own function once, so that what is wrong in it is
// told where it stands and not at each call.
func (d *Data) checkFunction(st *step, s *formula.Scope, faults *fault.List) {
	if st.function.Broken {
		return
	}
	fs := formula.CheckFunction(st.function, s)
	faults.Join(fs)
	st.function.Broken = fs.Stopped()
	d.sourced(st, faults)
}

// sourced asks of a step that states a number of its own that it says where
// the number comes from.
func (d *Data) sourced(st *step, faults *fault.List) {
	if len(st.line.References) > 0 || len(d.referencesOf(st, st.line.Body)) > 0 {
		return
	}
	faults.Add(fault.At(st.line.Place, "the step %q does not say where its rule comes from", st.line.Name.Text).
		Want("the name of a reference entry in square brackets at its end, of the program or from own references"))
}

// referencesOf returns the entries of a step: its own, and those of the
// constants, tables and own functions in a rule, which is the step's body or
// the case of it that was chosen.
func (d *Data) referencesOf(st *step, rule formula.Node) []*Reference {
	all := slices.Clone(st.references)
	if rule == nil {
		return all
	}
	for _, name := range append(formula.Names(rule), formula.Calls(rule)...) {
		all = append(all, d.sources[name]...)
	}
	return all
}

// checkLoan checks the bindings of a borrowed result and returns how many
// pieces its working adds.
func (d *Data) checkLoan(st *step, s *formula.Scope, faults *fault.List) int {
	from, nodes := st.borrow.from.Sheet(), 0
	var key strings.Builder
	key.WriteString(from.Name)
	for _, w := range st.line.Borrow.With {
		in := from.Input(w.Input.Text)
		if in == nil {
			faults.Add(from.Unknown(w.Input.Text, w.Input.Place()))
			continue
		}
		if word, ok := bindsWord(w.Value, in, s); ok {
			st.borrow.with[in.Name] = binding{word: word}
			key.WriteString("|" + in.Name + " is " + word)
			continue
		}
		f, fs := formula.Check(w.Value, s)
		faults.Join(fs)
		if fs.Stopped() || f == nil {
			continue
		}
		faults.Add(d.fitsInput(f, in, w.Value))
		st.borrow.with[in.Name] = binding{value: f}
		st.uses = append(st.uses, f.Uses()...)
		nodes += f.Nodes()
		key.WriteString("|" + in.Name + "=" + formula.Text(w.Value))
	}
	st.borrow.key = key.String()
	if from.Result(st.borrow.result.Name).Group == "" {
		st.typ.Group = ""
	}
	if other, ok := st.borrow.from.(*Data); ok {
		nodes += other.size()
	}
	return nodes
}

// bindsWord reports whether a binding is a choice's word.
func bindsWord(n formula.Node, in *Input, s *formula.Scope) (string, bool) {
	if in.Choice == nil {
		return "", false
	}
	text := n.Place().Trim().String()
	if _, isName := s.Values[text]; isName {
		return "", false
	}
	return text, slices.Contains(in.Choice, text)
}

func (d *Data) fitsInput(f *formula.Formula, in *Input, n formula.Node) *fault.Fault {
	if t := f.Type(); !t.Fits(in.Type()) {
		return fault.At(n.Place(), "%q is %s, and %s is wanted for %s", n.Place(), t, in.Type(), in.Name)
	}
	name, ok := n.(*formula.Name)
	if !ok {
		return nil
	}
	return otherSense(d.senseOf(name.Text), in.Sense, in.Name, n.Place())
}

// senseOf returns the sense of a name: of the input, of the result that a
// step is, or of the result it was borrowed from.
func (d *Data) senseOf(name string) string {
	if in := d.sheet.Input(name); in != nil {
		return in.Sense
	}
	for _, r := range d.sheet.Gives {
		if r.Of == name && r.Sense != "" {
			return r.Sense
		}
	}
	if st := d.byName[name]; st != nil && st.borrow != nil {
		return st.borrow.result.Sense
	}
	return ""
}

// listReferences gathers the entries that the working names, those of
// borrowed results included.
func (d *Data) listReferences() {
	add := func(id string) {
		if !slices.Contains(d.sheet.References, id) {
			d.sheet.References = append(d.sheet.References, id)
		}
	}
	for _, st := range d.steps {
		for _, r := range d.referencesOf(st, st.line.Body) {
			add(r.ID)
		}
		if st.borrow != nil {
			for _, id := range st.borrow.from.Sheet().References {
				add(id)
			}
		}
	}
}

func (d *Data) size() int {
	n := 0
	for _, st := range d.steps {
		if st.body != nil {
			n += st.body.Nodes()
		} else if st.borrow != nil {
			if other, ok := st.borrow.from.(*Data); ok {
				n += other.size()
			}
		}
	}
	return n
}

// checkGives checks that each result is a step of the kind its unit says.
func (d *Data) checkGives(faults *fault.List) {
	for _, r := range d.sheet.Gives {
		t := formula.Type{}
		if st := d.byName[r.Of]; st != nil {
			t = st.typ
		} else if in := d.sheet.Input(r.Of); in != nil {
			t = in.Type()
		} else if slices.Contains(d.unread, r.Of) {
			continue
		} else {
			faults.Add(fault.At(r.Place, "the result %q is no step of the working", r.Name).Want("a step of that name, or of: a step"))
			continue
		}
		if in := d.sheet.Input(r.Name); in != nil && r.Of != r.Name {
			faults.Add(fault.At(r.Place, "%q names a value and a result", r.Name).Fix("another name for the result"))
		}
		if why := formula.ReservedName(r.Name); why != "" {
			faults.Add(fault.At(r.Place, "%q may not name a result: %s", r.Name, why).Fix("another name"))
		}
		r.Group = t.Group
		if !r.broken && !t.Fits(r.Type()) {
			faults.Add(fault.At(r.Place, "the result %q is %s, and its unit is of %s", r.Name, t, r.Unit.Kind()))
		}
	}
}

func (d *Data) checkMoves(faults *fault.List) {
	faults.Join(d.directions.Keys("directions", d.inputNames()...))
	d.sheet.Directions = directionWords(d.directions)
	for _, m := range d.sheet.Moves {
		if d.sheet.Input(m.With) == nil && d.byName[m.With] == nil {
			faults.Add(fault.At(m.Place, "%q is no value or step of %s", m.With, d.sheet.Name))
		}
	}
}
