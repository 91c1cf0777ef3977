package method

import (
	"slices"
	"sync/atomic"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// mostPaths is how many paths a method keeps, so that many kinds of points do
// not fill the memory.
const mostPaths = 24

// paths are those that a method was gone along lately, the last first. They
// are read far more often than they change, by all guides at once.
type paths struct{ kept atomic.Pointer[[]*path] }

func (p *paths) all() []*path {
	if kept := p.kept.Load(); kept != nil {
		return *kept
	}
	return nil
}

// keep puts a path before the others. Where two are kept at the same moment one
// may be lost, and is found again when it is wanted.
func (p *paths) keep(found *path) {
	old := p.all()
	kept := append([]*path{found}, old[:min(len(old), mostPaths-1)]...)
	p.kept.Store(&kept)
}

// path is what a run at one point did: the way through the method at all points
// of the same shape, whose numbers let every choice fall alike.
type path struct {
	results  []string // as they were asked for
	asked    []asked
	numbers  *formula.Path
	gave     []formula.Value // as noted, by the results in the order of the sheet
	verdicts []Verdict
	cautions []*Caution
	sources  []*Reference
}

// asked is an input that a run asked for, as it stood.
type asked struct {
	input *Input
	value formula.Value // as noted
	given bool
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

// enter puts the inputs at a point into the registers of the path; it returns
// false where the path does not lead through the point.
func (p *path) enter(registers []float64, in *inputs) bool {
	for i := range p.asked {
		a := &p.asked[i]
		v := in.standing(a.input)
		if !alike(&a.value, &v) || a.given != in.given(a.input, &v) || !p.numbers.Enter(registers, a.value, v) {
			return false
		}
	}
	return true
}

// along goes along a path that leads through a point; nil where none does.
func (d *Data) along(in *inputs, results []string) *Outcome {
	var room [64]float64
	for _, p := range d.paths.all() {
		if !slices.Equal(p.results, results) {
			continue
		}
		registers := p.numbers.Start(room[:0])
		if p.enter(registers, in) && p.numbers.Run(registers) {
			return p.outcome(d, in, registers)
		}
	}
	return nil
}

// outcome is what the method gives at a point through which the path led.
func (p *path) outcome(d *Data, in *inputs, registers []float64) *Outcome {
	o := &Outcome{Results: map[string]formula.Value{}, Faults: &fault.List{}, Taken: in.all()}
	o.Verdicts, o.Cautions, o.References = slices.Clone(p.verdicts), slices.Clip(p.cautions), slices.Clip(p.sources)
	i := 0
	for _, r := range d.sheet.Gives {
		if wanted(r, p.results) {
			o.Results[r.Name] = p.numbers.Read(registers, p.gave[i])
			i++
		}
	}
	return o
}

// path is what was noted of a run; nil where it leads through that point alone.
func (in *inputs) path(results []string, o *Outcome) *path {
	numbers := in.notes.Path()
	if numbers == nil || o.Faults.Len() > 0 {
		return nil
	}
	p := &path{results: slices.Clone(results), asked: in.asked, numbers: numbers,
		verdicts: slices.Clone(o.Verdicts), cautions: o.Cautions, sources: o.References}
	for _, r := range in.sheet.Gives {
		if wanted(r, results) {
			p.gave = append(p.gave, o.Results[r.Name])
		}
	}
	return p
}
