package unit

import (
	"fmt"
	"math"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// gnu asks GNU units (Debian package units) for conversions, each from a
// value to a unit, and returns the factors. The test fails where the command
// is missing: the table is checked against nothing else.
func gnu(t *testing.T, questions [][2]string) []float64 {
	t.Helper()
	var in strings.Builder
	for _, q := range questions {
		fmt.Fprintf(&in, "%s\n%s\n", q[0], q[1])
	}
	cmd := exec.Command("units", "-q", "-t", "-o", "%.15g")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("GNU units (apt-get install units) does not answer: %v", err)
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != len(questions) {
		t.Fatalf("GNU units gave %d answers to %d questions:\n%s", len(lines), len(questions), out)
	}
	answers := make([]float64, len(lines))
	for i, line := range lines {
		if answers[i], err = strconv.ParseFloat(strings.TrimSpace(line), 64); err != nil {
			t.Errorf("GNU units on %v: %s", questions[i], line)
		}
	}
	return answers
}

// near15 compares to what GNU units prints, fifteen figures.
func near15(a, b float64) bool {
	return math.Abs(a-b) <= 2e-14*math.Max(math.Abs(a), math.Abs(b))
}

// Our symbols that GNU units spells otherwise. Of the others the plain
// spelling is the same.
var gnuSpelling = map[string]string{
	"mile": "mile", "nmi": "nauticalmile", "cmil": "circularmil", "kcmil": "kilo circularmil",
	"h": "hour", "rpm": "1/min", "dyn": "dyne", "btu": "btu", "%": "0.01", "%IACS": "0.01 IACS",
	"deg": "degree", "octave": "", "cent": "", "money": "", "dB": "", "in": "inch",
	"rad": "radian", "mrad": "milliradian", "urad": "microradian", // its rad is a dose
	"KiB": "kibi byte", "MiB": "mebi byte", "GiB": "gibi byte",
	"kB": "kilo byte", "MB": "mega byte", "GB": "giga byte",
}

// TestFactorsAgainstGNU converts one of every amount in the table, with every
// prefix, to base units.
func TestFactorsAgainstGNU(t *testing.T) {
	var symbols []string
	var questions [][2]string
	for spelling, e := range index() {
		if e.typed || e.unit.Kind().IsPoint() || !isPrimary(spelling, e.unit) {
			continue
		}
		theirs, known := gnuSpelling[spelling]
		if known && theirs == "" {
			continue // no such unit there; checked in TestUnitsOfTheTrade
		}
		if !known {
			theirs = spelling
		}
		base := e.unit.Kind().Dims.String()
		if base == "" {
			base = "1"
		}
		symbols = append(symbols, spelling)
		questions = append(questions, [2]string{theirs, lowerPowers(base)})
	}
	if len(symbols) < 110 {
		t.Fatalf("only %d units were put to GNU units", len(symbols))
	}
	for i, want := range gnu(t, questions) {
		u := Must(symbols[i])
		if got := u.ToBase(1); !near15(got, want) {
			t.Errorf("1 %s = %v %s, GNU units says %v", symbols[i], got, u.Kind().Dims, want)
		}
		if back := u.FromBase(want); !near15(back, 1) {
			t.Errorf("%v %s = %v %s, want 1", want, u.Kind().Dims, back, symbols[i])
		}
	}
}

// isPrimary reports whether a spelling is the first of its unit's, in ASCII.
func isPrimary(spelling string, u Unit) bool {
	for _, r := range table {
		base, ok := strings.CutSuffix(spelling, r.symbol)
		if ok && (base == "" || slices.ContainsFunc(prefixes, func(p prefix) bool { return p.mark == base || p.also == base })) &&
			!strings.Contains(base, "µ") && index()[spelling].unit == u {
			return true
		}
	}
	return false
}

// lowerPowers writes "m² kg s⁻³" as GNU units reads it.
func lowerPowers(s string) string {
	var b strings.Builder
	raisedBefore := false
	for _, r := range s {
		low := lowered(string(r))
		if low != string(r) && !raisedBefore {
			b.WriteString("^")
		}
		raisedBefore = low != string(r)
		b.WriteString(low)
	}
	return strings.ReplaceAll(b.String(), "rad", "radian")
}

// TestCompoundsAgainstGNU converts compound units, as the trade's methods
// write them, to base units.
func TestCompoundsAgainstGNU(t *testing.T) {
	cases := [][3]string{ // ours, GNU's, base
		{"ohm/km", "ohm/km", "ohm/m"}, {"ohm/kft", "ohm/kft", "ohm/m"}, {"pF/m", "pF/m", "F/m"},
		{"um/mN", "um/mN", "m/N"}, {"cm/dyn", "cm/dyne", "m/N"}, {"mm/s", "mm/s", "m/s"}, {"in/s", "inch/s", "m/s"},
		{"Pa^2 h", "Pa^2 hour", "Pa^2 s"}, {"ft MHz", "ft MHz", "m/s"}, {"mV/kohm", "mV/kohm", "A"},
		{"btu/h", "btu/hour", "W"}, {"uH/m", "uH/m", "H/m"}, {"1/K", "1/K", "1/K"}, {"ms/ft", "ms/ft", "s/m"},
		{"deg/mm", "degree/mm", "radian/m"}, {"kbit/s", "kbit/s", "bit/s"}, {"mm2", "mm^2", "m^2"}, {"in³", "inch^3", "m^3"},
		{"MS/m", "MS/m", "S/m"}, {"uV/m", "uV/m", "V/m"}, {"ft/s^2", "ft/s^2", "m/s^2"}, {"V²/kohm", "V^2/kohm", "W"},
		{"yd per min", "yard/min", "m/s"},
		{"ohm/1000 ft", "ohm/(1000 ft)", "ohm/m"}, {"W/100 m", "W/(100 m)", "W/m"},
	}
	questions := make([][2]string, len(cases))
	for i, c := range cases {
		questions[i] = [2]string{c[1], c[2]}
	}
	for i, want := range gnu(t, questions) {
		if got := Must(cases[i][0]).ToBase(1); !near15(got, want) {
			t.Errorf("1 %s = %v %s, GNU units says %v", cases[i][0], got, cases[i][2], want)
		}
	}
}

// TestPointsAgainstGNU converts points between the units of one scale.
func TestPointsAgainstGNU(t *testing.T) {
	cases := []struct {
		typed      string
		have, want string
	}{
		{"20 °C", "tempC(20)", "tempC"}, {"68 °F", "tempF(68)", "tempC"}, {"-40 °F", "tempF(-40)", "tempC"}, {"451 °F", "tempF(451)", "tempC"},
		{"13 dBW", "dBW(13)", "dBW"}, {"30 dBm", "dBm(30)", "dBW"}, {"-7.5 dBm", "dBm(-7.5)", "dBW"}, {"15.2 dBf", "dBf(15.2)", "dBW"},
		{"-10 dBV", "dBV(-10)", "dBV"}, {"4 dBu", "dBu(4)", "dBV"}, {"0 dBu", "dBu(0)", "dBV"}, {"60 dBuV", "dBuV(60)", "dBV"},
		{"94 dB SPL", "dBSPL(94)", "dBSPL"},
	}
	questions := make([][2]string, len(cases))
	for i, c := range cases {
		questions[i] = [2]string{c.have, c.want}
	}
	for i, want := range gnu(t, questions) {
		q := read(t, cases[i].typed)
		if math.Abs(q.Value-want) > 1e-12*(1+math.Abs(want)) {
			t.Errorf("%s = %v %s, GNU units says %v", cases[i].typed, q.Value, q.Unit.Kind().Base().Symbol(), want)
		}
	}
}

// TestGaugeFormsAgainstGNU holds what 1/0 to 4/0 and 00 to 0000 stand for
// against the diameters that GNU units gives, in inches; 4/0 is 0.46 in by
// definition of the gauge.
func TestGaugeFormsAgainstGNU(t *testing.T) {
	forms := []string{"4/0 AWG", "0000 AWG", "3/0", "000 AWG", "2/0 AWG", "00 AWG", "1/0 AWG", "0 AWG", "36 AWG"}
	theirs := []string{"g0000", "g0000", "g000", "g000", "g00", "g00", "0", "0", "36"}
	questions := make([][2]string, len(forms))
	for i := range forms {
		questions[i] = [2]string{"wiregauge(" + theirs[i] + ")", "inch"}
	}
	for i, want := range gnu(t, questions) {
		gauge := read(t, forms[i]).Value
		if got := 0.005 * math.Pow(92, (36-gauge)/39); !near15(got, want) {
			t.Errorf("%s is gauge %v, %v in thick; GNU units says %v", forms[i], gauge, got, want)
		}
	}
}
