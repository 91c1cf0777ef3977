package trade_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/trade"
)

// sideBySide are speakers on one amplifier, as a solver sees them.
var sideBySide = []struct {
	name  string
	volts float64
	loads []float64
}{
	{"two pairs of eight", 20, []float64{8, 8}},
	{"four and eight", 20, []float64{4, 8}},
	{"three unlike", 12.5, []float64{16, 6, 4}},
	{"five", 28.3, []float64{8, 8, 16, 6, 64}},
}

// TestLoadsAgainstASolver compares loads, currents and powers of speakers side
// by side with ngspice, and the lowest load with a net of its own.
func TestLoadsAgainstASolver(t *testing.T) {
	m, _ := trade.Library().Method("loads-parallel")
	for _, s := range sideBySide {
		t.Run(s.name, func(t *testing.T) {
			values := read(t, m.Sheet(), map[string]string{"loads": joined(s.loads) + " ohm", "volts": number(s.volts) + " V"})
			got := m.Run(values).Results
			total, amps, watts := branches(t, s.volts, s.loads)
			lowest := make([]float64, len(s.loads))
			for i, r := range s.loads {
				lowest[i] = r * 80 / 100
			}
			worst, _, _ := branches(t, s.volts, lowest)
			agrees(t, "total", got.Of("total"), total)
			agrees(t, "worst", got.Of("worst"), worst)
			for i := range s.loads {
				agrees(t, fmt.Sprintf("amps %d", i), got.Of("amps").List[i], amps[i])
				agrees(t, fmt.Sprintf("watts %d", i), got.Of("watts").List[i], watts[i])
			}
		})
	}
}

// branches asks ngspice for the load that a source meets and for what goes
// through each branch.
func branches(t *testing.T, volts float64, loads []float64) (total float64, amps, watts []float64) {
	t.Helper()
	net := fmt.Sprintf("\nV1 in 0 AC %v\n", volts)
	asked := []string{"mag(v(in))/mag(i(v1))"}
	for i, r := range loads {
		net += fmt.Sprintf("Vm%[1]d in b%[1]d 0\nR%[1]d b%[1]d 0 %[2]v\n", i+2, r)
		asked = append(asked, fmt.Sprintf("mag(i(vm%d))", i+2), fmt.Sprintf("mag(v(b%[1]d))*mag(i(vm%[1]d))", i+2))
	}
	q := ngspice(t, net, asked...)
	for i := range loads {
		amps, watts = append(amps, q[1+2*i]), append(watts, q[2+2*i])
	}
	return q[0], amps, watts
}

// TestChannelsAgainstASolver feeds the total power of some equal channels,
// each on its own load in ngspice, to the rule that shares it out, and takes
// one of the amplifiers to another load.
func TestChannelsAgainstASolver(t *testing.T) {
	share, _ := trade.Library().Method("channel-share")
	other, _ := trade.Library().Method("other-load")
	sine, _ := trade.Library().Method("sine-power")
	for _, c := range []struct {
		channels             int
		volts, load, another float64
	}{{2, 21.9, 8, 4}, {5, 26.4, 8, 6}, {7, 9.5, 4, 8}} {
		t.Run(fmt.Sprint(c.channels), func(t *testing.T) {
			net, powers := "\n", make([]string, c.channels)
			for i := range powers {
				net += fmt.Sprintf("V%[1]d c%[1]d 0 AC %[2]v\nR%[1]d c%[1]d 0 %[3]v\n", i+1, c.volts, c.load)
				powers[i] = fmt.Sprintf("mag(v(c%[1]d))*mag(i(v%[1]d))", i+1)
			}
			net += fmt.Sprintf("VX x 0 AC %v\nRX x 0 %v\n", c.volts, c.another)
			q := ngspice(t, net, strings.Join(powers, "+"), powers[0], "mag(v(x))*mag(i(vx))", "mag(i(v1))")
			got := share.Run(read(t, share.Sheet(), map[string]string{
				"watts": number(q[0]) + " W", "rating": "total", "channels": fmt.Sprint(c.channels),
			}))
			agrees(t, "watts_each", got.Results.Of("watts_each"), q[1])
			moved := other.Run(read(t, other.Sheet(), map[string]string{
				"rated": number(q[1]) + " W", "rated_load": ohms(c.load), "load": ohms(c.another),
			}))
			agrees(t, "power", moved.Results.Of("power"), q[2])
			wave := sine.Run(read(t, sine.Sheet(), map[string]string{"power": number(q[1]) + " W", "load": ohms(c.load)}))
			agrees(t, "volts", wave.Results.Of("volts"), c.volts)
			agrees(t, "amps", wave.Results.Of("amps"), q[3])
		})
	}
}

// agrees compares a result with a value found outside.
func agrees(t *testing.T, what string, got formula.Value, want float64) {
	t.Helper()
	if got.State != formula.Known || math.Abs(got.Number-want) > 1e-7*math.Abs(want) {
		t.Errorf("%s is %v %v (%s), and outside it is %v", what, got.State, got.Number, got.Why, want)
	}
}

func joined(numbers []float64) string {
	texts := make([]string, len(numbers))
	for i, x := range numbers {
		texts[i] = number(x)
	}
	return strings.Join(texts, " and ")
}
