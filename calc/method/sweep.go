package method

import (
	"slices"

	"bindpost/calc/formula"
)

// Sweep runs a method at many points that differ in a few values. What rests
// on the others alone is worked once. It serves one goroutine.
type Sweep struct {
	method  Method
	data    *Data // nil for a method in Go
	fixed   Values
	moving  []string
	results []string

	path      *path // on which the last point lay
	part      *part // of it, that rests on the values that move
	registers []float64
}

// part is the piece of a path that rests on some values.
type part struct {
	moving  []string
	asked   []*asked // in the order of these; nil for one that was not asked for
	numbers *formula.Path
}

// NewSweep returns a sweep of a method for some results, or for all where none
// is named, at the values that stay, while those move whose names are given.
func NewSweep(m Method, fixed Values, moving []string, results ...string) *Sweep {
	s := &Sweep{method: m, fixed: fixed, moving: moving, results: results}
	s.data, _ = m.(*Data)
	return s
}

// Run works the method where the moving values have these points, in the order
// of their names; nil is one that is not typed there. It comes to what
// [Method.Run] comes to at all values.
func (s *Sweep) Run(at ...*Point) *Outcome {
	if s.data == nil {
		return s.method.Run(s.values(at), s.results...)
	}
	in := inputs{sheet: s.data.sheet, values: s.fixed, moving: s.moving, moved: at}
	if s.follow(&in) {
		return s.path.outcome(&in, s.registers)
	}
	return s.data.noted(in, s.results)
}

// Value works the one result that is asked for, as [Sweep.Run] does. It is not
// ok where the run would hold a fault.
func (s *Sweep) Value(at ...*Point) (v formula.Value, ok bool) {
	if s.data != nil {
		in := inputs{sheet: s.data.sheet, values: s.fixed, moving: s.moving, moved: at}
		if s.follow(&in) && len(s.path.gave) > 0 {
			return s.path.numbers.Read(s.registers, s.path.gave[0].Value), true
		}
	}
	o := s.Run(slices.Clone(at)...)
	v, ok = o.Results.Find(s.results[0])
	return v, ok && !o.Faults.Stopped()
}

// values are all values at a point.
func (s *Sweep) values(at []*Point) Values {
	v := make(Values, len(s.fixed)+len(at))
	for name, p := range s.fixed {
		v[name] = p
	}
	for n, p := range at {
		if delete(v, s.moving[n]); p != nil {
			v[s.moving[n]] = *p
		}
	}
	return v
}

// follow goes on along the path of the last point, or finds another one. It
// returns false where none leads through the point.
func (s *Sweep) follow(in *inputs) bool {
	if s.path != nil && s.part.enter(s.registers, in.moved) && s.part.numbers.Run(s.registers) {
		return true
	}
	s.path, s.registers = s.data.along(in, s.results, s.registers)
	if s.path == nil {
		return false
	}
	s.part = s.path.part(s.moving)
	return true
}

func (p *part) enter(registers []float64, moved []*Point) bool {
	for n, a := range p.asked {
		if a != nil && !a.enter(p.numbers, registers, moved[n]) {
			return false
		}
	}
	return true
}

// part returns the piece of the path that rests on some values.
func (p *path) part(moving []string) *part {
	if last := p.parted.Load(); last != nil && slices.Equal(last.moving, moving) {
		return last
	}
	found := &part{moving: slices.Clone(moving), asked: make([]*asked, len(moving))}
	var entered []formula.Value
	for n, name := range moving {
		for i := range p.asked {
			if p.asked[i].input.Name == name {
				found.asked[n], entered = &p.asked[i], append(entered, p.asked[i].value)
			}
		}
	}
	found.numbers = p.numbers.From(entered...)
	p.parted.Store(found)
	return found
}
