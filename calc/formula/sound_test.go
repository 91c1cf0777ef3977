package formula

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// sound is a rule of the trade from testdata/formula/sound, checked.
type sound struct {
	name   string
	takes  []soundInput
	scope  *Scope
	steps  []soundStep
	conds  []*Formula
	gives  []soundResult
	source *fault.Text

	consts map[string]Value
	lines  []soundLine
}

type soundInput struct {
	name    string
	typ     Type
	missing bool
}

// soundStep is a step with its formula, or with the rule it borrows from.
type soundStep struct {
	name   string
	body   *Formula
	from   *sound
	result string
	with   map[string]*Formula
	words  map[string]string
}

type soundResult struct {
	name, of string
	unit     unit.Unit
}

type soundLine struct {
	word string
	rest fault.Place
}

func (s *sound) input(name string) *soundInput {
	for i := range s.takes {
		if s.takes[i].name == name {
			return &s.takes[i]
		}
	}
	return nil
}

// library holds all sound rules; rules are checked after those they borrow from.
type library struct {
	t     *testing.T
	rules map[string]*sound
	done  map[string]bool
}

// sounds reads and checks every file, and returns the rules by name.
func sounds(t *testing.T) []*sound {
	t.Helper()
	l := &library{t: t, rules: map[string]*sound{}, done: map[string]bool{}}
	paths, err := filepath.Glob("../../testdata/formula/sound/*.txt")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no sound formulas: %v", err)
	}
	var all []*sound
	for _, p := range paths {
		s := l.read(p)
		l.rules[s.name] = s
		all = append(all, s)
	}
	for _, s := range all {
		l.check(s)
	}
	return all
}

func (l *library) read(path string) *sound {
	data, err := os.ReadFile(path)
	if err != nil {
		l.t.Fatal(err)
	}
	text := fault.NewText(filepath.Base(path), string(data))
	s := &sound{
		name: strings.TrimSuffix(filepath.Base(path), ".txt"), source: text, consts: map[string]Value{},
		scope: &Scope{Values: map[string]Symbol{}, Functions: map[string]*Function{}},
	}
	at := 0
	for line := range strings.Lines(text.Source()) {
		p := text.Place(at, at+len(line)).Trim()
		at += len(line)
		word, rest, _ := strings.Cut(p.String(), " ")
		l2 := soundLine{word, p.Sub(len(p.String())-len(rest), len(p.String()))}
		s.lines = append(s.lines, l2)
		if word == "takes" {
			l.takes(s, rest)
		}
	}
	return s
}

func (l *library) takes(s *sound, rest string) {
	name, spec, _ := strings.Cut(rest, ": ")
	parts := strings.Split(spec, ", ")
	in := soundInput{name: name, missing: slices.Contains(parts, "may be missing")}
	if words, ok := strings.CutPrefix(parts[0], "choice "); ok {
		in.typ = Choice(strings.Fields(words)...)
	} else {
		in.typ = Of(l.unit(parts[0]).Kind())
	}
	for _, p := range parts[1:] {
		if group, ok := strings.CutPrefix(p, "each "); ok {
			in.typ.Group = group
		}
	}
	if why := ReservedName(name); why != "" {
		l.t.Errorf("%s: %q may not name a value: %s", s.name, name, why)
	}
	s.takes = append(s.takes, in)
}

func (l *library) unit(text string) unit.Unit {
	u, f := unit.Parse(fault.NewText("unit", text).All())
	if f != nil {
		l.t.Fatal(f)
	}
	return u
}

func (l *library) check(s *sound) {
	if l.done[s.name] {
		return
	}
	l.done[s.name] = true
	l.pass(s)
	for _, in := range s.takes {
		s.scope.Values[in.name] = Symbol{Type: in.typ, Missing: in.missing}
	}
	var table *soundTable
	for _, line := range s.lines {
		switch line.word {
		case "constant":
			name, value, _ := strings.Cut(line.rest.String(), ": ")
			q, f := unit.Read(fault.NewText("constant", value).All())
			if f != nil {
				l.t.Fatal(f)
			}
			s.scope.Values[name] = Symbol{Type: Of(q.Unit.Kind())}
			s.consts[name] = Quantity(q.Value)
		case "table":
			name, keys, _ := strings.Cut(line.rest.String(), ": ")
			table = &soundTable{name: name, keys: strings.Fields(keys)}
		case "column":
			l.column(s, table, line.rest.String())
		case "row":
			l.row(s, table, line.rest.String())
		case "step":
			l.step(s, line.rest)
		case "gives":
			l.gives(s, line.rest.String())
		case "when", "need", "verdict", "caution", "rule":
			l.cond(s, line.rest)
		}
	}
}

// pass adds the values that borrowed rules take and this one neither takes nor
// binds.
func (l *library) pass(s *sound) {
	for _, line := range s.lines {
		if line.word != "step" {
			continue
		}
		st, faults := ParseStep(line.rest)
		if faults.Stopped() || st.Borrow == nil {
			continue
		}
		from := l.rules[st.Borrow.Method]
		if from == nil {
			l.t.Fatalf("%s borrows from %q, which is not there", s.name, st.Borrow.Method)
		}
		l.check(from)
		for _, in := range from.takes {
			bound := slices.ContainsFunc(st.Borrow.With, func(b Binding) bool { return b.Input.Text == in.name })
			if mine := s.input(in.name); mine == nil && !bound {
				s.takes = append(s.takes, in)
			} else if !bound && (!mine.typ.Fits(in.typ) || mine.typ.Group != in.typ.Group) {
				l.t.Errorf("%s and %s take %q as two things", s.name, from.name, in.name)
			}
		}
	}
}

type soundTable struct {
	name    string
	keys    []string
	columns []*Column
}

func (l *library) column(s *sound, t *soundTable, rest string) {
	name, u, _ := strings.Cut(rest, ": ")
	c := &Column{Table: t.name, Name: name, Unit: l.unit(u), KeyNames: t.keys}
	for _, k := range t.keys {
		c.Keys = append(c.Keys, s.input(k).typ)
	}
	t.columns = append(t.columns, c)
	s.scope.Functions[name] = &Function{Name: name, Params: t.keys, Column: c}
}

func (l *library) row(s *sound, t *soundTable, rest string) {
	cells := strings.Split(rest, " | ")
	for i, c := range t.columns {
		var row Row
		for k, name := range t.keys {
			key := Key{Text: cells[k]}
			if s.input(name).typ.Words != nil {
				key.Word = cells[k]
			} else {
				key.Number = l.number(cells[k]) * 1e-6 // the only number keys here are mm²
			}
			row.Keys = append(row.Keys, key)
		}
		cell := cells[len(t.keys)+i]
		if row.Empty = cell == "-"; !row.Empty {
			row.Value = c.Unit.ToBase(l.number(cell))
		}
		c.Rows = append(c.Rows, row)
	}
}

func (l *library) number(s string) float64 {
	q, f := unit.Read(fault.NewText("cell", s).All())
	if f != nil {
		l.t.Fatal(f)
	}
	return q.Value
}

func (l *library) step(s *sound, p fault.Place) {
	st, faults := ParseStep(p)
	if faults.Stopped() {
		l.t.Errorf("%v", faults)
		return
	}
	if st.Params != nil {
		f := &Function{Name: st.Name.Text, Body: st.Body}
		for _, n := range st.Params {
			f.Params = append(f.Params, n.Text)
		}
		s.scope.Functions[f.Name] = f
		if faults := CheckFunction(f, s.scope); faults.Stopped() {
			l.t.Errorf("%v", faults)
		}
		return
	}
	checked := soundStep{name: st.Name.Text, with: map[string]*Formula{}, words: map[string]string{}}
	typ := Broken
	if st.Borrow != nil {
		checked.from, checked.result = l.rules[st.Borrow.Method], st.Borrow.Result.Text
		typ = l.borrow(s, st.Borrow, &checked)
	} else {
		f, faults := Check(st.Body, s.scope)
		if faults.Stopped() {
			l.t.Errorf("%v", faults)
			return
		}
		checked.body, typ = f, f.Type()
	}
	s.scope.Values[checked.name] = Symbol{Type: typ}
	s.steps = append(s.steps, checked)
}

func (l *library) borrow(s *sound, b *Borrow, into *soundStep) Type {
	for _, w := range b.With {
		in := into.from.input(w.Input.Text)
		if in == nil {
			l.t.Errorf("%s does not take %q", b.Method, w.Input.Text)
			continue
		}
		f, faults := CheckAs(w.Value, s.scope, in.typ)
		if faults.Stopped() {
			l.t.Errorf("%v", faults)
			continue
		}
		into.with[w.Input.Text] = f
	}
	for _, g := range into.from.gives {
		if g.name == into.result {
			return into.from.scope.Values[g.of].Type
		}
	}
	l.t.Errorf("%s does not give %q", b.Method, into.result)
	return Broken
}

func (l *library) gives(s *sound, rest string) {
	spec, of, found := strings.Cut(rest, ", of ")
	name, u, _ := strings.Cut(spec, ": ")
	g := soundResult{name: name, of: name, unit: l.unit(u)}
	if found {
		g.of = of
	}
	if why := ReservedName(name); why != "" {
		l.t.Errorf("%s: %q may not name a result: %s", s.name, name, why)
	}
	got, ok := s.scope.Values[g.of]
	if !ok || !got.Type.Fits(Of(g.unit.Kind())) {
		l.t.Errorf("%s gives %s in %s, and it is %s", s.name, name, u, got.Type)
	}
	s.gives = append(s.gives, g)
}

func (l *library) cond(s *sound, p fault.Place) {
	n, faults := ParseCond(p)
	if !faults.Stopped() {
		var f *Formula
		if f, faults = Check(n, s.scope); !faults.Stopped() {
			s.conds = append(s.conds, f)
			return
		}
	}
	l.t.Errorf("%v", faults)
}

// TestSound checks names and kinds of every formula of the trade.
func TestSound(t *testing.T) {
	rules, steps, conds, gives := 0, 0, 0, 0
	for _, s := range sounds(t) {
		rules++
		steps += len(s.steps) + countOwn(s)
		conds += len(s.conds)
		gives += len(s.gives)
	}
	t.Logf("%d rules, %d steps, %d conditions, %d results", rules, steps, conds, gives)
	if rules != 125 || steps != 299 || conds != 57 {
		t.Errorf("there were 125 rules, 299 steps and 57 conditions; now %d, %d and %d", rules, steps, conds)
	}
}

func countOwn(s *sound) int {
	n := 0
	for _, f := range s.scope.Functions {
		if f.Body != nil {
			n++
		}
	}
	return n
}
