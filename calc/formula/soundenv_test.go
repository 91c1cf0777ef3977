package formula

import (
	"math"
	"math/rand/v2"
)

// soundEnv is a sound rule at one point: its inputs as given, its steps worked
// when they are asked for.
type soundEnv struct {
	s      *sound
	inputs map[string]Value // a name that is not in it is missing
	memo   map[string]Value
}

func newSoundEnv(s *sound, inputs map[string]Value) *soundEnv {
	return &soundEnv{s: s, inputs: inputs, memo: map[string]Value{}}
}

func (e *soundEnv) Value(name string) Value {
	if v, ok := e.memo[name]; ok {
		return v
	}
	if c, ok := e.s.consts[name]; ok {
		return c
	}
	for i := range e.s.steps {
		if st := &e.s.steps[i]; st.name == name {
			e.memo[name] = e.work(st)
			return e.memo[name]
		}
	}
	if v, ok := e.inputs[name]; ok {
		return v
	}
	return CannotTell(name + " is not known")
}

func (e *soundEnv) work(st *soundStep) Value {
	if st.body != nil {
		return st.body.Eval(e)
	}
	inputs := map[string]Value{}
	for _, in := range st.from.takes {
		if f, bound := st.with[in.name]; bound {
			inputs[in.name] = f.Eval(e)
		} else if v, ok := e.inputs[in.name]; ok {
			inputs[in.name] = v
		}
	}
	for _, g := range st.from.gives {
		if g.name == st.result {
			return newSoundEnv(st.from, inputs).Value(g.of)
		}
	}
	panic("no such result")
}

func (e *soundEnv) Given(name string) bool {
	v, ok := e.inputs[name]
	return ok && v.State == Known
}

func (e *soundEnv) Missing(name string) bool { return !e.Given(name) }

// soundRanges is a sound rule whose inputs move within ranges.
type soundRanges struct {
	s      *sound
	inputs map[string]Range // a name that is not in it is missing
}

func (e *soundRanges) Range(name string) Range {
	if c, ok := e.s.consts[name]; ok {
		return RangeOf(c)
	}
	for i := range e.s.steps {
		if st := &e.s.steps[i]; st.name == name {
			return e.work(st)
		}
	}
	if r, ok := e.inputs[name]; ok {
		return r
	}
	return RangeOf(CannotTell(""))
}

func (e *soundRanges) work(st *soundStep) Range {
	if st.body != nil {
		return st.body.Range(e)
	}
	inputs := map[string]Range{}
	for _, in := range st.from.takes {
		if f, bound := st.with[in.name]; bound {
			inputs[in.name] = f.Range(e)
		} else if r, ok := e.inputs[in.name]; ok {
			inputs[in.name] = r
		}
	}
	for _, g := range st.from.gives {
		if g.name == st.result {
			return (&soundRanges{st.from, inputs}).Range(g.of)
		}
	}
	panic("no such result")
}

func (e *soundRanges) Given(name string) Truth {
	if r, ok := e.inputs[name]; ok && (r.List != nil || r.Sure()) {
		return True
	}
	return False
}

// lot draws inputs of rules, always the same ones for a seed.
type lot struct{ *rand.Rand }

func newLot(seed uint64) lot { return lot{rand.New(rand.NewPCG(seed, 7))} }

// ranges draws a range for each input of a rule: often a point, sometimes
// wide, sometimes across nothing; an input that may be missing often is.
func (l lot) ranges(s *sound) map[string]Range {
	inputs, lengths := map[string]Range{}, map[string]int{}
	for _, in := range s.takes {
		if in.missing && l.IntN(3) == 0 {
			continue
		}
		if in.typ.Group == "" {
			inputs[in.name] = l.one(in.typ)
			continue
		}
		if lengths[in.typ.Group] == 0 {
			lengths[in.typ.Group] = 1 + l.IntN(3)
		}
		list := noRange
		for range lengths[in.typ.Group] {
			member := l.one(in.typ)
			if in.missing && l.IntN(4) == 0 {
				member = RangeOf(CannotTell("a member is not known"))
			}
			list.List = append(list.List, member)
		}
		inputs[in.name] = list
	}
	return inputs
}

func (l lot) one(t Type) Range {
	if t.Words != nil {
		words := []string{t.Words[l.IntN(len(t.Words))]}
		if l.IntN(3) == 0 {
			words = append(words, t.Words[l.IntN(len(t.Words))])
		}
		return WordsAmong(words...)
	}
	a := l.number(t)
	switch l.IntN(4) {
	case 0:
		return Between(a, a)
	case 1:
		b := l.number(t)
		return Between(math.Min(a, b), math.Max(a, b))
	case 2:
		return Among(a, l.number(t))
	}
	return Between(a-math.Abs(a)*0.01, a+math.Abs(a)*0.02)
}

// number draws a number such as inputs have, in base units: small and large,
// now and then nothing or below it.
func (l lot) number(t Type) float64 {
	if t.Kind.IsPoint() {
		return math.Round(l.Float64()*150 - 20)
	}
	switch l.IntN(12) {
	case 0:
		return 0
	case 1:
		return -math.Exp(l.NormFloat64())
	case 2:
		return float64(l.IntN(20))
	}
	return math.Exp(l.NormFloat64() * 4)
}

// inside draws a value of a range.
func (l lot) inside(r Range) Value {
	switch {
	case r.List != nil:
		v := Value{}
		for _, m := range r.List {
			v.List = append(v.List, l.inside(m))
		}
		return v
	case len(r.Words) > 0:
		return WordOf(r.Words[l.IntN(len(r.Words))])
	case r.Empty():
		return CannotTell("a member is not known")
	case r.Only != nil:
		return Quantity(r.Only[l.IntN(len(r.Only))])
	}
	switch l.IntN(4) {
	case 0:
		return Quantity(r.Lo)
	case 1:
		return Quantity(r.Hi)
	}
	return Quantity(math.Min(r.Hi, math.Max(r.Lo, r.Lo+l.Float64()*(r.Hi-r.Lo))))
}

// point draws a value for each input that is given.
func (l lot) point(inputs map[string]Range, s *sound) map[string]Value {
	values := map[string]Value{}
	for _, in := range s.takes {
		if r, ok := inputs[in.name]; ok {
			values[in.name] = l.inside(r)
		}
	}
	return values
}
