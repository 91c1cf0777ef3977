package method

import (
	"errors"
	"fmt"
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// run is a method being worked at one point. It answers for the names in the
// method's formulas and works each step when it is first asked for.
type run struct {
	data    *Data
	in      inputSource
	memo    map[string]formula.Value
	lent    map[string]*run
	trail   *[]worked
	checked bool
	refused formula.Value // Failed where a need is not met
}

// worked is a step that ran, in the order of its end.
type worked struct {
	run  *run
	step *step
}

// inputSource answers for the inputs of a run: those typed for the method at
// hand, or those that a borrower hands over.
type inputSource interface {
	formula.Noting
	taken(i *Input) Taken
}

// Run implements [Method].
func (d *Data) Run(v Values, results ...string) *Outcome {
	in := inputs{sheet: d.sheet, values: v}
	if p, registers := d.along(&in, results, nil); p != nil {
		return p.outcome(&in, registers)
	}
	return d.noted(in, results)
}

// noted works the method step by step, and keeps the way that it took.
func (d *Data) noted(in inputs, results []string) *Outcome {
	in.notes = formula.NewNotes()
	o := d.run(&in, results)
	if p := in.path(results, o); p != nil {
		d.paths.keep(p)
	}
	for i, r := range o.Results {
		o.Results[i].Value = r.Value.Unnoted()
	}
	return o
}

// RunAnew works the method as Run does, and looks at every formula anew where
// Run goes the way of an earlier point: both come to the same, to the bit.
func (d *Data) RunAnew(v Values, results ...string) *Outcome {
	return d.run(newInputs(d.sheet, v), results)
}

// wanted reports whether a result is among those asked for: none asks for all.
func wanted(r *Result, results []string) bool {
	return len(results) == 0 || slices.Contains(results, r.Name)
}

// run works the method at one point, step by step.
func (d *Data) run(in *inputs, results []string) *Outcome {
	var trail []worked
	r := d.start(in, &trail)
	o := &Outcome{Faults: &fault.List{}, at: &inputs{sheet: in.sheet, values: in.values, moving: in.moving}, moved: in.moved}
	for _, res := range d.sheet.Gives {
		if !wanted(res, results) {
			continue
		}
		value := r.Value(res.Of)
		o.Results.Set(res.Name, value)
		o.Faults.Add(d.failure(res, value, in))
	}
	asked := len(trail)
	for _, rule := range d.verdicts {
		o.Verdicts = append(o.Verdicts, rule.worked(r, d.sheet))
	}
	o.References = referencesOf(append(trail[:asked:asked], told(trail[asked:])...))
	for _, t := range d.cautions {
		if t.brought(r) {
			o.Cautions = append(o.Cautions, t.caution)
		}
	}
	return o
}

// failure is the fault of a result that could not be worked, or nil. It has
// the place of the value that led to it where that is known, and no place
// otherwise: the caller knows what asked for the result.
func (d *Data) failure(r *Result, value formula.Value, at *inputs) *fault.Fault {
	if value.State != formula.Failed {
		return nil
	}
	if n, ok := value.Fault.Err.(*unmet); ok {
		f := fault.At(fault.Place{}, "%s", n.why).Want("%s", n.condition)
		f.Err = n
		for _, name := range n.uses {
			if p, typed := at.point(name); typed {
				f.Place = p.Place
			}
		}
		return f
	}
	f := fault.At(fault.Place{}, "%s cannot be worked: %s", r.Name, value.Fault.Message)
	f.Err = value.Fault
	return f
}

// unmet is the cause of a failure that lies in the values, not in the rule.
type unmet struct {
	why, condition string
	uses           []string
	bounds         bool // it lies beyond what a borrowed method covers
}

// Error implements error.
func (u *unmet) Error() string { return u.why }

// NeedNotMet reports whether a fault of a run says that a relation which the
// method needs between its values does not hold.
func NeedNotMet(f *fault.Fault) bool {
	var u *unmet
	return errors.As(f, &u) && !u.bounds
}

func (d *Data) start(in inputSource, trail *[]worked) *run {
	return &run{data: d, in: in, memo: map[string]formula.Value{}, lent: map[string]*run{}, trail: trail}
}

// Value implements [formula.Env].
func (r *run) Value(name string) formula.Value {
	if v, ok := r.memo[name]; ok {
		return v
	}
	if c, ok := r.data.constants[name]; ok {
		return r.constant(c.number.Value)
	}
	st := r.data.byName[name]
	if st == nil {
		return r.in.Value(name)
	}
	if f := r.need(); f.State == formula.Failed {
		return f
	}
	v := r.work(st)
	r.memo[name] = v
	*r.trail = append(*r.trail, worked{r, st})
	return v
}

func (r *run) constant(number float64) formula.Value {
	if n := r.Notes(); n != nil {
		return n.Constant(number)
	}
	return formula.Quantity(number)
}

// Notes implements [formula.Noting].
func (r *run) Notes() *formula.Notes { return r.in.Notes() }

// Given implements [formula.Env].
func (r *run) Given(name string) bool { return r.in.Given(name) }

// Missing implements [formula.Env].
func (r *run) Missing(name string) bool { return r.in.Missing(name) }

// need checks the method's needs once. One that cannot be told is no reason
// to stop: what rests on the missing fact cannot be told either.
func (r *run) need() formula.Value {
	if r.checked {
		return r.refused
	}
	r.checked = true
	for _, n := range r.data.needs {
		if truth, _ := n.holds.Truth(r); truth == formula.False {
			f := fault.At(n.place, "%s", n.why)
			f.Err = &unmet{why: n.why, condition: formula.Text(n.node), uses: n.holds.Uses()}
			r.refused = formula.FailedAt(f)
			break
		}
	}
	return r.refused
}

// stepOf says in which step something went wrong, here and in the reader's
// browser.
const stepOf = "the step %s of %s: "

func (r *run) work(st *step) formula.Value {
	if st.borrow == nil {
		v := together(st.body.Eval(r))
		if v.State == formula.Failed && v.Fault.Err == nil {
			f := *v.Fault
			f.Message = fmt.Sprintf(stepOf, st.line.Name.Text, r.data.sheet.Name) + f.Message
			f.Err = v.Fault
			v.Fault = &f
		}
		return v
	}
	if other, ok := st.borrow.from.(*Data); ok {
		return r.lend(st, other).Value(st.borrow.result.Of)
	}
	return r.ask(st)
}

// together makes one value of a list that is none: of which a member could
// not be worked, or all members lack a value for one and the same reason.
func together(list formula.Value) formula.Value {
	alike := len(list.List) > 0
	for _, m := range list.List {
		if m.State == formula.Failed {
			return m
		}
		alike = alike && m.State != formula.Known && m.State == list.List[0].State && m.Why == list.List[0].Why
	}
	if !alike {
		return list
	}
	one := list.List[0]
	one.Assumed = list.Assumed
	return one
}

// lend returns the run of a borrowed data method; steps that bind the same
// values share one.
func (r *run) lend(st *step, other *Data) *run {
	if lent, ok := r.lent[st.borrow.key]; ok {
		return lent
	}
	lent := other.start(&handed{borrower: r, loan: st.borrow}, r.trail)
	r.lent[st.borrow.key] = lent
	return lent
}

// ask runs a borrowed method that is written in Go.
func (r *run) ask(st *step) formula.Value {
	r.Notes().Spoil()
	h, v := &handed{borrower: r, loan: st.borrow}, Values{}
	for _, in := range st.borrow.from.Sheet().Takes {
		if h.Given(in.Name) {
			v[in.Name] = h.taken(in).Point
		}
	}
	return st.borrow.from.Run(v, st.borrow.result.Name).Results.Of(st.borrow.result.Name)
}

// handed are the inputs of a borrowed method as its borrower hands them over:
// bound ones worked in the borrower's names, the others passed through.
type handed struct {
	borrower *run
	loan     *loan
	memo     map[string]formula.Value
}

// Value implements [formula.Env].
func (h *handed) Value(name string) formula.Value {
	b, bound := h.loan.with[name]
	if !bound {
		return h.borrower.Value(name)
	}
	if b.value == nil {
		return formula.WordOf(b.word)
	}
	if v, ok := h.memo[name]; ok {
		return v
	}
	v := h.inBounds(name, b.value.Eval(h.borrower))
	if h.memo == nil {
		h.memo = map[string]formula.Value{}
	}
	h.memo[name] = v
	return v
}

// inBounds refuses a bound value that the borrowed method does not cover.
func (h *handed) inBounds(name string, v formula.Value) formula.Value {
	in := h.loan.from.Sheet().Input(name)
	if v.State != formula.Known || in.Choice != nil || v.List != nil {
		return v
	}
	h.Notes().Hold(v, in.takes)
	if in.takes(v.Number) {
		return v
	}
	h.Notes().Spoil()
	if f := in.bounds(&Point{Value: v, Text: in.text(v)}); f != nil && f.Grade == fault.Stop {
		f.Message = h.loan.from.Sheet().Name + ": " + f.Message
		f.Err = &unmet{why: f.Message, condition: f.Wanted, bounds: true}
		return formula.FailedAt(f)
	}
	return v
}

// Notes implements [formula.Noting].
func (h *handed) Notes() *formula.Notes { return h.borrower.Notes() }

// Given implements [formula.Env].
func (h *handed) Given(name string) bool {
	if _, bound := h.loan.with[name]; bound {
		return h.Value(name).State == formula.Known
	}
	return h.borrower.Given(name)
}

// Missing implements [formula.Env].
func (h *handed) Missing(name string) bool {
	if _, bound := h.loan.with[name]; bound {
		return false
	}
	return h.borrower.Missing(name)
}

func (h *handed) taken(i *Input) Taken {
	if _, bound := h.loan.with[i.Name]; !bound {
		return h.borrower.in.taken(i)
	}
	v := h.Value(i.Name)
	return Taken{Input: i, Point: Point{Value: v, Text: i.text(v)}}
}

// told keeps the steps that came to a value: a verdict that looked in vain
// for a fact rests on no rule.
func told(trail []worked) []worked {
	return slices.DeleteFunc(slices.Clone(trail), func(w worked) bool {
		return w.run.Value(w.step.line.Name.Text).State != formula.Known
	})
}

// referencesOf gathers the entries of the steps that ran, each once.
func referencesOf(trail []worked) []*Reference {
	var all []*Reference
	for _, w := range trail {
		for _, ref := range w.run.data.referencesOf(w.step, w.step.chosen(w.run)) {
			if !slices.Contains(all, ref) {
				all = append(all, ref)
			}
		}
	}
	return all
}
