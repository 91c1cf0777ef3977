package method

import (
	"slices"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Digits with which the middle values of a worked line are printed: as few
// as give a reader with a pocket calculator the printed result, within these
// bounds.
const (
	fewestFigures = 4
	mostFigures   = 10
)

// Work implements [Method].
func (d *Data) Work(v Values, result string) []Worked {
	res := d.sheet.Result(result)
	var trail []worked
	r := d.start(newInputs(d.sheet, v), &trail)
	value := r.Value(res.Of)
	if value.State == formula.Failed || len(trail) == 0 {
		return nil
	}
	p := printer{trail: trail, result: res, value: value, figures: fewestFigures}
	for p.figures < mostFigures && !p.reaches() {
		p.figures++
	}
	var lines []Worked
	for n, w := range trail {
		if b := w.step.borrow; b != nil && w.step.line.Name.Text == b.result.Of && n < len(trail)-1 {
			continue // the borrowed method's own step says the same
		}
		lines = append(lines, p.line(w))
	}
	return lines
}

// printer prints the steps of one worked line.
type printer struct {
	trail   []worked
	result  *Result
	value   formula.Value
	figures int
}

// reaches reports whether the last step, worked from the numbers as printed,
// gives the printed result.
func (p printer) reaches() bool {
	last := p.trail[len(p.trail)-1]
	if last.step.body == nil {
		return true
	}
	again := last.step.body.Eval(asPrinted{last.run, p})
	return p.result.Text(again) == p.result.Text(p.value)
}

// asPrinted answers for a run's names with the values that stand on paper.
type asPrinted struct {
	*run
	printer printer
}

// Value implements [formula.Env].
func (a asPrinted) Value(name string) formula.Value {
	v := a.run.Value(name)
	if st := a.run.data.byName[name]; st != nil && v.Word == "" {
		return onPaper(v, a.printer.format(a.run, st))
	}
	return v
}

// onPaper is a value, or each member of a list, as its print stands for it.
func onPaper(v formula.Value, f unit.Format) formula.Value {
	if v.State != formula.Known {
		return v
	}
	v.List = slices.Clone(v.List)
	for i, m := range v.List {
		v.List[i] = onPaper(m, f)
	}
	v.Number = f.Printed(v.Number)
	return v
}

// format is how a step's value is printed: in the unit of the result that it
// is somewhere, else in base units.
func (p printer) format(r *run, st *step) unit.Format {
	f := unit.Format{Unit: st.typ.Kind.Base(), Figures: p.figures}
	if st.borrow != nil {
		f.Unit = st.borrow.result.Unit
	}
	for _, res := range r.data.sheet.Gives {
		if res.Of == st.line.Name.Text {
			f.Unit = res.Unit
			return f
		}
	}
	return f
}

func (p printer) line(w worked) Worked {
	name := w.step.line.Name.Text
	line := Worked{
		Name: name, Method: w.run.data.sheet.Name, Value: w.run.Value(name), Symbol: w.run.data.symbol,
		Rule: w.step.chosen(w.run), References: w.run.data.referencesOf(w.step, w.step.chosen(w.run)),
		Given: func(n string) (string, bool) { return p.shown(w.run, n) },
	}
	if b := w.step.borrow; b != nil {
		line.Borrowed = b.result.Name + " of " + b.from.Sheet().Name
	}
	if w.step == p.trail[len(p.trail)-1].step {
		line.Text = p.result.Text(line.Value)
	} else {
		line.Text = p.text(w.run, w.step, line.Value)
	}
	return line
}

// shown is a name's value as the worked line prints it. A value that is no
// number is not put in.
func (p printer) shown(r *run, name string) (string, bool) {
	if !r.data.names(name) {
		return "", false
	}
	v := r.Value(name)
	if v.State != formula.Known || v.List != nil && !allKnown(v.List) {
		return "", false
	}
	if v.Word != "" {
		return v.Word, true
	}
	if st := r.data.byName[name]; st != nil {
		return p.text(r, st, v), true
	}
	if in := r.data.sheet.Input(name); in != nil {
		if t := r.in.taken(in); t.Point.Text != "" {
			return t.Point.Text, true
		}
	}
	if c, ok := r.data.constants[name]; ok {
		return typed(unit.Quantity{Value: c.number.Value, Unit: c.number.Unit, Text: c.number.Text}), true
	}
	return "", false
}

func (p printer) text(r *run, st *step, v formula.Value) string {
	if v.Word != "" {
		return v.Word
	}
	f := p.format(r, st)
	f.Figures = plain(f, v)
	return (&Result{Format: f}).Text(v)
}

// plain is how many figures a value wants: at most those asked, and fewer
// where the rest would be noughts in it and in all members of a list: 1, not
// 1.000.
func plain(f unit.Format, v formula.Value) int {
	members := v.List
	if members == nil {
		members = []formula.Value{v}
	}
	for figures := 1; figures < f.Figures; figures++ {
		short := unit.Format{Unit: f.Unit, Figures: figures}
		if !slices.ContainsFunc(members, func(m formula.Value) bool { return !near(short.Printed(m.Number), m.Number) }) {
			return figures
		}
	}
	return f.Figures
}

// chosen returns the rule that a step was worked by: its body, or the case
// of it that holds.
func (st *step) chosen(r *run) formula.Node {
	if st.body == nil {
		return nil
	}
	return st.body.Chosen(r)
}

// names reports whether a name stands for a value of the method: pi does not.
func (d *Data) names(name string) bool {
	_, constant := d.constants[name]
	return constant || d.byName[name] != nil || d.sheet.Input(name) != nil
}

// symbol returns how a name is printed in formulas, "" for its plain name.
func (d *Data) symbol(name string) string {
	if in := d.sheet.Input(name); in != nil {
		return in.Symbol
	}
	for _, r := range d.sheet.Gives {
		if r.Of == name {
			return r.Symbol
		}
	}
	return ""
}
