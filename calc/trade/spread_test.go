package trade

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

const (
	// spreadDraws is how many points are drawn inside the limits of all
	// methods together, at least.
	spreadDraws = 100_000
	// drawsInBox is how many of them in one box.
	drawsInBox = 175
	// boxesTight is how many from-to of each result are held against the true
	// extremes, at least: those over which it neither jumps nor is none.
	boxesTight = 8
	// boxesHeld is how many boxes of each method are held, at least: those of
	// three cases.
	boxesHeld = 18
)

// TestSpread draws limits about the values of every method, one of them
// moving, two, and all, and 100,000 points inside these: no result falls
// outside its from-to, which is wider than the true extremes by at most 2 % of
// their width, or 1e-9 of the value. The true extremes are looked for by the
// draws, by the corners, and from the best of these along each value, to its
// ends and by golden section. Results that jump or are none somewhere inside need only be
// contained, and are named.
func TestSpread(t *testing.T) {
	var drawn atomic.Int64
	t.Run("methods", func(t *testing.T) {
		for _, name := range namesHeld() {
			d, ok := methodOf(t, name).(*method.Data)
			if !ok {
				continue
			}
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				h := &spreadHeld{d: d, tight: map[string]int{}, jumps: map[string]int{}}
				for seed := range uint64(2) {
					h.limits(rand.New(rand.NewPCG(seed, uint64(len(name)))), seed == 0, func(r *rand.Rand, b method.Box) {
						if !h.enough() {
							h.box(t, r, b)
						}
					})
				}
				if !raced {
					h.told(t)
				}
				drawn.Add(int64(h.drawn))
			})
		}
	})
	if n := drawn.Load(); n < spreadDraws && !raced {
		t.Errorf("only %d points were drawn", n)
	}
}

// spreadHeld counts what was held of one method.
type spreadHeld struct {
	d            *method.Data
	drawn, boxes int
	tight, jumps map[string]int // from-to, by result
}

// limits draws boxes about the values of each case, and about those with the
// book's example for every value that the case leaves out where these are
// wanted too.
func (h *spreadHeld) limits(r *rand.Rand, filled bool, use func(*rand.Rand, method.Box)) {
	for _, c := range casesOf(h.d.Sheet()) {
		for _, whole := range []bool{false, true} {
			v := c.Values
			if whole && !filled {
				break
			}
			if whole {
				v = h.filled(v)
			}
			for many := range 3 {
				if b := h.drawBox(r, v, many+1); len(b.Moving) > 0 {
					use(r, b)
				}
			}
		}
	}
}

// filled adds the book's examples, where the method takes them together.
func (h *spreadHeld) filled(v method.Values) method.Values {
	for _, in := range h.d.Sheet().Takes {
		if _, typed := v[in.Name]; typed || len(in.Book) == 0 || in.Group != "" {
			continue
		}
		if more := v.With(in.Name, in.Book[0]); !h.d.Sheet().Check(more, fault.Place{}).Stopped() {
			v = more
		}
	}
	return v
}

// drawBox moves the numbers among the values to random centres, and draws
// limits about one of them, about two, or for 3 about all.
func (h *spreadHeld) drawBox(r *rand.Rand, v method.Values, many int) method.Box {
	b := method.Box{}
	for _, in := range h.d.Sheet().Takes {
		p, typed := v[in.Name]
		if !typed || in.Choice != nil || in.Whole || len(in.Among) > 0 || !p.Known() || in.From == nil || in.To == nil {
			continue
		}
		move := func(member int, x formula.Value) formula.Value {
			if x.State != formula.Known {
				return x
			}
			x.Number = math.Max(in.From.Value, math.Min(in.To.Value, x.Number*(0.75+0.5*r.Float64())))
			lo, hi := about(r, x.Number, in.From.Value, in.To.Value)
			b.Moving = append(b.Moving, method.Moving{Name: in.Name, Member: member, Lo: lo, Hi: hi})
			return x
		}
		if p.Value.List == nil {
			p.Value = move(-1, p.Value)
		}
		p.Value.List = slices.Clone(p.Value.List)
		for i, member := range p.Value.List {
			p.Value.List[i] = move(i, member)
		}
		v = v.With(in.Name, p)
	}
	b.Values = v
	if r.Shuffle(len(b.Moving), func(i, j int) { b.Moving[i], b.Moving[j] = b.Moving[j], b.Moving[i] }); many < 3 {
		b.Moving = b.Moving[:min(many, len(b.Moving))]
	}
	return b
}

// enough tells whether so many boxes were held, and every result tight over so
// many of them, that more would show nothing new.
func (h *spreadHeld) enough() bool {
	if raced {
		return h.boxes >= 2
	}
	return h.boxes >= boxesHeld && !slices.ContainsFunc(h.d.Sheet().Gives, func(res *method.Result) bool {
		return res.Words == nil && h.tight[res.Name] < boxesTight && !leaping(h.d, res)
	})
}

// leaps are the results that jump over every box, as whole numbers of
// something do.
var leaps = []string{"strobe whole_bars"}

func leaping(d *method.Data, res *method.Result) bool {
	return slices.Contains(leaps, d.Sheet().Name+" "+res.Name)
}

// box holds every result over one box.
func (h *spreadHeld) box(t *testing.T, r *rand.Rand, b method.Box) {
	h.boxes++
	var all []*extremes
	for _, res := range h.d.Sheet().Gives {
		for _, member := range membersOf(h.d, b, res.Name) {
			all = append(all, &extremes{d: h.d, b: b, result: res.Name, member: member, lo: math.Inf(1), hi: math.Inf(-1)})
		}
	}
	for _, x := range h.points(r, b) {
		o := h.d.Run(pointIn(b, x))
		for _, e := range all {
			e.take(x, o)
		}
	}
	for _, e := range all {
		e.closeIn()
		s := h.d.Spread(b, e.result, e.member)
		if e.held(t, s); s.Jumps {
			h.jumps[e.result]++
			continue
		}
		h.tight[e.result]++
		slack := math.Max(0.02*(e.hi-e.lo), 1e-9*math.Max(math.Abs(e.lo), math.Abs(e.hi))) + math.SmallestNonzeroFloat64*256
		if wider := (s.High - s.Low) - (e.hi - e.lo); !(wider <= slack) {
			t.Errorf("%s goes from %.12g to %.12g over %+v, and only from %.12g to %.12g was met", e.result, s.Low, s.High, b.Moving, e.lo, e.hi)
		}
	}
}

// points are the corners of a box and points drawn inside it.
func (h *spreadHeld) points(r *rand.Rand, b method.Box) [][]float64 {
	var all [][]float64
	for corner := range 1 << min(len(b.Moving), 7) {
		x := make([]float64, len(b.Moving))
		for i, m := range b.Moving {
			if x[i] = m.Lo; corner>>i&1 == 1 {
				x[i] = m.Hi
			}
		}
		all = append(all, x)
	}
	for range drawsInBox {
		x := make([]float64, len(b.Moving))
		for i, m := range b.Moving {
			x[i] = m.Lo + m.Width()*r.Float64()
		}
		all = append(all, x)
		h.drawn++
	}
	return all
}

// told sees that no result escaped: each was held tight over some boxes. It
// names those that jump or are none over others.
func (h *spreadHeld) told(t *testing.T) {
	if h.boxes == 0 {
		t.Logf("no value of it has limits")
		return
	}
	var jumps []string
	for _, res := range h.d.Sheet().Gives {
		if res.Words == nil && h.tight[res.Name] < boxesTight && !leaping(h.d, res) {
			t.Errorf("%s was held tight over %d boxes only", res.Name, h.tight[res.Name])
		}
		if n := h.jumps[res.Name]; n > 0 {
			jumps = append(jumps, fmt.Sprintf("%s over %d of %d", res.Name, n, n+h.tight[res.Name]))
		}
	}
	if jumps != nil {
		t.Logf("may jump or be none somewhere: %s", strings.Join(jumps, ", "))
	}
}

func pointIn(b method.Box, x []float64) method.Values {
	i := -1
	return b.At(func(method.Moving) float64 { i++; return x[i] })
}

// membersOf returns the members that a result has, -1 for one that is no list,
// none for a word.
func membersOf(d *method.Data, b method.Box, result string) []int {
	v := d.Run(b.Values, result).Results.Of(result)
	switch {
	case v.Word != "":
		return nil
	case v.List == nil:
		return []int{-1}
	}
	var all []int
	for i := range v.List {
		all = append(all, i)
	}
	return all
}

// extremes are the furthest values of a result that were met.
type extremes struct {
	d           *method.Data
	b           method.Box
	result      string
	member      int
	lo, hi      float64
	least, most []float64 // where
}

// take takes in what came of a point, and returns the result there.
func (e *extremes) take(x []float64, o *method.Outcome) float64 {
	v := o.Results.Of(e.result)
	if e.member >= 0 && e.member < len(v.List) {
		v = v.List[e.member]
	}
	if v.State != formula.Known || v.List != nil {
		return math.NaN()
	}
	if v.Number < e.lo {
		e.lo, e.least = v.Number, slices.Clone(x)
	}
	if v.Number > e.hi {
		e.hi, e.most = v.Number, slices.Clone(x)
	}
	return v.Number
}

// closeIn walks from the best points so far along each value, twice: to its
// ends, and by golden section, unless it stands at an end and a hundredth of
// its range from there is worse.
func (e *extremes) closeIn() {
	for round := range 4 {
		most := round%2 == 1
		for i, m := range e.b.Moving {
			if e.best(most) == nil {
				return
			}
			e.along(e.best(most), i, m.Lo, most)
			e.along(e.best(most), i, m.Hi, most)
			at, reach := e.best(most)[i], 0.3*m.Width()
			if inward := 0.01 * m.Width(); at == m.Lo || at == m.Hi {
				if at == m.Hi {
					inward = -inward
				}
				if e.along(e.best(most), i, at+inward, most); e.best(most)[i] == at {
					continue
				}
			}
			e.golden(i, math.Max(m.Lo, at-reach), math.Min(m.Hi, at+reach), most)
		}
	}
}

// along looks at the point at which one value stands elsewhere; what it
// returns is less where it is better.
func (e *extremes) along(from []float64, i int, to float64, most bool) float64 {
	x := slices.Clone(from)
	x[i] = to
	y := e.take(x, e.d.Run(pointIn(e.b, x), e.result))
	if most {
		return -y
	}
	return y
}

func (e *extremes) best(most bool) []float64 {
	if most {
		return e.most
	}
	return e.least
}

// golden closes in on a least or most along one value.
func (e *extremes) golden(i int, lo, hi float64, most bool) {
	const ratio = 0.6180339887498949 // (sqrt(5) - 1)/2
	from := e.best(most)
	at := func(to float64) float64 { return e.along(from, i, to, most) }
	a, b := hi-ratio*(hi-lo), lo+ratio*(hi-lo)
	ya, yb := at(a), at(b)
	for range 11 {
		if ya < yb {
			hi, b, yb = b, a, ya
			a = hi - ratio*(hi-lo)
			ya = at(a)
		} else {
			lo, a, ya = a, b, yb
			b = lo + ratio*(hi-lo)
			yb = at(b)
		}
	}
}

func (e *extremes) held(t *testing.T, s method.Spread) {
	t.Helper()
	if math.IsInf(e.lo, 0) {
		return
	}
	if !s.Known || e.lo < s.Low || e.hi > s.High {
		t.Errorf("%s was met from %.17g to %.17g over %+v, and is said to go from %.17g to %.17g", e.result, e.lo, e.hi, e.b.Moving, s.Low, s.High)
	}
}

// TestSpreadMatters: the value that matters most is the one that moves the
// result most. To a small loss, nearly so many per cent are lost as the wire
// has more or less ohms, and the load fewer or more.
func TestSpreadMatters(t *testing.T) {
	wire := methodOf(t, "speaker-wire").(*method.Data)
	sine := methodOf(t, "sine-power").(*method.Data)
	for _, c := range []struct {
		d              *method.Data
		result, want   string
		first, second  string
		low, high      float64
		lower, greater float64
	}{
		{wire, "loss", "load", "run", "load", 8.9, 9.1, 6, 10},
		{wire, "loss", "run", "run", "load", 4, 9.1, 7.99, 8.01},
		{wire, "loss", "run", "run", "load", 1.5, 4.5, 7.2, 8.8},       // 50 % against 10 %, the load standing twice in the rule
		{wire, "wire", "run", "run", "load", 8.99, 9.01, 2, 60},        // the load is not in it
		{sine, "peak_power", "power", "power", "load", 99, 101, 4, 12}, // 2*power
		{sine, "peak_power", "", "power", "load", 100, 100, 4, 12},
	} {
		values := []string{"gauge=16 AWG", "run=9 m", "load=8 ohm"}
		if c.d == sine {
			values = []string{"power=100 W", "load=8 ohm"}
		}
		b := method.Box{Values: valuesOf(t, c.d, values...), Moving: []method.Moving{
			{Name: c.first, Member: -1, Lo: c.low, Hi: c.high}, {Name: c.second, Member: -1, Lo: c.lower, Hi: c.greater},
		}}
		if s := c.d.Spread(b, c.result, -1); s.Matters != c.want {
			t.Errorf("to %s over %+v %q is said to matter most, and %q does", c.result, b.Moving, s.Matters, c.want)
		}
	}
}
