package unit

import "testing"

func kindOf(symbol string) Kind { return Must(symbol).Kind() }

func TestKindWords(t *testing.T) {
	cases := []struct{ unit, words string }{
		{"number", "a plain number"}, {"%", "a plain number"}, {"ft", "a length"}, {"cmil", "an area"}, {"ohm/kft", "a resistance per length"},
		{"pF/m", "a capacitance per length"}, {"rpm", "a frequency or speed of turning"}, {"%IACS", "a conductivity"},
		{"AWG", "a wire gauge"}, {"°F", "a temperature"}, {"K", "a temperature step"}, {"dB", "a step in decibels"},
		{"dB SPL", "a sound level"}, {"dBA", "an A-weighted sound level"}, {"dBf", "a power level"}, {"dBu", "a voltage level"},
		{"dBd", "an antenna gain"}, {"um/mN", "a compliance"}, {"m^2/s", "a quantity in m² s⁻¹"}, {"V/kg", "a quantity in m² s⁻³ A⁻¹"},
		{"dB/m Hz^-0.5", "a quantity in m⁻¹ s^0.5 dB"}, {"Pa^2 h", "a sound exposure"},
	}
	for _, c := range cases {
		if got := kindOf(c.unit).String(); got != c.words {
			t.Errorf("%s counts %q, want %q", c.unit, got, c.words)
		}
	}
}

// TestKindRows reads each kind's base and example: the base counts one to
// one, and the example is of the kind.
func TestKindRows(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range kindRows {
		if seen[r.words] {
			t.Errorf("%q names two kinds", r.words)
		}
		seen[r.words] = true
		base := Must(r.base)
		if base.ToBase(1) != 1 || base.ToBase(0) != 0 {
			t.Errorf("%s is not a base unit", r.base)
		}
		example := read(t, r.example)
		if base.Kind().Scale == SoundLevel {
			example.Unit = Must("dB SPL") // plain dB is read so where a sound level is wanted
		}
		if k := base.Kind(); example.Unit.Kind() != k || k.Example() != r.example || k.Base() != base || k.String() != r.words {
			t.Errorf("%s: example %q is %s", r.words, r.example, example.Unit.Kind())
		}
	}
	if len(kindNames()) != len(kindRows) {
		t.Errorf("%d kinds in %d rows", len(kindNames()), len(kindRows))
	}
}

func TestKindAlgebra(t *testing.T) {
	cases := []struct {
		what      string
		got, want Kind
	}{
		{"V*A", kindOf("V").Times(kindOf("A")), kindOf("W")},
		{"V/A", kindOf("V").Over(kindOf("A")), kindOf("ohm")},
		{"ohm*F", kindOf("ohm").Times(kindOf("F")), kindOf("s")},
		{"1/(ohm*F)", Kind{}.Over(kindOf("ohm").Times(kindOf("F"))), kindOf("Hz")},
		{"dB/m*m", kindOf("dB/m").Times(kindOf("m")), kindOf("dB")},
		{"step of °C", kindOf("°C").Step(), kindOf("K")},
		{"step of AWG", kindOf("AWG").Step(), Kind{}},
		{"mV/kohm*kohm", kindOf("mV/kohm").Times(kindOf("kohm")), kindOf("V")},
		{"H*F roots", half(t, kindOf("H").Times(kindOf("F"))), kindOf("s")},
		{"root of Hz twice", half(t, kindOf("Hz")).Times(half(t, kindOf("Hz"))), kindOf("Hz")},
	}
	for _, c := range cases {
		if c.got != c.want {
			t.Errorf("%s is %s, want %s", c.what, c.got, c.want)
		}
	}
	for _, k := range []string{"°C", "AWG", "dB SPL", "dBA", "dBW", "dBV", "dBuV/m", "dBi"} {
		if !kindOf(k).IsPoint() || kindOf(k).Step().IsPoint() || kindOf(k).IsNumber() {
			t.Errorf("%s is no point", k)
		}
	}
}

func half(t *testing.T, k Kind) Kind {
	t.Helper()
	root, ok := k.Power(1)
	if !ok {
		t.Fatalf("%s has no root", k)
	}
	return root
}

func TestKindPower(t *testing.T) {
	if k, ok := kindOf("m").Power(6); !ok || k != kindOf("m3") {
		t.Errorf("m^3 is %s", k)
	}
	if k, ok := kindOf("m").Power(-2); !ok || k != kindOf("1/m") {
		t.Errorf("m^-1 is %s", k)
	}
	if _, ok := half(t, kindOf("m")).Power(1); ok {
		t.Error("a quarter of an exponent was let through")
	}
	for _, halves := range []int{126, -126, 127, 1000, -1000, 1 << 40} {
		if k, ok := kindOf("m").Power(halves); ok != (halves == 126 || halves == -126) {
			t.Errorf("m to the power %d/2 is %s, %v", halves, k, ok)
		}
	}
	if k, ok := (Kind{}).Power(1 << 40); !ok || !k.IsNumber() {
		t.Error("a plain number has every power")
	}
}

func TestRunaway(t *testing.T) {
	k := Kind{}
	for range 200 {
		k = k.Times(kindOf("m"))
	}
	if !k.Runaway() || kindOf("m").Runaway() {
		t.Errorf("m^200 is %s", k)
	}
	for range 400 {
		k = k.Over(kindOf("m"))
	}
	if !k.Runaway() {
		t.Errorf("m^-200 is %s", k)
	}
}

// TestBaseOfUnnamedKind reads back the base unit of kinds without a name.
func TestBaseOfUnnamedKind(t *testing.T) {
	for _, k := range []Kind{
		kindOf("m^2/s"), kindOf("dB/m Hz^-0.5"), half(t, kindOf("kg")), {Dims: Dims{2, -2, 4, -4, 6, 1, -1, 2, 2, -6}},
	} {
		base := k.Base()
		u, n := ScanUnit(base.Symbol())
		if u.Kind() != k || n != len(base.Symbol()) || base.Kind() != k || base.ToBase(1) != 1 {
			t.Errorf("%s has the base %q, which reads as %s", k, base.Symbol(), u.Kind())
		}
		if !hasKind(t, k) {
			t.Errorf("%s: example %q", k, k.Example())
		}
	}
}

func hasKind(t *testing.T, k Kind) bool {
	return read(t, k.Example()).Unit.Kind() == k
}
