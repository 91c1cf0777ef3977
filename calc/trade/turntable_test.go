package trade_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/optimize"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// worked runs a method at typed values.
func worked(t *testing.T, name string, typed map[string]string) *method.Outcome {
	t.Helper()
	m, ok := trade.Library().Method(name)
	if !ok {
		t.Fatalf("no method %s", name)
	}
	return m.Run(read(t, m.Sheet(), typed))
}

// printedAs is a result as it is printed.
func printedAs(t *testing.T, name, result string, typed map[string]string) string {
	t.Helper()
	m, _ := trade.Library().Method(name)
	return m.Sheet().Result(result).Text(worked(t, name, typed).Results.Of(result))
}

// underArm are arms and records, in millimetres.
var underArm = []struct{ arm, innermost, outermost float64 }{
	{230, 60.325, 146.05}, {237, 57.5, 146.05}, {305, 60.325, 146.3}, {175, 54, 120},
}

// TestAlignmentAgainstAnOptimiser looks for both alignments with gonum, which
// is given another form of the error and 1,001 radii, and nothing of ours.
func TestAlignmentAgainstAnOptimiser(t *testing.T) {
	for _, a := range underArm {
		for _, criterion := range []string{"peaks", "squares"} {
			t.Run(fmt.Sprintf("%v mm, %s", a.arm, criterion), func(t *testing.T) {
				got := worked(t, "alignment-search", map[string]string{
					"criterion": criterion, "arm": number(a.arm) + " mm",
					"innermost": number(a.innermost) + " mm", "outermost": number(a.outermost) + " mm",
				}).Results
				cost := func(x []float64) float64 { return costOf(criterion, a.arm, a.innermost, a.outermost, x) }
				best := minimised(t, cost, []float64{a.arm * 0.93, 22})
				overhang, offset := got.Of("overhang").Number*1000, got.Of("offset").Number*180/math.Pi
				ours := cost([]float64{a.arm - overhang, offset})
				if theirs := cost(best); ours > theirs*(1+1e-5) {
					t.Errorf("the cost is %v, and gonum finds %v", ours, theirs)
				}
				if math.Abs(a.arm-best[0]-overhang) > 0.01 || math.Abs(best[1]-offset) > 0.01 {
					t.Errorf("overhang %v mm and offset %v degrees; gonum finds %v and %v", overhang, offset, a.arm-best[0], best[1])
				}
			})
		}
	}
}

// costOf is what a criterion makes least. The angle comes of the cosine rule
// at the stylus, taken from a right angle.
func costOf(criterion string, arm, innermost, outermost float64, x []float64) float64 {
	const radii = 1000
	worst, sum := 0.0, 0.0
	for i := range radii + 1 {
		r := innermost + (outermost-innermost)*float64(i)/radii
		at := math.Acos((r*r + arm*arm - x[0]*x[0]) / (2 * r * arm))
		w := (90 - at*180/math.Pi - x[1]) / r
		worst = math.Max(worst, math.Abs(w))
		if share := 1.0; i == 0 || i == radii {
			sum += share / 2 * w * w
		} else {
			sum += w * w
		}
	}
	if criterion == "peaks" {
		return worst
	}
	return sum / radii
}

// minimised looks for the least cost, and again from what it found: such a
// search can stop early where a cost has edges.
func minimised(t *testing.T, cost func([]float64) float64, from []float64) []float64 {
	t.Helper()
	for range 4 {
		r, err := optimize.Minimize(optimize.Problem{Func: cost}, from, &optimize.Settings{
			Converger: &optimize.FunctionConverge{Absolute: 1e-16, Iterations: 200},
		}, &optimize.NelderMead{})
		if err != nil {
			t.Fatal(err)
		}
		from = r.X
	}
	return from
}

// TestAlignmentSearchOverItsBounds finds a setting for every arm and record
// inside the bounds, and goes with each length as it says.
func TestAlignmentSearchOverItsBounds(t *testing.T) {
	m, _ := trade.Library().Method("alignment-search")
	r := rand.New(rand.NewPCG(5, 7))
	for n := range 16 {
		innermost, outermost := 50+30*r.Float64(), 100+60*r.Float64()
		at := map[string]float64{"innermost": innermost, "outermost": outermost, "arm": math.Max(120, outermost+1) + 200*r.Float64()}
		if n == 0 {
			at = map[string]float64{"innermost": 80, "outermost": 100, "arm": 120}
		} else if n == 1 {
			at = map[string]float64{"innermost": 50, "outermost": 160, "arm": 161}
		}
		for _, criterion := range []string{"peaks", "squares"} {
			before := lengths(t, m, criterion, at)
			for _, moved := range []string{"arm", "innermost", "outermost"} {
				more := maps.Clone(at)
				if more[moved] *= 1.004; more["arm"] <= more["outermost"] || more["outermost"] > 160 || more["innermost"] > 80 {
					continue
				}
				after := lengths(t, m, criterion, more)
				for _, move := range m.Sheet().Moves {
					up := after.Of(move.Result).Number - before.Of(move.Result).Number
					if move.With == moved && (up < 0 && move.Way == "rises" || up > 0 && move.Way == "falls") {
						t.Errorf("%s, %v: %s moves by %v when %s rises", criterion, at, move.Result, up, moved)
					}
				}
			}
		}
	}
}

func lengths(t *testing.T, m method.Method, criterion string, at map[string]float64) method.Results {
	t.Helper()
	typed := map[string]string{"criterion": criterion}
	for name, x := range at {
		typed[name] = number(x) + " mm"
	}
	o := m.Run(read(t, m.Sheet(), typed))
	for _, r := range o.Results {
		if x := r.Value; x.State != formula.Known || math.IsNaN(x.Number) {
			t.Fatalf("%s is %v at %v: %s", r.Name, x.State, at, o.Faults)
		}
	}
	return o.Results
}

// TestAlignmentSearchRefuses an arm that does not reach, and tells what is
// missing.
func TestAlignmentSearchRefuses(t *testing.T) {
	m, _ := trade.Library().Method("alignment-search")
	o := worked(t, "alignment-search", map[string]string{"arm": "130 mm", "innermost": "60 mm", "outermost": "146 mm"})
	if !o.Faults.Stopped() || o.Results.Of("inner_null").State != formula.Failed {
		t.Errorf("an arm shorter than the record gives %+v", o.Results.Of("inner_null"))
	}
	unknown, faults := m.Sheet().Input("arm").Read(fault.NewText("arm", method.DontKnow).All())
	if faults.Stopped() {
		t.Fatal(faults)
	}
	if x := m.Run(method.Values{"arm": unknown}).Results.Of("inner_null"); x.State != formula.Unknown || x.Why == "" {
		t.Errorf("an arm that is not known gives %+v", x)
	}
	for i, steps := range m.Work(read(t, m.Sheet(), map[string]string{"arm": "230 mm", "innermost": "60 mm", "outermost": "146 mm"}), "overhang", "inner_null", "mean") {
		if len(steps) != []int{1, 3, 3}[i] {
			t.Errorf("the working of result %d has %d steps", i, len(steps))
		}
	}
}

// TestWhichCompliance: only the one at 10 Hz gives a resonance.
func TestWhichCompliance(t *testing.T) {
	for stated, want := range map[string]formula.State{"hz10": formula.Known, "hz100": formula.Unknown, "static": formula.Unknown} {
		o := worked(t, "arm-resonance", map[string]string{"mass": "18 g", "compliance": "15 um/mN", "stated": stated})
		if got := o.Results.Of("resonance"); got.State != want {
			t.Errorf("stated %s: the resonance is %v", stated, got.State)
		}
		if want == formula.Unknown && o.Verdicts[0].Grade == method.Fits {
			t.Errorf("stated %s: a resonance that nobody knows fits", stated)
		}
	}
}

// TestThirdsOfATurn: 33 1/3 is not 33.333, nor 33.
func TestThirdsOfATurn(t *testing.T) {
	for typed, want := range map[string]float64{"33 1/3 rpm": 180, "33.333 rpm": 180.00180002, "33 rpm": 181.81818182} {
		got := worked(t, "strobe", map[string]string{"record_speed": typed, "lamp": "50 Hz"}).Results.Of("exact_bars").Number
		if math.Abs(got-want) > 1e-8 {
			t.Errorf("%s wants %.9g bars, and not %.9g", typed, want, got)
		}
	}
}

// TestStrobeOfFiftyHertz: at 45 rpm no whole number of bars is exact, and the
// nearest stand still at another speed.
func TestStrobeOfFiftyHertz(t *testing.T) {
	at := map[string]string{"record_speed": "45 rpm", "lamp": "50 Hz"}
	o := worked(t, "strobe", at)
	if x := o.Results.Of("exact_bars").Number; x == math.Round(x) {
		t.Errorf("%v bars are said to be exact", x)
	}
	at["drawn"] = number(o.Results.Of("whole_bars").Number)
	if got := printedAs(t, "strobe-disc", "turning", at); got != "45.11 rpm" {
		t.Errorf("133 bars stand still at %s", got)
	}
}

// TestWrongMainsGoesTheRightWay: more cycles turn it faster, fewer slower, and
// a motor with electronics not at all otherwise.
func TestWrongMainsGoesTheRightWay(t *testing.T) {
	for _, c := range []struct{ made, here, motor, want string }{
		{"50 Hz", "60 Hz", "mains", "40.0 rpm"}, {"60 Hz", "50 Hz", "mains", "27.8 rpm"}, {"60 Hz", "50 Hz", "electronic", "33.3 rpm"},
	} {
		got := printedAs(t, "wrong-mains", "turning", map[string]string{"record_speed": "33 1/3 rpm", "made_for": c.made, "here": c.here, "motor": c.motor})
		if got != c.want {
			t.Errorf("made for %s, here %s, motor %s: %s, and not %s", c.made, c.here, c.motor, got, c.want)
		}
	}
}

// TestTurntableRoundsToTheHarmlessSide: a waver up, weeks and waves down.
func TestTurntableRoundsToTheHarmlessSide(t *testing.T) {
	for _, c := range []struct {
		method, result, want string
		typed                map[string]string
	}{
		{"eccentric-hole", "waver", "0.34 %", map[string]string{"shift": "0.2 mm", "groove_radius": "60.325 mm", "record_speed": "33 1/3 rpm"}},
		{"stylus-life", "weeks_left", "71", map[string]string{"rated": "500 h", "habit": "7 h", "played": "0 h"}},
		{"groove", "wavelength", "21.0 µm", map[string]string{"groove_radius": "60.325 mm", "record_speed": "33 1/3 rpm", "note": "10 kHz"}},
	} {
		if got := printedAs(t, c.method, c.result, c.typed); got != c.want {
			t.Errorf("%s of %s is printed as %s, and not %s", c.result, c.method, got, c.want)
		}
	}
}

// TestArmWithoutNulls: an arm that is right nowhere says so, and is not a
// fault.
func TestArmWithoutNulls(t *testing.T) {
	o := worked(t, "arm-geometry", map[string]string{"arm": "230 mm", "overhang": "18 mm", "offset": "10 deg", "groove_radius": "100 mm"})
	if o.Faults.Len() > 0 || o.Results.Of("inner_null").State != formula.None || o.Results.Of("error").State != formula.Known {
		t.Errorf("it gives %+v and %+v: %s", o.Results.Of("inner_null"), o.Results.Of("error"), o.Faults)
	}
}
