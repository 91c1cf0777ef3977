package method

import (
	"fmt"
	"math"

	"bindpost/calc/formula"
)

// mostBoxes is the budget of a proof: how many boxes may be looked at before
// it is given up. A count and not a time, so that the same claim is proved on
// every machine.
const mostBoxes = 20_000

// Proof is what came of a claim over a box.
type Proof struct {
	Outcome ProofOutcome
	At      Values // Refuted: a point at which it does not hold
	Why     string // NotProved, and Refuted where it cannot be told at the point: in words
	Boxes   int    // how many were looked at
}

// ProofOutcome is how a proof ended.
type ProofOutcome uint8

const (
	Proved    ProofOutcome = iota // it holds at every point of the box
	Refuted                       // there is a point at which it does not hold
	NotProved                     // neither could be shown
)

// Prove proves or refutes that a condition over the values and results of a
// method holds at every point of a box. Its ends are tried first, then the box
// is split where it matters most until each part is settled. A condition that
// cannot be told at some point is not met there. A method that has no ranges,
// being written in Go, is tried where nothing moves; anything else about it is
// not proved.
func Prove(m Method, cond *formula.Formula, b Box) Proof {
	p := &prover{method: m, cond: cond, whole: b}
	if p.ends(); p.refuted {
		return p.proof
	}
	d, ok := m.(*Data)
	switch {
	case len(b.Moving) == 0: // the only point was looked at
		return p.proof
	case !ok:
		p.proof.Outcome, p.proof.Why = NotProved, m.Sheet().Name+" has no formula that could be worked over a range"
		return p.proof
	}
	return p.split(d)
}

// prover is a proof under way.
type prover struct {
	method  Method
	cond    *formula.Formula
	whole   Box
	proof   Proof
	refuted bool
}

// try looks at one point, and reports whether the condition holds there.
func (p *prover) try(v Values) bool {
	s := p.method.Sheet()
	e := &forwards{inputs: newInputs(s, v), outcome: p.method.Run(v, s.results(p.cond)...)}
	truth, why := p.cond.Truth(e)
	if truth == formula.True {
		return true
	}
	p.proof.Outcome, p.proof.At, p.refuted = Refuted, v, true
	if truth == formula.Untold {
		p.proof.Why = why
	}
	return false
}

// mostEnds is how many moving values have all their corners tried.
const mostEnds = 6

// ends tries the corners of the box and its middle.
func (p *prover) ends() {
	for _, corner := range p.whole.Corners() {
		if !p.try(corner) {
			return
		}
	}
	p.try(middle(p.whole))
}

func middle(b Box) Values {
	return b.At(func(m Moving) float64 { return m.Lo + m.Width()/2 })
}

// split settles the box part by part, the larger parts first.
func (p *prover) split(d *Data) Proof {
	queue := []Box{p.whole}
	for len(queue) > 0 {
		b := queue[0]
		queue = queue[1:]
		if p.proof.Boxes++; p.proof.Boxes > mostBoxes {
			p.proof.Outcome, p.proof.Why = NotProved, "it was still open after "+spell(mostBoxes)+" parts of the range"
			return p.proof
		}
		if truth, sure := d.Holds(b, p.cond).Only(); sure && truth {
			continue
		}
		if !p.try(middle(b)) {
			return p.proof
		}
		i := p.widest(d, b)
		if i < 0 {
			p.proof.Outcome, p.proof.Why = NotProved, "at one point it is too close to be told"
			return p.proof
		}
		m := b.Moving[i]
		at := m.Lo + m.Width()/2
		queue = append(queue, b.with(i, m.Lo, at), b.with(i, at, m.Hi))
	}
	return p.proof
}

// widest returns the moving value whose range matters most to the condition:
// by the slopes of its results where they have an end, otherwise by its share
// of the whole range. It is -1 where nothing can be split any more.
func (p *prover) widest(d *Data, b Box) int {
	best, matters := -1, 0.0
	weights := p.weights(d, b)
	for i, m := range b.Moving {
		if at := m.Lo + m.Width()/2; at <= m.Lo || at >= m.Hi {
			continue
		}
		w := m.Width() / p.whole.Moving[i].Width()
		if weights != nil {
			w = weights[i]*m.Width() + w*1e-12
		}
		if w > matters {
			best, matters = i, w
		}
	}
	return best
}

// weights are the steepest slopes of the condition's results; nil where one of
// them has no end.
func (p *prover) weights(d *Data, b Box) []float64 {
	weights := make([]float64, len(b.Moving))
	for _, name := range d.sheet.results(p.cond) {
		bend := b.raw(d, d.sheet.Result(name).Of)
		if bend.Rough || len(bend.Members) > 0 {
			return nil
		}
		for i, s := range bend.Slopes {
			weights[i] = math.Max(weights[i], math.Max(math.Abs(s.Lo), math.Abs(s.Hi)))
			if math.IsInf(weights[i], 0) || math.IsNaN(weights[i]) {
				return nil
			}
		}
	}
	return weights
}

// spell writes a count with its thousands parted.
func spell(n int) string {
	if n < 1000 {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("%d,%03d", n/1000, n%1000)
}
