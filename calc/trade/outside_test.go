package trade_test

import (
	"fmt"
	"math"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// circuit is an amplifier, a wire of two legs and a speaker, as a solver that
// knows nothing of our formulas sees them.
type circuit struct {
	leg    float64 // ohm, of one conductor
	load   float64
	factor float64 // 0: the amplifier has no resistance of its own
	low    float64
	high   float64
}

// gauges are the points at which the solver is asked. The resistance of each
// leg comes from GNU units, and not from us.
var gauges = []struct {
	name, gauge, run string
	load, factor     float64
	low, high        float64
}{
	{"kitchen", "16", "9 m", 8, 200, 6.4, 40},
	{"hall", "12", "30 m", 4, 100, 3.2, 25},
	{"porch", "18", "50 ft", 6, 20, 4.8, 60},
	{"thin", "24", "5 m", 4, 500, 4, 8},
}

// TestSpeakerWireAgainstASolver compares every result of speaker-wire with
// ngspice, fed with wire resistances from GNU units.
func TestSpeakerWireAgainstASolver(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	for _, g := range gauges {
		t.Run(g.name, func(t *testing.T) {
			leg := gnuUnits(t, fmt.Sprintf("%s/(IACS circlearea(wiregauge(%s)/2))", g.run, g.gauge), "ohm")
			c := circuit{leg: leg, load: g.load, factor: g.factor, low: g.low, high: g.high}
			values := read(t, m.Sheet(), map[string]string{
				"gauge": g.gauge + " AWG", "run": g.run, "load": ohms(g.load), "factor": number(g.factor),
				"low": ohms(g.low), "high": ohms(g.high),
			})
			got := m.Run(values).Results
			want := c.solved(t)
			want["wire"] = 2 * leg
			for _, name := range []string{"wire", "loss", "share", "drop", "damping", "swing"} {
				if v := got.Of(name); v.State != formula.Known || math.Abs(v.Number-want[name]) > 2e-7*math.Abs(want[name]) {
					t.Errorf("%s is %v %v, and outside it is %v", name, v.State, v.Number, want[name])
				}
			}
		})
	}
}

func ohms(x float64) string   { return number(x) + " ohm" }
func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// read reads typed values of a method.
func read(t *testing.T, s *method.Sheet, typed map[string]string) method.Values {
	t.Helper()
	values := method.Values{}
	for name, value := range typed {
		p, faults := s.Input(name).Read(fault.NewText(name, value).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		values[name] = p
	}
	if faults := s.Check(values, fault.Place{}); faults.Stopped() {
		t.Fatal(faults)
	}
	return values
}

// solved asks ngspice for the level lost, the share burned in the wire, the
// drop of the speaker's power, the damping and the swing of the response.
func (c circuit) solved(t *testing.T) map[string]float64 {
	t.Helper()
	q := ngspice(t, fmt.Sprintf(`
V1 in 0 AC 1
R1 in a %[1]v
RL a b %[2]v
R2 b 0 %[1]v
V2 bare 0 AC 1
R3 bare 0 %[2]v
`, c.leg, c.load), "-db(v(a,b))", "1-mag(v(a,b))*mag(v(a,b))/("+number(c.load)+"*mag(i(v1)))", "1-(mag(v(a,b))/mag(v(bare)))^2")
	inner := c.load / c.factor
	// A current of 1 A pushed into the wire's far end meets what drives the speaker.
	back := ngspice(t, fmt.Sprintf("\nI1 b a AC 1\nRi a x %v\nR1 x y %[2]v\nR2 y b %[2]v\nRg b 0 1\n", inner, c.leg), "mag(v(a,b))")
	swing := ngspice(t, fmt.Sprintf(`
V1 in 0 AC 1
Ri in p %[1]v
R1 p a %[2]v
RL a b %[4]v
R2 b 0 %[2]v
V2 in2 0 AC 1
Rj in2 q %[1]v
R3 q c %[2]v
RM c d %[3]v
R4 d 0 %[2]v
`, inner, c.leg, c.low, c.high), "db(v(a,b))-db(v(c,d))")
	return map[string]float64{"loss": q[0], "share": q[1], "drop": q[2], "damping": c.load / back[0], "swing": swing[0]}
}

var printed = regexp.MustCompile(`(?m)^q\d+ = (\S+)`)

// ngspice solves a net at 1 kHz and returns what is asked of it.
func ngspice(t *testing.T, net string, asked ...string) []float64 {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "a net of resistors%s.control\nset numdgt=10\nac lin 1 1k 1k\n", net)
	for i, e := range asked {
		fmt.Fprintf(&b, "let q%d = %s\nprint q%d\n", i, e, i)
	}
	b.WriteString(".endc\n.end\n")
	cmd := exec.Command("ngspice", "-b")
	cmd.Stdin = strings.NewReader(b.String())
	out, err := cmd.CombinedOutput()
	found := printed.FindAllStringSubmatch(string(out), -1)
	if len(found) != len(asked) {
		t.Fatalf("ngspice (Debian package ngspice) answered %d of %d: %v\n%s", len(found), len(asked), err, out)
	}
	values := make([]float64, len(found))
	for i, f := range found {
		if values[i], err = strconv.ParseFloat(f[1], 64); err != nil {
			t.Fatal(err)
		}
	}
	return values
}

// gnuUnits asks GNU units to convert.
func gnuUnits(t *testing.T, have, want string) float64 {
	t.Helper()
	out, err := exec.Command("units", "-t", "-o", "%.15g", have, want).Output()
	if err != nil {
		t.Fatalf("units (Debian package units): %v %s", err, out)
	}
	x, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// TestWireSizesAgainstGNUUnits compares diameters, areas and resistances of
// every gauge with GNU units.
func TestWireSizesAgainstGNUUnits(t *testing.T) {
	m, _ := trade.Library().Method("wire-resistance")
	size, _ := trade.Library().Method("wire-size")
	for gauge := 0; gauge <= 30; gauge += 3 {
		g := strconv.Itoa(gauge)
		typed := map[string]string{"gauge": g + " AWG"}
		sizes := size.Run(read(t, size.Sheet(), typed)).Results
		each := m.Run(read(t, m.Sheet(), typed)).Results.Of("each").Number
		for _, c := range []struct {
			what       string
			got        float64
			have, want string
		}{
			{"diameter", sizes.Of("diameter").Number, "wiregauge(" + g + ")", "m"},
			{"area", sizes.Of("area").Number, "circlearea(wiregauge(" + g + ")/2)", "m^2"},
			{"each", each, "1/(IACS circlearea(wiregauge(" + g + ")/2))", "ohm/m"},
		} {
			if want := gnuUnits(t, c.have, c.want); math.Abs(c.got-want) > 1e-9*want {
				t.Errorf("%s of %s AWG is %v, and GNU units says %v", c.what, g, c.got, want)
			}
		}
	}
}
