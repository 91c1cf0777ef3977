package formula

import (
	"math"
	"testing"
)

// TestRangesHold draws ranges and points inside them for every formula of the
// trade, and sees that what a formula comes to at the point is always among
// what its range holds.
func TestRangesHold(t *testing.T) {
	const draws, points = 120, 6
	lot := newLot(1)
	states := map[State]int{}
	for _, s := range sounds(t) {
		for range draws {
			ranges := lot.ranges(s)
			over := &soundRanges{s, ranges}
			for range points {
				env := newSoundEnv(s, lot.point(ranges, s))
				for i := range s.steps {
					st := &s.steps[i]
					v, r := env.Value(st.name), over.Range(st.name)
					states[v.State]++
					if !r.Holds(v) {
						t.Fatalf("%s: %s came to %+v with %+v, and its range is %+v over %+v", s.name, st.name, v, env.inputs, r, ranges)
					}
				}
				for _, c := range s.conds {
					a, all := c.Answer(env), c.Answers(over)
					if !all.Hold(a) {
						t.Fatalf("%s: %s is %+v with %+v, and may be %+v over %+v", s.name, Text(c.Node()), a, env.inputs, all, ranges)
					}
				}
			}
		}
	}
	for _, state := range []State{Known, None, Unknown, Failed} {
		if states[state] == 0 {
			t.Errorf("no value was ever %s", state)
		}
	}
	t.Logf("values by state: %v", states)
}

// TestPointRangesAreTight sees that a formula over single points ranges hardly
// further than its value. Where a formula takes the difference of two nearly
// equal numbers the rounding of both shows, and a wide range is the truth;
// that is seldom.
func TestPointRangesAreTight(t *testing.T) {
	const tight, often = 1e-12, 0.95
	lot := newLot(2)
	known, close := 0, 0
	for _, s := range sounds(t) {
		for range 20 {
			values := lot.point(lot.ranges(s), s)
			ranges := map[string]Range{}
			for name, v := range values {
				ranges[name] = RangeOf(v)
			}
			env, over := newSoundEnv(s, values), &soundRanges{s, ranges}
			for i := range s.steps {
				v, r := env.Value(s.steps[i].name), over.Range(s.steps[i].name)
				if v.State != Known || v.List != nil || v.Word != "" {
					continue
				}
				known++
				if r.Hi-r.Lo <= tight*math.Max(math.Abs(r.Lo), math.Abs(r.Hi)) {
					close++
				}
			}
		}
	}
	if share := float64(close) / float64(known); share < often {
		t.Errorf("only %.3f of %d ranges over points are tight", share, known)
	}
}
