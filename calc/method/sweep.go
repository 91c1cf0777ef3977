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
	results []string

	at        inputs // those that stay
	path      *path  // on which the last point lay
	part      *part  // of it, that rests on the values that move
	registers []float64
	room      []Outcome // for what is to come, so that not each is made by itself
	values    Results   // the same
	made      int       // how many of them were made last
	expected  int       // how many points are still to come, where that was said
}

// mostMade is for how many outcomes room is made at once.
const mostMade = 32

// part is the piece of a path that rests on some values.
type part struct {
	moving  []string
	asked   []*asked // in the order of these; nil for one that was not asked for
	numbers *formula.Path
	alone   []*formula.Path // in the same order, what rests on each by itself
}

// NewSweep returns a sweep of a method for some results, or for all where none
// is named, at the values that stay, while those move whose names are given.
func NewSweep(m Method, fixed Values, moving []string, results ...string) *Sweep {
	s := &Sweep{method: m, results: results, at: inputs{sheet: m.Sheet(), values: fixed, moving: moving}}
	s.data, _ = m.(*Data)
	return s
}

// Run works the method where the moving values have these points, in the order
// of their names; nil is one that is not typed there. It comes to what
// [Method.Run] comes to at all values, and keeps the points.
func (s *Sweep) Run(moved ...*Point) *Outcome {
	switch {
	case s.data == nil:
		return s.method.Run(s.all(moved), s.results...)
	case !s.follow(moved):
		at := s.at
		return s.data.noted(at, s.results)
	}
	if len(s.room) == 0 || len(s.values) < len(s.path.gave) {
		s.more()
	}
	o, n := &s.room[0], len(s.path.gave)
	s.path.fill(o, s.values[:n:n], s.registers)
	o.at, o.moved = &s.at, moved
	s.room, s.values = s.room[1:], s.values[n:]
	return o
}

// Expect says at how many points the method will be run, so that room is made for
// as many outcomes.
func (s *Sweep) Expect(points int) { s.expected = points }

// more makes room for outcomes: for those that are expected, or each time for
// twice as many.
func (s *Sweep) more() {
	s.made = min(max(4, 2*s.made), mostMade)
	if s.expected > 0 {
		s.made = min(s.expected, mostMade)
		s.expected -= s.made
	}
	s.room, s.values = make([]Outcome, s.made), make(Results, s.made*len(s.path.gave))
}

// Value works the one result that is asked for into a value, as [Sweep.Run] does.
// It is not ok where the run would hold a fault.
func (s *Sweep) Value(v *formula.Value, moved ...*Point) (ok bool) {
	if s.data != nil && s.follow(moved) && len(s.path.gave) > 0 {
		s.path.numbers.Read(s.registers, &s.path.gave[0].Value, v)
		return true
	}
	o := s.Run(slices.Clone(moved)...)
	*v, ok = o.Results.Find(s.results[0])
	return ok && !o.Faults.Stopped()
}

// all are all values at a point.
func (s *Sweep) all(moved []*Point) Values {
	v := make(Values, len(s.at.values)+len(moved))
	for name, p := range s.at.values {
		v[name] = p
	}
	for n, p := range moved {
		if delete(v, s.at.moving[n]); p != nil {
			v[s.at.moving[n]] = *p
		}
	}
	return v
}

// follow goes on along the path of the last point, or finds another one. It
// returns false where none leads through the point.
func (s *Sweep) follow(moved []*Point) bool {
	if s.path != nil {
		if numbers := s.part.enter(s.registers, moved); numbers != nil && numbers.Run(s.registers) {
			return true
		}
	}
	s.at.moved = moved
	s.path, s.registers = s.data.along(&s.at, s.results, s.registers)
	if s.path == nil {
		return false
	}
	s.part = s.path.part(s.at.moving)
	return true
}

// enter puts the moving values into the registers, and returns what rests on
// those that differ from the last point; nil where the path does not lead there.
func (p *part) enter(registers []float64, moved []*Point) *formula.Path {
	differ, last := 0, 0
	for n, a := range p.asked {
		if a == nil || a.number > 0 && moved[n] != nil && moved[n].stays(registers[a.number]) {
			continue
		}
		if !a.enter(p.numbers, registers, moved[n].typed()) {
			return nil
		}
		differ, last = differ+1, n
	}
	if differ == 1 {
		return p.alone[last]
	}
	return p.numbers
}

// stays reports whether a point is the plain number that stood there before.
func (p *Point) stays(number float64) bool {
	now, plain := p.Value.Plain()
	return plain && now == number
}

// part returns the piece of the path that rests on some values.
func (p *path) part(moving []string) *part {
	if last := p.parted.Load(); last != nil && slices.Equal(last.moving, moving) {
		return last
	}
	found := &part{moving: slices.Clone(moving), asked: make([]*asked, len(moving))}
	var entered []*formula.Value
	for n, name := range moving {
		for i := range p.asked {
			if p.asked[i].input.Name == name {
				found.asked[n], entered = &p.asked[i], append(entered, &p.asked[i].value)
			}
		}
	}
	found.numbers = p.numbers.From(entered...)
	for _, a := range found.asked {
		if a == nil {
			found.alone = append(found.alone, nil)
			continue
		}
		found.alone = append(found.alone, p.numbers.From(&a.value))
	}
	p.parted.Store(found)
	return found
}
