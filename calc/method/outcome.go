package method

import (
	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// Outcome is what one run of a method gave.
type Outcome struct {
	Results    Results
	Verdicts   []Verdict
	Cautions   []*Caution
	References []*Reference // of the steps that ran, in the order of the working
	Faults     *fault.List  // of grade Stop where a need is not met or a wanted result failed; nil for none

	at    inputs  // of a method of formulas: what was taken is looked up when somebody asks
	taken []Taken // of a method in Go
}

// NewOutcome returns the outcome of a run with inputs that stood so.
func NewOutcome(taken []Taken) *Outcome { return &Outcome{Faults: &fault.List{}, taken: taken} }

func (o *Outcome) fault(f *fault.Fault) {
	if o.Faults == nil {
		o.Faults = &fault.List{}
	}
	o.Faults.Add(f)
}

// Taken returns the inputs that have a value, as they stood, in the order in
// which the method takes them.
func (o *Outcome) Taken() []Taken {
	if o.at.sheet == nil {
		return o.taken
	}
	return o.at.all()
}

// Input returns one of the inputs that have a value, as it stood.
func (o *Outcome) Input(name string) (t Taken, ok bool) {
	if o.at.sheet != nil {
		if i := o.at.sheet.Input(name); i != nil {
			return o.at.one(i)
		}
		return t, false
	}
	for _, t := range o.taken {
		if t.Input.Name == name {
			return t, true
		}
	}
	return Taken{}, false
}

// Results are the values of results, in the order of the method's sheet.
type Results []ResultValue

// ResultValue is the value of one result.
type ResultValue struct {
	Name  string
	Value formula.Value
}

// Of returns the value of a result; the zero Value where it is not among them.
func (r Results) Of(name string) formula.Value {
	v, _ := r.Find(name)
	return v
}

// Find returns the value of a result, and whether it is among them.
func (r Results) Find(name string) (v formula.Value, ok bool) {
	for i := range r {
		if r[i].Name == name {
			return r[i].Value, true
		}
	}
	return v, false
}

// Set adds the value of a result.
func (r *Results) Set(name string, v formula.Value) { *r = append(*r, ResultValue{name, v}) }

// Taken is an input as it stood in a run.
type Taken struct {
	Input   *Input
	Point   Point
	Usual   bool // nothing was typed: the usual value stands
	Assumed bool // "don't know" was typed: the usual value stands in
}
