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

// Work implements [Method]. The middle values have equally many digits in the
// workings of all results, so that a step that two of them share reads alike.
func (d *Data) Work(v Values, results ...string) [][]Worked {
	var printers []*printer
	all := make([][]Worked, len(results))
	for i, name := range results {
		if p := d.printer(v, d.sheet.Result(name)); p != nil {
			p.place = i
			printers = append(printers, p)
		}
	}
	for figures := fewestFigures; ; figures++ {
		for _, p := range printers {
			p.figures = figures
			clear(p.paper)
		}
		if figures == mostFigures || !slices.ContainsFunc(printers, func(p *printer) bool { return !p.reaches() }) {
			break
		}
	}
	for _, p := range printers {
		for _, w := range p.trail {
			all[p.place] = append(all[p.place], p.line(w))
		}
	}
	return all
}

// printer runs a result and returns what prints its steps; nil where it cannot
// be worked.
func (d *Data) printer(v Values, res *Result) *printer {
	var trail []worked
	r := d.start(newInputs(d.sheet, v), &trail)
	value := r.Value(res.Of)
	if value.State == formula.Failed || len(trail) == 0 {
		return nil
	}
	trail = slices.Clip(sayingOnce(trail)) // what the printer looks at again is no new step
	return &printer{trail: trail, result: res, value: value, paper: map[paperKey]formula.Value{}}
}

// sayingOnce leaves out the steps that borrow a result under the name that it
// has in the borrowed method: that method's own step says the same.
func sayingOnce(trail []worked) []worked {
	return slices.DeleteFunc(trail, func(w worked) bool {
		b := w.step.borrow
		_, data := loanOf(b)
		return data && w.step.line.Name.Text == b.result.Of
	})
}

// loanOf returns the data method that a step borrows from.
func loanOf(b *loan) (*Data, bool) {
	if b == nil {
		return nil, false
	}
	d, ok := b.from.(*Data)
	return d, ok
}

// printer prints the steps of one worked line.
type printer struct {
	place   int // of the result among those asked for
	trail   []worked
	result  *Result
	value   formula.Value
	figures int
	paper   map[paperKey]formula.Value
}

// paperKey is a step of a run.
type paperKey struct {
	run  *run
	step *step
}

// reaches reports whether the last step, worked from the numbers as printed,
// gives the printed result.
func (p printer) reaches() bool {
	last := p.trail[len(p.trail)-1]
	return p.result.Text(Calculated(p.again(last.run, last.step))) == p.result.Text(p.value)
}

// calculatorDigits is how many digits a pocket calculator shows: what lies
// beyond them moves no rounding of its reader's.
const calculatorDigits = 8

// Calculated is a value as a pocket calculator shows it.
func Calculated(v formula.Value) formula.Value {
	if v.Word != "" {
		return v
	}
	return onPaper(v, unit.Format{Figures: calculatorDigits})
}

// again works a step from the numbers on paper.
func (p printer) again(r *run, st *step) formula.Value {
	if st.body != nil {
		return together(st.body.Eval(asPrinted{r, p}))
	}
	if other, ok := st.borrow.from.(*Data); ok {
		lent := r.lend(st, other)
		return asPrinted{lent, p}.Value(st.borrow.result.Of)
	}
	return r.Value(st.line.Name.Text)
}

// onPage is a step's value as it stands on paper: worked from what stands
// there before it and rounded, so that a reader who follows line by line finds
// each line so.
func (p printer) onPage(r *run, st *step) formula.Value {
	key := paperKey{r, st}
	v, known := p.paper[key]
	if !known {
		if v = p.again(r, st); v.Word == "" {
			v = onPaper(v, p.format(r, st))
		}
		p.paper[key] = v
	}
	return v
}

// asPrinted answers for a run's names with the values that stand on paper.
type asPrinted struct {
	*run
	printer printer
}

// Value implements [formula.Env].
func (a asPrinted) Value(name string) formula.Value {
	if st := a.run.data.byName[name]; st != nil {
		return a.printer.onPage(a.run, st)
	}
	if v, _, bound := a.printer.bound(a.run, name); bound {
		return v
	}
	return a.run.Value(name)
}

// bound is an input that a borrower works from its own steps: its value on
// paper, and how that is printed.
func (p printer) bound(r *run, name string) (v formula.Value, f unit.Format, ok bool) {
	h, lent := r.in.(*handed)
	if !lent || r.data.sheet.Input(name) == nil {
		return v, f, false
	}
	b, bound := h.loan.with[name]
	switch {
	case !bound:
		return p.bound(h.borrower, name)
	case b.value == nil:
		return v, f, false
	}
	f = unit.Format{Unit: r.data.sheet.Input(name).Unit, Figures: p.figures}
	if n, isName := b.value.Node().(*formula.Name); isName && h.borrower.data.byName[n.Text] != nil {
		f = p.format(h.borrower, h.borrower.data.byName[n.Text])
	}
	if v = b.value.Eval(asPrinted{h.borrower, p}); v.Word != "" {
		return v, f, false
	}
	return onPaper(v, f), f, true
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
		Given: func(string) (string, bool) { return "", false },
		At:    w.run.Value,
	}
	if b := w.step.borrow; b != nil {
		line.Borrowed = b.result.Name + " of " + b.from.Sheet().Name
	}
	last := w.step == p.trail[len(p.trail)-1].step
	if line.Rule != nil {
		result := p.format(w.run, w.step).Unit
		if last {
			result = p.result.Unit
		}
		var given map[string]put
		line.With, given = p.settled(w, line.Rule, result)
		line.Given = func(n string) (string, bool) { s, ok := given[n]; return s.text, ok }
	}
	if last {
		line.Text = p.result.Text(line.Value)
		line.Before, line.Round = p.before(w), p.result.Format.Round
	} else {
		line.Text = p.text(w.run, w.step, p.onPage(w.run, w.step))
	}
	return line
}

// before is what the last step comes to, where its figure has fewer digits.
func (p printer) before(w worked) string {
	v, f := p.onPage(w.run, w.step), p.result.Format
	if v.State != formula.Known || v.Word != "" || v.List != nil || p.result.Text(v) != p.result.Text(p.value) {
		return ""
	}
	if printed := f.Printed(p.value.Number); near(printed, v.Number) || p.format(w.run, w.step).Unit.Symbol() != f.Unit.Symbol() {
		return ""
	}
	return p.text(w.run, w.step, v)
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
