package unit

import (
	"math"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// read reads a typed value that must be sound.
func read(t *testing.T, s string) Quantity {
	t.Helper()
	q, f := Read(fault.NewText("typed", s).All())
	if f != nil {
		t.Fatalf("Read(%q): %v", s, f)
	}
	return q
}

// TestTable holds every unit to its promises: a symbol is spelled once, is
// read back from what is printed, and can be said.
func TestTable(t *testing.T) {
	seen := map[string]string{}
	for _, r := range table {
		for _, s := range append([]string{r.symbol}, r.also...) {
			if seen[s] != "" {
				t.Errorf("%q is spelled in two rows", s)
			}
			seen[s] = r.symbol
			if e := index()[s]; !r.prefixed && (e.typed || e.unit.Kind() != Kind{Dims: r.dims, Scale: r.scale}) {
				t.Errorf("%q is not found under its own symbol", s)
			}
		}
	}
	for spelling, e := range index() {
		u := e.unit
		if got, n := scanUnit(u.Symbol(), false); n != len(u.Symbol()) || got != u {
			t.Errorf("%s is printed %q, which reads as %+v", spelling, u.Symbol(), got)
		}
		if u.one() == "" || u.Spoken() == "" || u.Kind().String() == "" || !u.shape().sound() {
			t.Errorf("%s is not whole: %+v", spelling, u)
		}
		if !e.typed && spelling != "B" && !strings.ContainsAny(spelling, "%°/ ") && !IsWord(spelling) {
			t.Errorf("%s may be a name", spelling)
		}
	}
}

// TestPrefixesDoNotCollide makes sure that no symbol under a prefix is spelled
// like another unit.
func TestPrefixesDoNotCollide(t *testing.T) {
	spelled := map[string]string{}
	for _, r := range table {
		marks := []prefix{{}}
		for _, p := range prefixes {
			if strings.Contains(" "+r.prefixes+" ", " "+p.mark+" ") {
				marks = append(marks, p)
			}
		}
		for _, p := range marks {
			if p.mark == "" && r.prefixed {
				continue
			}
			for _, s := range append([]string{r.symbol}, r.also...) {
				for _, mark := range []string{p.mark, p.also} {
					if other := spelled[mark+s]; other != "" && (mark != "" || p.mark == "") && other != r.symbol {
						t.Errorf("%q is both a %s and a %s", mark+s, other, r.symbol)
					}
					if mark != "" || p.mark == "" {
						spelled[mark+s] = r.symbol
					}
				}
			}
		}
	}
}

// TestUnitsOfTheTrade checks the units that GNU units does not know against
// their definitions: 0 dBu is sqrt(0.6) V, 1200 cents an octave (IEC
// 60050-801), 2.15 dBi the gain of a half-wave dipole as the trade rounds it
// (practice), dBµV/m and dBA their own base.
func TestUnitsOfTheTrade(t *testing.T) {
	cases := []struct {
		typed string
		value float64
		kind  string
	}{
		{"1200 cent", 1, "an interval of pitch"},
		{"0.775 V", 0.775, "a voltage"},
		{"0 dBd", 2.15, "an antenna gain"},
		{"2.15 dBi", 2.15, "an antenna gain"},
		{"0 dBu", 20 * math.Log10(math.Sqrt(0.6)), "a voltage level"},
		{"54 dBuV/m", 54, "a field strength level"},
		{"85 dBA", 85, "an A-weighted sound level"},
		{"6 dB", 6, "a step in decibels"},
		{"16 AWG", 16, "a wire gauge"},
		{"200 money", 200, "a sum of money"},
		{"1 MiB", 8 * 1024 * 1024, "an amount of data"},
		{"100 %IACS", 58e6, "a conductivity"},
		{"4 m^0.5", 4, "a quantity in m^0.5"},
		{"1 kHz^-0.5", 1 / math.Sqrt(1000), "a quantity in s^0.5"},
	}
	for _, c := range cases {
		q := read(t, c.typed)
		if math.Abs(q.Value-c.value) > 1e-14*math.Abs(c.value) || q.Unit.Kind().String() != c.kind {
			t.Errorf("%s = %v, %s; want %v, %s", c.typed, q.Value, q.Unit.Kind(), c.value, c.kind)
		}
	}
}

// TestDecimalsStayExact holds decimal conversions to the float64 that the
// number written out would have.
func TestDecimalsStayExact(t *testing.T) {
	cases := []struct {
		typed string
		want  float64
	}{
		{"7 mm", 0.007}, {"0.3 mm", 0.0003}, {"120 pF/m", 120e-12}, {"2.5 mm2", 2.5e-6}, {"13.2 ohm/km", 0.0132},
		{"12 in", 0.3048}, {"3 ft", 0.9144}, {"5 ft 6 in", 1.6764}, {"0.5 %", 0.005}, {"98.1 MHz", 98.1e6},
		{"250 g", 0.25}, {"15 um/mN", 0.015}, {"47 kohm", 47000}, {"3.18 us", 3.18e-6},
	}
	for _, c := range cases {
		if got := read(t, c.typed).Value; got != c.want {
			t.Errorf("%s = %v, want %v", c.typed, got, c.want)
		}
	}
}

func TestStep(t *testing.T) {
	cases := []struct{ unit, step string }{
		{"°C", "K"}, {"dB SPL", "dB"}, {"dBA", "dB"}, {"dBm", "dB"}, {"dBu", "dB"}, {"dBuV/m", "dB"}, {"dBd", "dB"},
		{"AWG", "number"}, {"m", "m"}, {"%", "%"}, {"ohm/km", "ohm/km"},
	}
	for _, c := range cases {
		if got := Must(c.unit).Step(); got != Must(c.step) {
			t.Errorf("the step of %s is %q, want %s", c.unit, got.Symbol(), c.step)
		}
	}
	if f := Must("°F").Step(); math.Abs(f.ToBase(9)-5) > 1e-15 || f.Kind() != Must("K").Kind() || f.FromBase(5) != 9 {
		t.Errorf("9 °F are %v K", f.ToBase(9))
	}
}

func TestSpoken(t *testing.T) {
	cases := []struct{ unit, words string }{
		{"ohm", "ohms"}, {"m", "metres"}, {"mm", "millimetres"}, {"ohm/km", "ohms per kilometre"}, {"%", "percent"},
		{"dB", "decibels"}, {"dB SPL", "decibels of sound pressure"}, {"kohm", "kilohms"}, {"Mohm", "megohms"},
		{"mm2", "square millimetres"}, {"m3", "cubic metres"}, {"in/s", "inches per second"}, {"m/s^2", "metres per second squared"},
		{"dB/100 ft", "decibels per 100 feet"}, {"Pa^2 h", "pascal squared hours"}, {"1/K", "per kelvin"}, {"ft MHz", "foot megahertz"},
		{"Hz", "hertz"}, {"H", "henries"}, {"um/mN", "micrometres per millinewton"}, {"m^0.5", "root metres"}, {"s^3", "seconds cubed"},
		{"s^4", "seconds to the power 4"}, {"number", ""}, {"AWG", "gauge"}, {"deg/mm", "degrees per millimetre"}, {"W/m^2", "watts per square metre"},
	}
	for _, c := range cases {
		if got := Must(c.unit).Spoken(); got != c.words {
			t.Errorf("%s is said %q, want %q", c.unit, got, c.words)
		}
	}
}

func TestMustPanicsOnNoUnit(t *testing.T) {
	defer func() {
		if r := recover(); r == nil || !strings.Contains(r.(string), "furlong") {
			t.Errorf("recovered %v", r)
		}
	}()
	Must("furlong")
}

func TestZeroUnitIsThePlainNumber(t *testing.T) {
	if Must("number") != (Unit{}) || !(Unit{}).Kind().IsNumber() || (Unit{}).ToBase(3) != 3 || (Unit{}).FromBase(3) != 3 {
		t.Error("the zero Unit is not the plain number")
	}
	if Must("%") == (Unit{}) || !Must("%").Kind().IsNumber() {
		t.Error("a percentage is not a plain number of its own unit")
	}
}
