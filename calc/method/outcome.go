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

	at    standings // nil for none
	moved []*Point  // those that stood elsewhere than there at this point of a sweep
}

// standings tell how the inputs of a run stood, some of which may have been
// moved since.
type standings interface {
	all(moved []*Point) []Taken
	one(name string, moved []*Point) (t Taken, ok bool)
}

// NewOutcome returns the outcome of a run with inputs that stood so.
func NewOutcome(taken []Taken) *Outcome { return &Outcome{Faults: &fault.List{}, at: listed(taken)} }

func (o *Outcome) fault(f *fault.Fault) {
	if o.Faults == nil {
		o.Faults = &fault.List{}
	}
	o.Faults.Add(f)
}

// Taken returns the inputs that have a value, as they stood, in the order in
// which the method takes them.
func (o *Outcome) Taken() []Taken {
	if o.at == nil {
		return nil
	}
	return o.at.all(o.moved)
}

// Input returns one of the inputs that have a value, as it stood.
func (o *Outcome) Input(name string) (t Taken, ok bool) {
	if o.at == nil {
		return t, false
	}
	return o.at.one(name, o.moved)
}

// listed are inputs as a method in Go lists them.
type listed []Taken

func (l listed) all([]*Point) []Taken { return l }

func (l listed) one(name string, _ []*Point) (t Taken, ok bool) {
	for _, t := range l {
		if t.Input.Name == name {
			return t, true
		}
	}
	return t, false
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
