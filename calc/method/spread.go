package method

import (
	"container/heap"
	"math"

	"bindpost/calc/formula"
)

// Spread is from where to where a result goes while the values of a box move.
type Spread struct {
	Low, High float64 // in base units; no value of the box lies outside
	Known     bool    // there is a number somewhere in the box
	// Jumps: somewhere in the box the result may jump, or be none, or not be
	// told. Low and High then hold every number that it is, and may be further
	// apart than these are.
	Jumps   bool
	Matters string // the value that, moving alone, makes it go furthest; "" where none moves it
}

const (
	// spreadShare is how much of the true width each end may lie too far out.
	spreadShare = 0.005
	// spreadLeast is the same as a share of the value, for a width of next to
	// nothing.
	spreadLeast = 2e-10
	// spreadBoxes is how many parts of the box are looked at for each end.
	spreadBoxes = 4000
)

// Spread finds from where to where a result goes over a box, member counted
// from 0 where it is a list, and -1 where it is none. Each end is closed in
// from outside by the ranges of ever smaller parts, and from inside by points
// of them, until the two are near enough.
func (d *Data) Spread(b Box, result string, member int) Spread {
	s := &spreader{data: d, result: result, member: member}
	whole := s.over(b)
	s.mark(whole)
	s.point(b.At(func(m Moving) float64 { return m.Lo }))
	s.point(b.At(func(m Moving) float64 { return m.Hi }))
	s.point(middle(b))
	if whole.Range.Empty() {
		return Spread{Jumps: s.jumps}
	}
	low, high := s.close(b, whole, false), s.close(b, whole, true)
	return Spread{Low: low, High: high, Known: true, Jumps: s.jumps, Matters: s.matters(b)}
}

// spreader closes in on the ends of one result.
type spreader struct {
	data   *Data
	result string
	member int
	jumps  bool
	found  bool
	lo, hi float64 // of the points that were looked at
}

func (s *spreader) over(b Box) formula.Bend {
	bend := s.data.Over(b, s.result)
	if s.member >= 0 && s.member < len(bend.Members) {
		states := bend.Range
		bend = bend.Members[s.member]
		bend.Range.Failed = bend.Range.Failed || states.Failed
	}
	return bend
}

// mark notes that a part of the box has no numbers alone.
func (s *spreader) mark(bend formula.Bend) {
	s.jumps = s.jumps || bend.Rough || bend.Range.None || bend.Range.Unknown || bend.Range.Failed
}

// point works one point of the box.
func (s *spreader) point(v Values) {
	x := s.data.Run(v, s.result).Results.Of(s.result)
	if s.member >= 0 && s.member < len(x.List) {
		x = x.List[s.member]
	}
	if x.State != formula.Known || x.List != nil {
		s.jumps = true
		return
	}
	if !s.found {
		s.found, s.lo, s.hi = true, x.Number, x.Number
	}
	s.lo, s.hi = math.Min(s.lo, x.Number), math.Max(s.hi, x.Number)
}

// piece is a part of the box with the range of the result in it.
type piece struct {
	box   Box
	bend  formula.Bend
	bound float64 // how far out the result may go in it: smaller is further
}

// pieces is a heap, the one that may go furthest out first.
type pieces []piece

func (p pieces) Len() int           { return len(p) }
func (p pieces) Less(i, j int) bool { return p[i].bound < p[j].bound }
func (p pieces) Swap(i, j int)      { p[i], p[j] = p[j], p[i] }

// Push implements [heap.Interface].
func (p *pieces) Push(x any) { *p = append(*p, x.(piece)) }

// Pop implements [heap.Interface].
func (p *pieces) Pop() any {
	old := *p
	last := old[len(old)-1]
	*p = old[:len(old)-1]
	return last
}

// close closes in on one end, and returns a bound beyond which no value lies.
func (s *spreader) close(b Box, whole formula.Bend, high bool) float64 {
	outer := func(r formula.Range) float64 {
		if high {
			return -r.Hi
		}
		return r.Lo
	}
	open := &pieces{{b, whole, outer(whole.Range)}}
	settled := math.Inf(1) // the furthest of the pieces that cannot be split
	for range spreadBoxes {
		furthest := (*open)[0]
		inner := s.lo
		if high {
			inner = -s.hi
		}
		slack := math.Max(spreadShare*(s.hi-s.lo), spreadLeast*math.Abs(inner))
		if s.found && inner-math.Min(furthest.bound, settled) <= slack {
			break
		}
		heap.Pop(open)
		if i := steepest(furthest); i < 0 {
			settled = math.Min(settled, furthest.bound)
		} else {
			m := furthest.box.Moving[i]
			at := m.Lo + m.Width()/2
			for _, half := range []Box{furthest.box.with(i, m.Lo, at), furthest.box.with(i, at, m.Hi)} {
				s.point(s.outermost(half, furthest.bend, high))
				s.point(middle(half))
				if bend := s.over(half); !bend.Range.Empty() {
					heap.Push(open, piece{half, bend, outer(bend.Range)})
				}
			}
		}
		if open.Len() == 0 {
			break
		}
	}
	bound := settled
	if open.Len() > 0 {
		bound = math.Min(bound, (*open)[0].bound)
	}
	if high {
		return -bound
	}
	return bound
}

// outermost is the corner of a part towards which its slopes lead.
func (s *spreader) outermost(b Box, bend formula.Bend, high bool) Values {
	i := -1
	return b.At(func(m Moving) float64 {
		i++
		if bend.Slopes == nil {
			return m.Lo
		}
		rising := bend.Slopes[i].Lo+bend.Slopes[i].Hi > 0
		if rising == high {
			return m.Hi
		}
		return m.Lo
	})
}

// steepest returns the moving value that makes the most difference in a part,
// -1 where none can be split any more.
func steepest(p piece) int {
	best, most := -1, -1.0
	for i, m := range p.box.Moving {
		if at := m.Lo + m.Width()/2; at <= m.Lo || at >= m.Hi {
			continue
		}
		weight := m.Width() / math.Max(math.Abs(m.Lo), math.Abs(m.Hi))
		if p.bend.Slopes != nil {
			weight = m.Width() * math.Max(math.Abs(p.bend.Slopes[i].Lo), math.Abs(p.bend.Slopes[i].Hi))
		}
		if math.IsNaN(weight) {
			weight = math.Inf(1)
		}
		if weight > most {
			best, most = i, weight
		}
	}
	return best
}

// matterPoints is at how many points a value that moves alone is looked at.
const matterPoints = 17

// matters returns the name of the value whose range alone, all others standing
// in the middle of theirs, makes the result go furthest, from point to point.
func (s *spreader) matters(b Box) string {
	name, most := "", 0.0
	for i, m := range b.Moving {
		alone := &spreader{data: s.data, result: s.result, member: s.member}
		for n := range matterPoints {
			j := -1
			alone.point(b.At(func(other Moving) float64 {
				if j++; j == i {
					return m.Lo + m.Width()*float64(n)/(matterPoints-1)
				}
				return other.Lo + other.Width()/2
			}))
		}
		if wide := alone.hi - alone.lo; wide > most && wide > spreadLeast*math.Max(math.Abs(alone.lo), math.Abs(alone.hi)) {
			name, most = m.Name, wide
		}
	}
	return name
}
