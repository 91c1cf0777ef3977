package method

import (
	"math"
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// Box says within which ranges values move, each by itself; all others stand
// still at what Values says.
type Box struct {
	Values Values
	Moving []Moving
}

// Moving is a value, or a member of a list, that moves between two bounds.
type Moving struct {
	Name   string
	Member int // of a list, counted from 0; -1 where the value is none
	Lo, Hi float64
}

// Width is how far the value moves, in base units.
func (m Moving) Width() float64 { return m.Hi - m.Lo }

// with returns the box with one value kept between other bounds.
func (b Box) with(i int, lo, hi float64) Box {
	b.Moving = slices.Clone(b.Moving)
	b.Moving[i].Lo, b.Moving[i].Hi = lo, hi
	return b
}

// At returns the values at a point of the box, where each moving value stands
// as told.
func (b Box) At(where func(Moving) float64) Values {
	v := b.Values
	for _, m := range b.Moving {
		p := v[m.Name]
		if x := formula.Quantity(where(m)); m.Member < 0 {
			p.Value = x
		} else {
			p.Value.List = slices.Clone(p.Value.List)
			p.Value.List[m.Member] = x
		}
		v = v.With(m.Name, p)
	}
	return v
}

// Over returns what a result may be while the values of a box move, with its
// slopes in the order of the box: every value that [Data.Run] gives at a point
// of the box is in it. Bounds are rounded outwards. Where a result goes one
// way with a value its bounds come from the ends of that value; elsewhere they
// may be wider than what happens.
func (d *Data) Over(b Box, result string) formula.Bend {
	of := d.sheet.Result(result).Of
	return b.narrowed(d, of, b.raw(d, of))
}

// narrowed narrows what a step was found to be over the box, each member of a
// list by itself.
func (b Box) narrowed(d *Data, step string, bend formula.Bend) formula.Bend {
	for i := range bend.Members {
		bend.Members[i] = b.tightened(d, bend.Members[i], func(x Box) formula.Bend {
			if again := x.raw(d, step); i < len(again.Members) {
				return again.Members[i]
			}
			return bend.Members[i]
		})
		bend.Range.List[i] = bend.Members[i].Range
	}
	return b.tightened(d, bend, func(x Box) formula.Bend { return x.raw(d, step) })
}

// raw works a step over the box as it stands.
func (b Box) raw(d *Data, step string) formula.Bend {
	return newOver(d, &boxed{inputs: newInputs(d.sheet, b.Values), box: b}).bend(step)
}

// tightened narrows a range by its slopes: at the ends of the values that move
// it one way, and about the middle of the box by the mean value.
func (b Box) tightened(d *Data, bend formula.Bend, again func(Box) formula.Bend) formula.Bend {
	if bend.Slopes == nil || bend.Rough || !bend.Range.Sure() || bend.Range.Empty() {
		return bend
	}
	low, high, middle, oneWay := b, b, b, false
	var spread [2]float64
	for i, m := range b.Moving {
		s := bend.Slopes[i]
		switch {
		case s.Lo >= 0:
			low, high, oneWay = low.with(i, m.Lo, m.Lo), high.with(i, m.Hi, m.Hi), true
		case s.Hi <= 0:
			low, high, oneWay = low.with(i, m.Hi, m.Hi), high.with(i, m.Lo, m.Lo), true
		}
		at := m.Lo + m.Width()/2
		middle = middle.with(i, at, at)
		half := math.Max(m.Hi-at, at-m.Lo) * (1 + 1e-15)
		steep := math.Max(math.Abs(s.Lo), math.Abs(s.Hi))
		spread[0], spread[1] = spread[0]-steep*half*(1+1e-14), spread[1]+steep*half*(1+1e-14)
	}
	if oneWay {
		bend.Range = meet(bend.Range, again(low).Range.Lo-2*bend.Stray, again(high).Range.Hi+2*bend.Stray)
	}
	spread[0], spread[1] = spread[0]-2*bend.Stray, spread[1]+2*bend.Stray
	if !math.IsInf(spread[1], 0) && !math.IsNaN(spread[1]) {
		centre := again(middle).Range
		bend.Range = meet(bend.Range, centre.Lo+spread[0]-ulps(centre.Lo, spread[0]), centre.Hi+spread[1]+ulps(centre.Hi, spread[1]))
	}
	return bend
}

// ulps is more than the rounding of a sum of two numbers loses.
func ulps(a, b float64) float64 { return (math.Abs(a) + math.Abs(b)) * 1e-15 }

// meet narrows a range to what lies between two bounds too; bounds that leave
// nothing of it are not used.
func meet(r formula.Range, lo, hi float64) formula.Range {
	lo, hi = math.Max(r.Lo, lo), math.Min(r.Hi, hi)
	if lo <= hi {
		r.Lo, r.Hi = lo, hi
	}
	return r
}

// Holds returns every answer that a condition over values and results may have
// while the values of a box move.
func (d *Data) Holds(b Box, cond *formula.Formula) formula.Answers {
	return cond.Answers(&gapBox{newCondBox(d, b), cond})
}

// condBox answers for the ranges of values and results over a box, to
// conditions about a method; or, with steps set, for the steps of its working
// in the place of the results, to conditions of its own.
type condBox struct {
	data   *Data
	box    Box
	steps  bool
	source *boxed
	over   *over
	memo   map[string]formula.Bend
}

func newCondBox(d *Data, b Box) *condBox {
	source := &boxed{inputs: newInputs(d.sheet, b.Values), box: b}
	return &condBox{data: d, box: b, source: source, over: newOver(d, source), memo: map[string]formula.Bend{}}
}

func (c *condBox) bend(name string) formula.Bend {
	if b, ok := c.memo[name]; ok {
		return b
	}
	step := name
	if r := c.data.sheet.Result(name); r != nil && !c.steps {
		step = r.Of
	}
	b := c.over.bend(step)
	if c.data.byName[step] != nil {
		b = c.box.narrowed(c.data, step, b)
	}
	c.memo[name] = b
	return b
}

// Range implements [formula.RangeEnv].
func (c *condBox) Range(name string) formula.Range { return c.bend(name).Range }

// Given implements [formula.RangeEnv].
func (c *condBox) Given(name string) formula.Truth {
	if c.steps {
		return c.source.given(name)
	}
	return givenBy(c.Range(name))
}

// givenBy says whether a value is surely there, surely not, or either.
func givenBy(r formula.Range) formula.Truth {
	there := !r.Empty() || r.Words != nil || r.List != nil
	switch {
	case there && !r.None && !r.Unknown && !r.Failed:
		return formula.True
	case there:
		return formula.Untold
	}
	return formula.False
}

// bendSource answers for the inputs of a method over a box: those typed, or
// those that a borrower hands over.
type bendSource interface {
	bend(name string) formula.Bend
	given(name string) formula.Truth
}

// boxed are inputs of which some move.
type boxed struct {
	*inputs
	box   Box
	leant bool // a value was asked for that stands in for a missing fact, or is one
}

func (b *boxed) given(name string) formula.Truth {
	if b.leant = b.leant || b.Missing(name); b.Given(name) {
		return formula.True
	}
	return formula.False
}

func (b *boxed) bend(name string) formula.Bend {
	value := b.Value(name)
	bend := formula.Bend{Range: formula.RangeOf(value)}
	b.leant = b.leant || len(value.Assumed) > 0
	for _, r := range bend.Range.List {
		b.leant = b.leant || r.Unknown
		bend.Members = append(bend.Members, formula.Bend{Range: r})
	}
	for i, m := range b.box.Moving {
		switch {
		case m.Name != name:
		case m.Member < 0:
			bend = formula.Mover(m.Lo, m.Hi, i, len(b.box.Moving))
		default:
			bend.Members[m.Member] = formula.Mover(m.Lo, m.Hi, i, len(b.box.Moving))
			bend.Range.List[m.Member] = bend.Members[m.Member].Range
		}
	}
	return bend
}

// over is a method being worked over a box, as [run] works it at a point.
type over struct {
	data    *Data
	source  bendSource
	memo    map[string]formula.Bend
	lent    map[string]*over
	checked bool
	refused bool // a need may not be met
}

func newOver(d *Data, source bendSource) *over {
	return &over{data: d, source: source, memo: map[string]formula.Bend{}, lent: map[string]*over{}}
}

// Range implements [formula.RangeEnv].
func (o *over) Range(name string) formula.Range { return o.bend(name).Range }

// Given implements [formula.RangeEnv].
func (o *over) Given(name string) formula.Truth { return o.source.given(name) }

// Bend implements [formula.BendEnv].
func (o *over) Bend(name string, member int) formula.Bend {
	b := o.bend(name)
	if member >= 0 && member < len(b.Members) {
		b = b.Members[member]
	}
	return b
}

func (o *over) bend(name string) formula.Bend {
	if b, ok := o.memo[name]; ok {
		return b
	}
	if c, ok := o.data.constants[name]; ok {
		return formula.Bend{Range: formula.Between(c.number.Value, c.number.Value)}
	}
	st := o.data.byName[name]
	if st == nil {
		return o.source.bend(name)
	}
	b := o.work(st)
	b.Range.Failed = b.Range.Failed || o.need()
	o.memo[name] = b
	return b
}

// need reports whether a need of the method may not be met somewhere.
func (o *over) need() bool {
	if !o.checked {
		o.checked = true
		for _, n := range o.data.needs {
			o.refused = o.refused || n.holds.Answers(o).False
		}
	}
	return o.refused
}

func (o *over) work(st *step) formula.Bend {
	switch {
	case st.borrow == nil:
		return gathered(st.body.Bend(o))
	default:
		other, ok := st.borrow.from.(*Data)
		if !ok {
			return anything()
		}
		return o.lend(st, other).bend(st.borrow.result.Of)
	}
}

// gathered tells of a list what [together] may make of it: that it is none,
// cannot be told or fails as a whole.
func gathered(b formula.Bend) formula.Bend {
	for _, m := range b.Members {
		b.Range.Failed = b.Range.Failed || m.Range.Failed
		b.Range.None = b.Range.None || m.Range.None
		b.Range.Unknown = b.Range.Unknown || m.Range.Unknown
	}
	return b
}

// anything is what a method written in Go may give: it has no ranges.
func anything() formula.Bend {
	r := formula.Between(math.Inf(-1), math.Inf(1))
	r.None, r.Unknown, r.Failed = true, true, true
	return formula.Bend{Range: r, Rough: true}
}

func (o *over) lend(st *step, other *Data) *over {
	lent, ok := o.lent[st.borrow.key]
	if !ok {
		lent = newOver(other, &handedOver{borrower: o, loan: st.borrow})
		o.lent[st.borrow.key] = lent
	}
	return lent
}

// handedOver are the inputs of a borrowed method over a box.
type handedOver struct {
	borrower *over
	loan     *loan
}

func (h *handedOver) bend(name string) formula.Bend {
	b, bound := h.loan.with[name]
	if !bound {
		return h.borrower.bend(name)
	}
	if b.value == nil {
		return formula.Bend{Range: formula.WordsAmong(b.word)}
	}
	bend := b.value.Bend(h.borrower)
	in := h.loan.from.Sheet().Input(name)
	bend.Range.Failed = bend.Range.Failed || in.mayRefuse(bend.Range)
	return bend
}

// mayRefuse reports whether a value of a range may lie beyond what the input
// allows.
func (i *Input) mayRefuse(r formula.Range) bool {
	if i.Choice != nil || r.List != nil || r.Empty() {
		return false
	}
	if i.Whole || len(i.Among) > 0 {
		return r.Lo != r.Hi || i.refuses(r.Lo)
	}
	return i.refuses(r.Lo) || i.refuses(r.Hi)
}

func (i *Input) refuses(v float64) bool {
	f := i.bounds(&Point{Value: formula.Quantity(v)})
	return f != nil && f.Grade == fault.Stop
}

func (h *handedOver) given(name string) formula.Truth {
	if _, bound := h.loan.with[name]; bound {
		return givenBy(h.bend(name).Range)
	}
	return h.borrower.source.given(name)
}
