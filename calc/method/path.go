package method

import (
	"slices"
	"sync/atomic"

	"bindpost/calc/formula"
)

// path is what a run at one point did: the way through the method at all points
// of the same shape, whose numbers let every choice fall alike.
type path struct {
	results  []string // as they were asked for
	asked    []asked
	numbers  *formula.Path
	gave     Results // as noted
	verdicts []Verdict
	cautions []*Caution
	sources  []*Reference
	parted   atomic.Pointer[part] // the piece that was wanted last
}

// asked is an input that a run asked for, as it stood.
type asked struct {
	input  *Input
	value  formula.Value // as noted
	given  bool
	typed  bool
	number int // of the register of a plain number; 0 for what is none
}

// alike reports whether values that were noted and those at another point
// differ in nothing but numbers.
func alike(a, b *formula.Value) bool {
	if a.State != b.State || a.Word != b.Word || a.Why != b.Why || len(a.List) != len(b.List) || (a.List == nil) != (b.List == nil) ||
		!slices.Equal(a.Assumed, b.Assumed) {
		return false
	}
	for i := range a.List {
		if !alike(&a.List[i], &b.List[i]) {
			return false
		}
	}
	return true
}

// enter puts an input for which this was typed into the registers of a path; it
// returns false where the path does not lead through there.
func (a *asked) enter(along *formula.Path, registers []float64, t typedValue) bool {
	if t.value == nil && !a.typed {
		return along.Enter(registers, &a.value, &a.value) // as it stood when it was noted
	}
	if a.number > 0 && t.value != nil {
		if number, plain := t.value.Plain(); plain {
			registers[a.number] = number
			return true
		}
	}
	v := a.input.standing(t)
	return alike(&a.value, &v) && a.given == t.given(&v) && along.Enter(registers, &a.value, &v)
}

// enter puts the inputs at a point into the registers of the path.
func (p *path) enter(registers []float64, in *inputs) bool {
	var room formula.Value
	for i := range p.asked {
		if a := &p.asked[i]; !a.enter(p.numbers, registers, in.typed(a.input.Name, &room)) {
			return false
		}
	}
	return true
}

// along goes along a path that leads through a point, and returns it with the
// registers as they are at its end; nil where none does.
func (d *Data) along(in *inputs, results []string, room []float64) (*path, []float64) {
	for _, p := range d.paths.all() {
		if !slices.Equal(p.results, results) {
			continue
		}
		registers := p.numbers.Start(room)
		if p.enter(registers, in) && p.numbers.Run(registers) {
			return p, registers
		}
	}
	return nil, nil
}

// outcome is what the method gives at a point through which the path led.
func (p *path) outcome(in *inputs, registers []float64) *Outcome {
	o := &Outcome{}
	p.fill(o, make(Results, len(p.gave)), registers)
	o.at, o.moved = in, in.moved
	return o
}

// fill puts into an outcome what the run along the path gave.
func (p *path) fill(o *Outcome, room Results, registers []float64) {
	o.Results, o.Verdicts, o.Cautions, o.References = room, p.verdicts, p.cautions, p.sources
	for i := range p.gave {
		room[i].Name = p.gave[i].Name
		p.numbers.Read(registers, &p.gave[i].Value, &room[i].Value)
	}
}

// path is what was noted of a run; nil where it leads through that point alone.
func (in *inputs) path(results []string, o *Outcome) *path {
	numbers := in.notes.Path()
	if numbers == nil || o.Faults.Len() > 0 {
		return nil
	}
	for i := range in.asked {
		in.asked[i].number = in.asked[i].value.Register()
	}
	return &path{results: slices.Clone(results), asked: in.asked, numbers: numbers, gave: slices.Clone(o.Results),
		verdicts: slices.Clip(o.Verdicts), cautions: slices.Clip(o.Cautions), sources: slices.Clip(o.References)}
}
