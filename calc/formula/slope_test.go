package formula

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bending answers for the moving numbers x, y and z, and for the list l of the
// first two.
type bending struct{ ranges map[string]Range }

// still are the same numbers at one point.
type still map[string]float64

func (e still) Value(name string) Value {
	if name == "l" {
		return ListOf(Quantity(e["x"]), Quantity(e["y"]))
	}
	return Quantity(e[name])
}
func (e still) Given(string) bool   { return true }
func (e still) Missing(string) bool { return false }

var bendNames = []string{"x", "y", "z"}

func (e bending) Range(name string) Range {
	if name == "l" {
		return Range{Lo: 1, Hi: 0, List: []Range{e.ranges["x"], e.ranges["y"]}}
	}
	return e.ranges[name]
}
func (e bending) Given(string) Truth { return True }
func (e bending) Bend(name string, member int) Bend {
	if name == "l" && member >= 0 {
		name = bendNames[member]
	}
	for i, n := range bendNames {
		if n == name {
			return Mover(e.ranges[name].Lo, e.ranges[name].Hi, i, len(bendNames))
		}
	}
	return Bend{Range: e.Range(name)}
}

// TestSlopesHold draws boxes, and in each of them pairs of points that differ
// in one value: what the formula gains between them, over the distance, is
// one of the slopes of that value, unless the formula may jump.
func TestSlopesHold(t *testing.T) {
	texts := []string{
		"x + y - z", "x*y*z", "x/(y + z)", "(x - y)/(x + y)", "-x^2", "x^3 + y^(-2)", "x^0.5*z", "2^x", "x^y", "10^(x/20)*y",
		"sqrt(x)", "log10(x/y)", "log2(x)", "ln(x + y)", "exp(x - y)", "sin(x*1 rad)", "cos(x*1 rad)*y", "tan(x*1 rad)", "asin(x/9)/1 rad",
		"acos(x/9)/1 rad", "atan(x)/1 rad", "abs(x - y)", "sinc(x)", "sinc(x - 4)", "round(x)", "roundup(x*3)", "rounddown(y)", "min(x, y, 3)", "max(x, y*z, 5)",
		"sum(l)", "sum(1/l)*z", "x*count(l)", "1/sum(1/l)", "tally(x > y, y > z)", "x when x > y, else y", "max(x, y)*min(x, z)", "sqrt(x^2 + y^2)/(1 + z)", "20*log10((x + 2*y*z)/x)",
		"1 - (x/(x + y))^2",
	}
	r := rand.New(rand.NewPCG(5, 11))
	seen, moved := map[string]bool{}, 0
	for _, text := range texts {
		f := rangeTried(t, text)
		for _, name := range Calls(f.Node()) {
			seen[name] = true
		}
		for range 60 {
			box := map[string]Range{}
			for _, name := range bendNames {
				lo := 0.2 + 6*r.Float64()
				box[name] = Between(lo, lo*(1+r.Float64()*r.Float64()))
			}
			bend := f.Bend(bending{box})
			if !bend.Range.Sure() || bend.Rough {
				continue
			}
			for range 30 {
				moved += secant(t, r, text, f, box, bend)
			}
		}
	}
	for i := range functions {
		if !seen[functions[i].name] {
			t.Errorf("no formula here calls %s", functions[i].name)
		}
	}
	if moved < 20_000 {
		t.Errorf("only %d secants were held against slopes", moved)
	}
}

// secant compares one pair of points, and returns how many were compared.
func secant(t *testing.T, r *rand.Rand, text string, f *Formula, box map[string]Range, bend Bend) int {
	t.Helper()
	point := map[string]float64{}
	for name, b := range box {
		point[name] = b.Lo + (b.Hi-b.Lo)*r.Float64()
	}
	i := r.IntN(len(bendNames))
	name := bendNames[i]
	from := f.Eval(still(point)).Number
	before := point[name]
	point[name] = box[name].Lo + (box[name].Hi-box[name].Lo)*r.Float64()
	to, run := f.Eval(still(point)).Number, point[name]-before
	if math.Abs(run) < 1e-6 {
		return 0
	}
	steep, slack := (to-from)/run, 1e-9*(1+math.Abs(to)+math.Abs(from))/math.Abs(run)
	slope := Slope{}
	if bend.Slopes != nil {
		slope = bend.Slopes[i]
	}
	if steep < slope.Lo-slack || steep > slope.Hi+slack {
		t.Fatalf("%s: by %s it is %g steep over %+v, and its slopes are %+v", text, name, steep, box, bend.Slopes)
	}
	return 1
}

// TestSlopesAreTight: over a single point the slopes are hardly wider than the
// slope there, as a small difference finds it.
func TestSlopesAreTight(t *testing.T) {
	at := map[string]float64{"x": 2.3, "y": 1.7, "z": 0.9}
	box := map[string]Range{}
	for name, v := range at {
		box[name] = Between(v, v)
	}
	for _, text := range []string{"x^y", "20*log10((x + 2*y*z)/x)", "sinc(x)", "asin(x/9)/1 rad", "x/(y + z)", "tan(x*1 rad)", "exp(x - y)*abs(z - x)", "max(x, y)"} {
		f := rangeTried(t, text)
		bend := f.Bend(bending{box})
		for i, name := range bendNames {
			const h = 1e-6
			up, down := map[string]float64{}, map[string]float64{}
			for n, v := range at {
				up[n], down[n] = v, v
			}
			up[name] += h
			down[name] -= h
			want := (f.Eval(still(up)).Number - f.Eval(still(down)).Number) / (2 * h)
			got := bend.Slopes[i]
			if math.Abs(got.Lo-want) > 1e-6*(1+math.Abs(want)) || got.Hi-got.Lo > 1e-9*(1+math.Abs(want)) {
				t.Errorf("%s by %s: %+v, and a small difference says %g", text, name, got, want)
			}
		}
	}
}

// TestRough: what may jump says so, and what surely does not jump does not.
func TestRough(t *testing.T) {
	box := bending{map[string]Range{"x": Between(1, 2), "y": Between(1.5, 1.6), "z": Between(5, 6)}}
	for text, rough := range map[string]bool{
		"round(x)": true, "round(x/10)": false, "x when x > y, else 0": true, "x when z > x, else 0": false,
		"tally(x > y)": true, "min(x, y)": false, "abs(x - y)": false, "2*round(x)*y": true,
	} {
		if got := rangeTried(t, text).Bend(box).Rough; got != rough {
			t.Errorf("%s: rough is %v", text, got)
		}
	}
}
