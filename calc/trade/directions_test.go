package trade

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

const (
	directionDraws = 60 // points from which each value is moved
	directionSteps = 12 // of a value from one hard bound to the other, both of them included
)

// TestDirections moves each value of every formula method from one hard bound
// to the other, from many points: what a method file says of how a result
// goes holds over the whole of it, and of each result that one of its own
// values moves it says that it rises, falls, or neither and why.
func TestDirections(t *testing.T) {
	eachData(t, func(t *testing.T, d *method.Data) {
		seen := map[[2]string]*ways{}
		own := ownValues(t, d.Sheet().Name)
		draw := drawer{rand.New(rand.NewPCG(41, uint64(len(d.Sheet().Name)))), d.Sheet()}
		draws := directionDraws
		if raced {
			draws /= 10
		}
		for range draws {
			v, ok := draw.point()
			if !ok {
				continue
			}
			for _, in := range d.Sheet().Takes {
				if p, drawn := v[in.Name]; drawn && p.Known() && numeric(in) { // one of two that exclude each other may not be drawn
					sweep(draw, d, v, in, seen)
				}
			}
		}
		for _, m := range d.Sheet().Moves {
			seen[[2]string{m.Result, m.With}].hold(t, m)
		}
		if missing := unsaid(d.Sheet(), own, seen); missing != "" {
			t.Errorf("nothing is said of how these go:\n%s", missing)
		}
	})
}

// ways counts how often a result went up and down while a value rose.
type ways struct{ up, down int }

// hold compares what was seen with what a method says; a move with a step, and
// not with a value, is not seen here.
func (w *ways) hold(t *testing.T, m method.Move) {
	t.Helper()
	switch {
	case w == nil:
		return
	case m.Way == "rises" && w.down > 0 || m.Way == "falls" && w.up > 0:
		t.Errorf("%s does not always go as said (%s) while %s rises: up %d times, down %d", m.Result, m.Way, m.With, w.up, w.down)
	case m.Way == "neither" && !raced && (w.up == 0 || w.down == 0): // a few draws do not meet both
		t.Errorf("%s is said to neither rise nor fall with %s, and went up %d times, down %d", m.Result, m.With, w.up, w.down)
	}
}

func numeric(in *method.Input) bool {
	return in.Choice == nil && (len(in.Among) > 0 || in.From != nil && in.To != nil)
}

// sweep moves one value, or one member of a list, and counts the ways of all
// number results.
func sweep(draw drawer, d *method.Data, v method.Values, in *method.Input, seen map[[2]string]*ways) {
	last := map[string]formula.Value{}
	member := -1
	if list := v[in.Name].Value.List; list != nil {
		member = draw.r.IntN(len(list))
	}
	for _, p := range stops(draw, in) {
		if member >= 0 {
			whole := v[in.Name]
			whole.Value.List = slices.Clone(whole.Value.List)
			whole.Value.List[member] = p.Value
			p = whole
		}
		o := d.Run(v.With(in.Name, p))
		if o.Faults.Len() > 0 {
			clear(last)
			continue
		}
		for _, res := range d.Sheet().Gives {
			now := o.Results.Of(res.Name)
			if before, ok := last[res.Name]; ok && res.Words == nil {
				compareWays(seen, [2]string{res.Name, in.Name}, before, now)
			}
			last[res.Name] = now
		}
	}
}

// stops are the values at which one that moves stops, rising.
func stops(draw drawer, in *method.Input) []method.Point {
	if len(in.Among) > 0 {
		all := slices.Clone(in.Among)
		slices.SortFunc(all, func(a, b method.Point) int {
			return int(math.Copysign(1, a.Value.Number-b.Value.Number))
		})
		return all
	}
	var xs []float64
	for range directionSteps - 2 {
		xs = append(xs, drawn(draw.r, in.From.Value, in.To.Value))
	}
	xs = append(xs, in.From.Value, in.To.Value)
	slices.Sort(xs)
	var all []method.Point
	for _, x := range xs {
		all = append(all, draw.number(in, x))
	}
	return all
}

func compareWays(seen map[[2]string]*ways, pair [2]string, last, now formula.Value) {
	if len(last.List) > 0 && len(last.List) == len(now.List) {
		for i := range now.List {
			compareWays(seen, pair, last.List[i], now.List[i])
		}
		return
	}
	if last.State != formula.Known || now.State != formula.Known || last.List != nil || now.List != nil {
		return
	}
	w := seen[pair]
	if w == nil {
		w = &ways{}
		seen[pair] = w
	}
	slack := 1e-11 * max(math.Abs(last.Number), math.Abs(now.Number), 1e-9)
	if now.Number > last.Number+slack {
		w.up++
	} else if now.Number < last.Number-slack {
		w.down++
	}
}

// unsaid lists the pairs of which a method says nothing, as its file would.
func unsaid(s *method.Sheet, own map[string]bool, seen map[[2]string]*ways) string {
	lines := map[string][]string{}
	for _, res := range s.Gives {
		for _, in := range s.Takes {
			w := seen[[2]string{res.Name, in.Name}]
			if !own[in.Name] || w == nil || w.up+w.down == 0 || slices.ContainsFunc(s.Moves, func(m method.Move) bool {
				return m.Result == res.Name && m.With == in.Name
			}) {
				continue
			}
			pair := res.Name + " with " + in.Name
			switch {
			case w.down == 0:
				lines["rises"] = append(lines["rises"], pair)
			case w.up == 0:
				lines["falls"] = append(lines["falls"], pair)
			default:
				lines["neither"] = append(lines["neither"], fmt.Sprintf("%q", pair+", because …"))
			}
		}
	}
	var all []string
	for _, way := range []string{"rises", "falls", "neither"} {
		if len(lines[way]) > 0 {
			all = append(all, way+": ["+strings.Join(lines[way], ", ")+"]")
		}
	}
	return strings.Join(all, "\n")
}
