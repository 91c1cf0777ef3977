package method

import (
	"slices"

	"bindpost/calc/formula"
)

// Facts returns the names of the inputs that the results named, or all of them
// where none is named, may turn on, with the method's needs, verdicts and
// cautions, in the order in which the method takes them. An input that is not
// among them can be left out at any point without changing any of these. The
// names are for all who ask, and not to be changed.
func (d *Data) Facts(results ...string) []string {
	for _, f := range d.facts.all() {
		if slices.Equal(f.results, results) {
			return f.names
		}
	}
	found := &turnedOn{slices.Clone(results), d.turnsOn(results)}
	d.facts.keep(found)
	return found.names
}

// turnedOn are the inputs on which results turn.
type turnedOn struct{ results, names []string }

func (d *Data) turnsOn(results []string) []string {
	f := &turning{data: d, seen: map[string]bool{}, lent: map[string]*turning{}, found: map[string]bool{}}
	for _, r := range d.sheet.Gives {
		if len(results) == 0 {
			f.look(r.Of)
		}
	}
	for _, name := range results {
		if r := d.sheet.Result(name); r != nil {
			f.look(r.Of)
		}
	}
	for _, n := range d.needs {
		f.all(n.holds)
	}
	for _, v := range d.verdicts {
		for _, row := range v.rows {
			f.all(row.when)
		}
	}
	for _, t := range d.cautions {
		f.all(t.when)
	}
	var names []string
	for _, in := range d.sheet.Takes {
		if f.found[in.Name] {
			names = append(names, in.Name)
		}
	}
	return slices.Clip(names)
}

// turning looks for the inputs that stand behind names of a method: of the one
// at hand, or of one that lends a result to it.
type turning struct {
	data  *Data
	loan  *loan    // nil for the method at hand
	up    *turning // the borrower
	seen  map[string]bool
	lent  map[string]*turning
	found map[string]bool // of the method at hand
}

// all looks behind every name of a formula; a condition that always holds is nil.
func (f *turning) all(form *formula.Formula) {
	if form == nil {
		return
	}
	for _, name := range form.Uses() {
		f.look(name)
	}
}

func (f *turning) look(name string) {
	if f.seen[name] {
		return
	}
	f.seen[name] = true
	st := f.data.byName[name]
	if st == nil {
		f.input(name)
		return
	}
	for _, n := range f.data.needs {
		f.all(n.holds)
	}
	if st.borrow == nil {
		f.all(st.body)
		return
	}
	f.lend(st.borrow)
}

// lend looks behind a borrowed result; steps that bind the same values share
// what was seen.
func (f *turning) lend(b *loan) {
	other, isData := b.from.(*Data)
	if !isData {
		for _, in := range b.from.Sheet().Takes {
			(&turning{loan: b, up: f}).handed(in)
		}
		return
	}
	if f.lent[b.key] == nil {
		f.lent[b.key] = &turning{data: other, loan: b, up: f, seen: map[string]bool{}, lent: map[string]*turning{}}
	}
	f.lent[b.key].look(b.result.Of)
}

// input looks behind an input: it is found, or the borrower hands it over. A
// name that is none, as of a constant, is passed over.
func (f *turning) input(name string) {
	in := f.data.sheet.Input(name)
	if in == nil {
		return
	}
	if f.up != nil {
		f.handed(in)
		return
	}
	f.found[name] = true
	f.all(in.When)
}

// handed looks behind what a borrower hands over for an input: the value that
// it binds, or its own of the same name.
func (f *turning) handed(in *Input) {
	if b, bound := f.loan.with[in.Name]; bound {
		f.up.all(b.value)
		return
	}
	f.up.look(in.Name)
}
