package method

import (
	"math"
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
)

// mostParts is how many parts of the limits are looked at for one verdict or
// one caution; what is open then counts as met.
const mostParts = 600

// What is said behind the words of a verdict that is not that of the middle.
const (
	atAnEnd   = "; so it is at an end of the limits"
	inside    = "; so it is somewhere within the limits"
	notClosed = "; that could not be ruled out within the limits"
)

// AtWorst makes an outcome that of the limits of the values: with every
// caution that may be met anywhere within them, and under each name the worst
// verdict that may be. What cannot be shown never to be met counts as met. A
// method without formulas has no ranges to be worked over limits, which is a
// stop among the faults.
func (o *Outcome) AtWorst(m Method, v Values) {
	b := m.Sheet().Box(v)
	if len(b.Moving) == 0 {
		return
	}
	d, isData := m.(*Data)
	if !isData {
		o.fault(fault.At(fault.Place{}, "%s has no formula that could be worked over limits", m.Sheet().Name).Fix("take the ± out of its values"))
		return
	}
	o.Verdicts = slices.Clone(o.Verdicts) // runs whose choices fall alike share them
	w := &worst{data: d, box: b, verdicts: o.Verdicts}
	w.brought = make([]bool, len(d.cautions))
	for i, t := range d.cautions {
		w.brought[i] = slices.Contains(o.Cautions, t.caution)
	}
	for _, corner := range b.Corners() {
		w.point(corner, atAnEnd)
	}
	for i := range d.verdicts {
		w.closeVerdict(i)
	}
	o.Cautions = nil
	for i, t := range d.cautions {
		if w.brought[i] || w.mayBring(i) {
			o.Cautions = append(o.Cautions, t.caution)
		}
	}
}

// worst looks for the worst that is met within limits.
type worst struct {
	data     *Data
	box      Box
	verdicts []Verdict
	brought  []bool // by the cautions of the method
}

// point takes in what is met at one point.
func (w *worst) point(v Values, where string) {
	var trail []worked
	r := w.data.start(newInputs(w.data.sheet, v), &trail)
	for i, rule := range w.data.verdicts {
		if met := rule.worked(r, w.data.sheet); Worse(met.Grade, w.verdicts[i].Grade) {
			met.Words += where
			w.verdicts[i] = met
		}
	}
	for i, t := range w.data.cautions {
		w.brought[i] = w.brought[i] || t.brought(r)
	}
}

// mayBring reports whether a caution may be met anywhere, though it was met at
// no end.
func (w *worst) mayBring(i int) bool {
	when := w.data.cautions[i].when
	open := w.search(when.Uses(), func(c *condBox) bool {
		return when.Answers(c) != formula.Answers{False: true}
	}, func() bool { return w.brought[i] })
	return open || w.brought[i]
}

// closeVerdict makes a verdict the worst that may be met anywhere.
func (w *worst) closeVerdict(i int) {
	rule := w.data.verdicts[i]
	var uses []string
	for _, row := range rule.rows {
		if row.when != nil {
			uses = append(uses, row.when.Uses()...)
		}
	}
	var may Verdict
	if w.search(uses, func(c *condBox) bool {
		may = rule.over(c)
		return Worse(may.Grade, w.verdicts[i].Grade)
	}, func() bool { return w.verdicts[i].Grade == grades[len(grades)-1] }) {
		may.Words += notClosed
		w.verdicts[i] = may
	}
}

// search splits the box for as long as something may be in its parts, the
// larger parts first, and looks at the middle of each. It ends when enough was
// found, and reports whether it had to give up on a part, which is then the
// last that was asked about.
func (w *worst) search(uses []string, may func(*condBox) bool, enough func() bool) (open bool) {
	queue := []Box{w.box}
	for n := 0; len(queue) > 0 && !enough(); n++ {
		part := queue[0]
		queue = queue[1:]
		c := newCondBox(w.data, part)
		c.steps = true
		if !may(c) {
			continue
		}
		if w.point(middle(part), inside); enough() || !may(c) {
			continue
		}
		i := c.widest(uses, w.box)
		if n >= mostParts || i < 0 {
			return true
		}
		m := part.Moving[i]
		at := m.Lo + m.Width()/2
		queue = append(queue, part.with(i, m.Lo, at), part.with(i, at, m.Hi))
	}
	return false
}

// widest returns the moving value that matters most to a condition in this
// part of a box: by the slopes of what the condition names, and by its share
// of the whole where these have no end; -1 where none can be split any more.
func (c *condBox) widest(uses []string, whole Box) int {
	best, most := -1, -1.0
	for i, m := range c.box.Moving {
		if at := m.Lo + m.Width()/2; at <= m.Lo || at >= m.Hi {
			continue
		}
		weight := m.Width() / whole.Moving[i].Width() * 1e-9
		for _, name := range uses {
			bend := c.bend(name)
			for _, b := range append(bend.Members, bend) {
				if b.Slopes == nil {
					continue
				}
				size := math.Max(math.Abs(b.Range.Lo), math.Abs(b.Range.Hi))
				steep := math.Max(math.Abs(b.Slopes[i].Lo), math.Abs(b.Slopes[i].Hi)) * m.Width() / size
				if !math.IsInf(steep, 0) && !math.IsNaN(steep) {
					weight += steep
				}
			}
		}
		if weight > most {
			best, most = i, weight
		}
	}
	return best
}

// over returns the worst that a ruling may say in a part of a box. Its words
// are those of the row, without what may be missing.
func (r *ruling) over(c *condBox) Verdict {
	worst := Verdict{Name: r.name}
	take := func(grade, words string) {
		if worst.Grade == "" || Worse(grade, worst.Grade) {
			worst.Grade, worst.Words = grade, words
		}
	}
	for _, row := range r.rows {
		a := formula.Answers{True: true}
		if row.when != nil {
			a = row.when.Answers(c)
		}
		switch {
		case a.True && row.grade == Fits && c.source.leant:
			take(Doubtful, row.words+"; a value stands in for what is not known")
		case a.True:
			take(row.grade, row.words)
		}
		if a.Unknown || a.Failed {
			take(CannotTell, "a fact is missing, or something cannot be worked")
		}
		if !a.False {
			break
		}
	}
	return worst
}
