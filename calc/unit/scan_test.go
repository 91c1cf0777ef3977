package unit

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
)

func TestScanUnit(t *testing.T) {
	cases := []struct{ text, unit, rest string }{
		{"m", "m", ""}, {"m/s", "m/s", ""}, {"m / s", "m/s", ""}, {"m*2", "m", "*2"}, {"m*s", "m", "*s"}, {"m·s", "m", "·s"},
		{"ohm/km*run", "ohm/km", "*run"}, {"ohm when", "ohm", " when"}, {"dB, beyond", "dB", ", beyond"}, {"dB*log10(x)", "dB", "*log10(x)"},
		{"Pa^2 h/pressure^2", "Pa^2 h", "/pressure^2"}, {"W)/10 dB)", "W", ")/10 dB)"}, {"dB SPL)/10 dB", "dB SPL", ")/10 dB"}, {"dB SPLx", "dB", " SPLx"},
		{"dBuV/m)", "dBuV/m", ")"}, {"dBuV/mm", "dBuV", "/mm"}, {"dB/100 ft", "dB/100 ft", ""}, {"dB/100 ohm", "dB", "/100 ohm"}, {"dB/10 dB", "dB", "/10 dB"},
		{"dB/1000ft*3", "dB/1000 ft", "*3"}, {"/K*(t - 20 °C)", "1/K", "*(t - 20 °C)"}, {"/ K", "1/K", ""}, {"1/K", "1/K", ""}, {"/s^2", "1/s^2", ""},
		{"mm2", "mm2", ""}, {"mm²/m", "mm2/m", ""}, {"mm^2", "mm2", ""}, {"m^-1", "m^-1", ""}, {"m⁻¹", "m^-1", ""}, {"m^n", "m", "^n"}, {"m^99", "m", "^99"}, {"m^0", "m", "^0"},
		{"%IACS*2", "%IACS", "*2"}, {"% IACS", "%IACS", ""}, {"%*lead", "%", "*lead"}, {"°C/m", "°C", "/m"}, {"° C", "°C", ""}, {"deg C", "°C", ""}, {"deg)", "deg", ")"}, {"°", "deg", ""},
		{"Ω/km", "ohm/km", ""}, {"\u2126", "ohm", ""}, {"kΩ", "kohm", ""}, {"kOhm", "kohm", ""}, {"µm/mN", "um/mN", ""}, {"μm/mN", "um/mN", ""}, {"℃", "°C", ""}, {"ºC", "°C", ""}, {"dBµV", "dBuV", ""},
		{"dB/min(a, b)", "dB", "/min(a, b)"}, {"h/min", "h/min", ""}, {"s m °C", "s m", " °C"}, {"in by 3 in", "in", " by 3 in"},
		{"cm/dyn", "cm/dyn", ""}, {"m\u00a0s", "m s", ""}, {"m\ns", "m", "\ns"},
		// none at all
		{"metres", "", ""}, {"ohms", "", ""}, {"m_1", "", ""}, {"m1", "", ""}, {"mm22", "", ""}, {"s2", "", ""}, {" m", "", ""}, {"/", "", ""}, {"/height", "", ""},
		{"KHz", "", ""}, {"B", "", ""}, {"number", "", ""}, {"", "", ""}, {"^2", "", ""}, {"per m", "", ""}, {"/°C", "", ""}, {"°C²", "", ""}, {"min(a)", "", ""}, {"min (a)", "", ""},
		{"V^12 V^12", "", ""}, {"fW^12 fW^12 Mohm^-12", "", ""}, {"\xff", "", ""},
	}
	for _, c := range cases {
		u, n := ScanUnit(c.text)
		want, rest := Unit{}, c.text
		if c.unit != "" {
			want, rest = Must(c.unit), c.rest
		}
		if u.Kind() != want.Kind() || u.ToBase(1) != want.ToBase(1) || c.text[n:] != rest {
			t.Errorf("ScanUnit(%q) = %q, leaves %q; want %q, %q", c.text, u.Symbol(), c.text[n:], c.unit, rest)
		}
	}
}

func TestScanUnitStopsAtManySymbols(t *testing.T) {
	u, n := ScanUnit(strings.Repeat("s m^-1 ", 50))
	if n == 0 || u.Kind().Runaway() {
		t.Errorf("read %d bytes as %s", n, u.Kind())
	}
}

func TestIsWord(t *testing.T) {
	for _, name := range []string{"m", "s", "h", "g", "V", "in", "min", "mm2", "m3", "kohm", "um", "µm", "day", "cent", "dB", "AWG", "Ω", "Pa"} {
		if !IsWord(name) {
			t.Errorf("%q may be a name", name)
		}
	}
	// Names that methods of the trade want.
	for _, name := range []string{"watts", "volts", "amps", "weeks", "turns", "miles", "run", "load", "wire", "p", "q", "r", "k", "x", "tau", "f1", "l2",
		"coil", "low", "high", "left", "level", "gain", "gauge", "size", "mass", "v", "dbu", "dbv", "tape", "pace", "number", "B", "m_1", "M", ""} {
		if IsWord(name) {
			t.Errorf("%q may not be a name", name)
		}
	}
}

func TestScanNumber(t *testing.T) {
	cases := []struct{ text, rest string }{
		{"12", ""}, {"1.5 m", " m"}, {"1.", "."}, {"1.e5", ".e5"}, {"1e5m", "m"}, {"1e-5", ""}, {"1E+5", ""}, {"1e", "e"}, {"1e+", "e+"},
		{".5", ".5"}, {"-5", "-5"}, {"", ""}, {"x", "x"}, {"1.2.3", ".3"}, {"2,83", ",83"}, {"5em", "em"}, {"٣", "٣"},
	}
	for _, c := range cases {
		if n := ScanNumber(c.text); c.text[n:] != c.rest {
			t.Errorf("ScanNumber(%q) leaves %q, want %q", c.text, c.text[n:], c.rest)
		}
	}
}

func TestScanValue(t *testing.T) {
	cases := []struct{ text, rest string }{
		{"9 m and gauge is 16 AWG", " and gauge is 16 AWG"}, {"0.5 dB, beyond", ", beyond"}, {"5 ft 6 in when", " when"}, {"5 ft 6 m", " 6 m"}, {"33 1/3 rpm or", " or"},
		{"1/0 AWG", ""}, {"1/0", ""}, {"-10 dBV", ""}, {"1.79 dB/100 ft and", " and"}, {"8 ohms per km and", " and"}, {"2*least", "*least"}, {"16", ""}, {"3 m to 15 m by 3 m", " to 15 m by 3 m"},
		{"0.004/K)", ")"}, {"m", "m"}, {"", ""}, {"2,83 V", "2,83 V"}, {"1/0 ohm", "1/0 ohm"},
	}
	for _, c := range cases {
		if n := ScanValue(c.text); c.text[n:] != c.rest {
			t.Errorf("ScanValue(%q) leaves %q, want %q", c.text, c.text[n:], c.rest)
		}
	}
}

// TestParse reads units in the forms that only typed text has; their faults
// stand in the case files.
func TestParse(t *testing.T) {
	cases := []struct{ text, symbol string }{
		{" ohm/km ", "ohm/km"}, {"ohms per kilometre", "ohm/km"}, {"N·m", "N m"}, {"N*m", "N m"}, {"volts", "V"}, {"meters", "m"}, {"kilometers", "km"},
		{"dB(A)", "dBA"}, {"number", ""}, {"percent", "%"}, {"degrees", "°"}, {"inches", "in"}, {"microfarads", "µF"}, {"megohms", "Mohm"}, {"lbs", "lb"},
		{"BTU/h", "BTU/h"}, {"btu/h", "BTU/h"}, {"dB/100ft", "dB/100 ft"}, {"mm2", "mm²"}, {"deg/mm", "°/mm"}, {"uPa", "µPa"},
	}
	for _, c := range cases {
		u, f := Parse(fault.NewText("unit", c.text).All())
		if f != nil || u.Symbol() != c.symbol {
			t.Errorf("Parse(%q) = %q, %v; want %q", c.text, u.Symbol(), f, c.symbol)
		}
	}
}

// TestUnknown has the faults that a formula gives for a word in a unit's
// place.
func TestUnknown(t *testing.T) {
	cases := []struct{ word, message, try string }{
		{"volts", `"volts" is not a unit`, "V"},
		{"KHz", `"KHz" is not a unit; capitals count`, "kHz"},
		{"mdB", `"mdB" is not a unit`, ""}, // dB would be a thousand times as much
		{"furlong", `"furlong" is not a unit`, ""},
		{"μf", `"μf" is not a unit; capitals count`, "uF"},
		{"", "a unit is missing", ""},
		{strings.Repeat("a", 100), `"` + strings.Repeat("a", 40) + `…" is not a unit`, ""},
	}
	for _, c := range cases {
		if f := Unknown(fault.NewText("formula", c.word).All()); f.Message != c.message || f.Try != c.try || f.Wanted == "" {
			t.Errorf("%q: %s, try %q; want %s, try %q", c.word, f.Message, f.Try, c.message, c.try)
		}
	}
}
