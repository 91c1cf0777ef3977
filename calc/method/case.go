package method

import (
	"math"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

// Case is a case worked outside the program: what was taken, and what a
// result must be within a tolerance.
type Case struct {
	Values    Values
	Wants     []Want
	Reference *Reference
	Place     fault.Place
}

// Want is what one result of a case must be.
type Want struct {
	Result   string
	Value    formula.Value // Known, None or Unknown
	Within   float64       // amount in base units
	Relative bool          // Within is a share of the value
	Place    fault.Place
}

// Met reports whether a computed value is what the case wants.
func (w Want) Met(v formula.Value) bool {
	return w.met(v, w.Value)
}

func (w Want) met(v, want formula.Value) bool {
	if v.State != want.State || len(v.List) != len(want.List) {
		return false
	}
	if v.State != formula.Known {
		return true
	}
	if want.Word != "" || v.Word != "" {
		return v.Word == want.Word
	}
	for i, m := range v.List {
		if !w.met(m, want.List[i]) {
			return false
		}
	}
	within := w.Within
	if w.Relative {
		within *= math.Abs(want.Number)
	}
	return math.Abs(v.Number-want.Number) <= within
}

// readCases keeps the cases for [Data.linkCases]: their values may belong to
// borrowed methods.
func (d *Data) readCases(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind == record.Empty {
		if d.sheet.Uncased == "" {
			faults.Add(fault.At(d.sheet.Place, "the method %q has no case worked outside the program", d.sheet.Name).
				Want("cases, or `no outside case: why`"))
		}
		return
	}
	if n.Kind != record.List {
		faults.Add(fault.At(n.Place, "cases holds %s", n.Kind).Want("a list of cases"))
		return
	}
	d.cases = n.Items
}

// linkCases reads the cases once all inputs and results are known.
func (d *Data) linkCases(faults *fault.List) {
	for _, n := range d.cases {
		if n.Kind != record.Map {
			faults.Add(fault.At(n.Place, "this case is %s", n.Kind).Want("values and results by name, within and reference"))
			continue
		}
		c := &Case{Values: Values{}, Place: n.Place}
		within := n.Get("within")
		bad := &fault.List{}
		for _, e := range n.Entries {
			d.caseEntry(c, e, within, bad)
		}
		faults.Join(bad)
		if bad.Stopped() {
			continue
		}
		if c.Reference == nil || len(c.Wants) == 0 {
			faults.Add(fault.At(n.Place, "this case is not whole").Want("values, a result, within and reference"))
			continue
		}
		faults.Join(stopsOf(d.sheet.Check(c.Values, n.Place)))
		d.sheet.Cases = append(d.sheet.Cases, c)
	}
}

// stopsOf leaves the stops of a list: a case that somebody published may lie
// beyond what is usual.
func stopsOf(faults *fault.List) *fault.List {
	stops := &fault.List{}
	for _, f := range faults.All() {
		if f.Grade == fault.Stop {
			stops.Add(f)
		}
	}
	return stops
}

// workCases works every case, and reports one that the method does not meet.
func (d *Data) workCases(faults *fault.List) {
	for _, c := range d.sheet.Cases {
		for _, w := range c.Wants {
			got := d.run(newInputs(d.sheet, c.Values), []string{w.Result}).Results.Of(w.Result)
			if !w.Met(got) {
				faults.Add(fault.At(w.Place, "the case says %s, and the working comes to %s", w.Place, d.sheet.Result(w.Result).Text(got)).
					Want("a working that meets its cases").Fix("look again at the working and at the case: one of the two is wrong"))
			}
		}
	}
}

func (d *Data) caseEntry(c *Case, e record.Entry, within *record.Node, faults *fault.List) {
	key := e.Key.Text
	switch {
	case key == "within":
	case key == "reference":
		found := d.library.referred([]formula.Reference{{ID: e.Value.Text, At: e.Value.Place}}, faults)
		if len(found) > 0 {
			c.Reference = found[0]
		}
	case d.sheet.Input(key) != nil:
		p, fs := d.sheet.Input(key).Read(e.Value.Place)
		faults.Join(stopsOf(fs))
		c.Values[key] = p
	case d.sheet.Result(key) != nil:
		if w, ok := d.sheet.Result(key).want(e.Value, within, faults); ok {
			c.Wants = append(c.Wants, w)
		}
	default:
		faults.Add(d.noCaseKey(e.Key))
	}
}

// noCaseKey is the fault of a name in a case that is neither a value nor a
// result.
func (d *Data) noCaseKey(key *record.Node) *fault.Fault {
	names := d.inputNames()
	for _, r := range d.sheet.Gives {
		names = append(names, r.Name)
	}
	f := fault.At(key.Place, "%s neither takes nor gives %q", d.sheet.Name, key.Text).
		Want("one of: %s, within, reference", strings.Join(names, ", "))
	if near := fault.Near(key.Text, names); near != "" {
		f.Fix("%s", near)
	}
	return f
}

func (r *Result) want(n, within *record.Node, faults *fault.List) (Want, bool) {
	w := Want{Result: r.Name, Place: n.Place, Value: formula.Value{State: formula.Known}}
	switch {
	case n.Text == "none":
		w.Value.State = formula.None
		return w, true
	case n.Text == CannotTell:
		w.Value.State = formula.Unknown
		return w, true
	case r.Words != nil:
		w.Value.Word = n.Text
		return w, true
	}
	bad := &fault.List{}
	if w.Value = r.wanted(n.Place, bad); !bad.Stopped() {
		r.readWithin(&w, n, within, bad)
	}
	faults.Join(bad)
	return w, !bad.Stopped()
}

// wanted reads a number, or the members of a list: 5 and 2.5 A.
func (r *Result) wanted(p fault.Place, faults *fault.List) formula.Value {
	if r.Group != "" {
		as := &Input{Name: r.Name, Unit: r.Unit, Group: r.Group}
		return as.list(p, lastUnit([]fault.Place{p}), faults).Value
	}
	q, f := unit.ReadAs(p, r.Unit)
	faults.Add(f)
	return formula.Quantity(q.Value)
}

// readWithin reads how near a case's value is to be met.
func (r *Result) readWithin(w *Want, n, within *record.Node, faults *fault.List) {
	if within == nil {
		faults.Add(fault.At(n.Place, "this case does not say how near is near enough").Want("within: an amount, or a percentage"))
		return
	}
	t, f := unit.Read(within.Place)
	switch {
	case f != nil:
		faults.Add(f)
	case tooWide(w, t, r):
		faults.Add(fault.At(within.Place, "%s is as much as the result itself: this case would hold anything", within.Text).
			Want("how near is near enough, far less than %s", n.Text))
	case t.Unit.Symbol() == "%" && r.Unit.Symbol() != "%":
		w.Within, w.Relative = t.Value, true
	case t.Unit.Kind() == r.Unit.Step().Kind():
		w.Within = t.Value
	default:
		faults.Add(fault.At(within.Place, "%s is %s, and the result is %s", within.Text, t.Unit.Kind(), r.Unit.Kind()).
			Want("an amount of the result's kind, or a percentage"))
	}
}

// tooWide reports whether a tolerance lets anything pass. What a scale has as
// its number says nothing of how much it is.
func tooWide(w *Want, t unit.Quantity, r *Result) bool {
	if t.Unit.Symbol() == "%" && r.Unit.Symbol() != "%" {
		return t.Value >= 1
	}
	number := w.Value.State == formula.Known && w.Value.Word == "" && w.Value.List == nil && w.Value.Number != 0
	return number && r.Unit.Step().Kind() == r.Unit.Kind() && t.Unit.Kind() == r.Unit.Kind() && t.Value >= math.Abs(w.Value.Number)
}
