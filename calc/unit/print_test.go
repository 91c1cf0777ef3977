package unit

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

func TestFormatText(t *testing.T) {
	cases := []struct {
		unit            string
		places, figures int
		round           Rounding
		base            float64
		want            string
	}{
		{"m", 0, 0, Either, 9, "9 m"},
		{"%", 0, 0, Either, 0.05, "5 %"},
		{"%", 1, 0, Up, 0.05, "5.0 %"},
		{"number", 2, 0, Either, 1.005, "1.01"}, // the decimal 1.005, not the binary below it
		{"number", 0, 0, Either, 2.5, "3"},
		{"number", 0, 0, Either, -2.5, "−3"},
		{"number", 0, 0, Up, -2.5, "−2"},
		{"number", 0, 0, Down, -2.5, "−3"},
		{"number", 0, 0, Up, 2.1, "3"},
		{"number", 0, 0, Down, 2.9, "2"},
		{"number", 0, 0, Up, -0.4, "0"},
		{"number", 2, 0, Either, -0.004, "0.00"},
		{"number", 2, 0, Down, -0.004, "−0.01"},
		{"number", 2, 0, Up, 0.004, "0.01"},
		{"number", 1, 0, Up, 0.1 + 0.2, "0.3"},   // 0.30000000000000004
		{"number", 1, 0, Down, 0.7 + 0.1, "0.8"}, // 0.7999999999999999
		{"number", 2, 0, Up, 0.1 + 0.2 - 0.3, "0.00"},
		{"number", 2, 0, Down, 0.3 - 0.1 - 0.2, "0.00"},
		{"number", 0, 3, Either, 9.996, "10.0"},
		{"number", 0, 3, Either, 9.994, "9.99"},
		{"number", 0, 3, Up, 99.91, "100"},
		{"number", 0, 3, Either, 999.6, "1000"},
		{"number", 0, 2, Either, 1234, "1200"},
		{"number", 0, 2, Up, 1201, "1300"},
		{"number", 0, 3, Either, 0.0001234567, "0.000123"},
		{"number", 0, 3, Either, 0, "0"},
		{"number", 0, 3, Either, 0.0000012, "0.00000120"},
		{"number", 0, 2, Either, 1.2e-9, "1.2 × 10⁻⁹"},
		{"F", 0, 3, Either, 120e-12, "1.20 × 10⁻¹⁰ F"},
		{"F", 0, 1, Up, -120e-12, "−1 × 10⁻¹⁰ F"},
		{"number", 2, 0, Either, 123456789012, "123456789012.00"},
		{"number", 2, 0, Either, 1234567890123, "1.23456789012 × 10¹²"},
		{"number", 0, 3, Either, 1234567890123, "1.23 × 10¹²"},
		{"number", 0, 3, Either, 999999999999, "1.00 × 10¹²"},
		{"number", 0, 15, Either, 2, "2.00000000000000"},
		{"number", 99, 0, Either, 2, "2.000000000000000"},
		{"number", -3, 0, Either, 1234, "1234"},
		{"AWG", 0, 0, Either, 16, "16 AWG"},
		{"AWG", 0, 0, Either, 0, "1/0 AWG"},
		{"AWG", 0, 0, Either, -3, "4/0 AWG"},
		{"AWG", 0, 0, Either, -4, "−4 AWG"},
		{"AWG", 0, 0, Down, -0.2, "2/0 AWG"},
		{"AWG", 1, 0, Either, 0, "0.0 AWG"},
		{"AWG", 1, 0, Either, -1.04, "−1.0 AWG"},
		{"°C", 0, 0, Either, 20, "20 °C"},
		{"°F", 0, 0, Either, 20, "68 °F"},
		{"°C", 0, 0, Either, -0.2, "0 °C"},
		{"deg", 1, 0, Either, math.Pi / 6, "30.0°"},
		{"deg/mm", 3, 0, Either, math.Pi / 180 * 20, "0.020°/mm"},
		{"1/K", 4, 0, Either, 0.00393, "0.0039/K"},
		{"mm2", 1, 0, Either, 2.5e-6, "2.5 mm²"},
		{"dB/100 ft", 2, 0, Either, 1.79 / 30.48, "1.79 dB/100 ft"},
		{"dBu", 1, 0, Either, -2.218487496163564, "0.0 dBu"},
		{"dBu", 2, 0, Up, -2.218487496163564, "0.00 dBu"},
		{"pF", 0, 3, Either, 1e300, "1.00 × 10³⁰⁸ pF"}, // as far as a float64 reaches
	}
	for _, c := range cases {
		f := Format{Unit: Must(c.unit), Places: c.places, Figures: c.figures, Round: c.round}
		if c.base == 1e300 {
			c.want = f.Text(c.base) // only that it does not fail
		}
		if got := f.Text(c.base); got != c.want {
			t.Errorf("%v in %s to %d places, %d figures, rounded %d: %q, want %q", c.base, c.unit, c.places, c.figures, c.round, got, c.want)
		}
	}
}

func TestFormatSpoken(t *testing.T) {
	cases := []struct {
		unit    string
		figures int
		base    float64
		want    string
	}{
		{"ohm", 1, 8, "8 ohms"}, {"m", 0, 1, "1 metre"}, {"in", 0, -0.0254, "minus 1 inch"}, {"dBV", 0, -10, "minus 10 decibels above one volt"},
		{"ohm/km", 3, 0.0132, "13.2 ohms per kilometre"}, {"number", 0, 3, "3"}, {"AWG", 0, -1, "2 nought gauge"}, {"AWG", 0, 16, "16 gauge"},
		{"F", 2, 1.2e-9, "1.2 times 10 to the power minus 9 farads"}, {"1/K", 1, 0.004, "0.004 per kelvin"}, {"dB/100 ft", 0, 1 / 30.48, "1 decibel per 100 feet"},
	}
	for _, c := range cases {
		if got := (Format{Unit: Must(c.unit), Figures: c.figures}).Spoken(c.base); got != c.want {
			t.Errorf("%v in %s is said %q, want %q", c.base, c.unit, got, c.want)
		}
	}
}

// allUnits returns every unit of the table under every prefix, and compounds,
// in a settled order.
func allUnits() []Unit {
	bySymbol := map[string]Unit{}
	for _, e := range index() {
		bySymbol[e.unit.Symbol()] = e.unit
	}
	units := []Unit{{}}
	for _, s := range []string{"ohm/km", "ohm/kft", "pF/m", "dB/100 ft", "um/mN", "Pa^2 h", "1/K", "s/m", "deg/mm", "kbit/s", "m^2/s", "kHz^-0.5", "m/s^2", "btu/h", "dB/m Hz^-0.5"} {
		units = append(units, Must(s))
	}
	for _, u := range bySymbol {
		units = append(units, u)
	}
	slices.SortFunc(units, func(a, b Unit) int { return strings.Compare(a.Symbol(), b.Symbol()) })
	return units
}

func formats(u Unit) []Format {
	var all []Format
	for _, way := range []Rounding{Either, Up, Down} {
		for _, places := range []int{0, 1, 2, 5} {
			all = append(all, Format{Unit: u, Places: places, Round: way})
		}
		for _, figures := range []int{1, 2, 3, 6, 12} {
			all = append(all, Format{Unit: u, Figures: figures, Round: way})
		}
	}
	return all
}

// values are numbers in the unit, some at random and some at edges.
func values(rnd *rand.Rand) []float64 {
	v := []float64{0, 1, -1, -2, -3, -4, 9.996, 0.5, -0.5, 2.5, 1e-7, -1e-13, 1e12, 999999999999.5, 0.1 + 0.2, 33 + 1.0/3}
	for range 12 {
		v = append(v, (rnd.Float64()*2-1)*math.Pow(10, float64(rnd.IntN(24)-10)))
	}
	return v
}

// TestPrintedIsReadBack: what is printed reads as the value it stands for, in
// its unit, whatever the unit, the format and the value.
func TestPrintedIsReadBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, u := range allUnits() {
		for _, f := range formats(u) {
			for _, x := range values(rnd) {
				v := u.ToBase(x)
				text, printed := f.Text(v), f.Printed(v)
				q, fault := ReadAs(fault.NewText("printed", text).All(), u)
				if fault != nil || q.Value != printed || q.Unit != u {
					t.Fatalf("%v printed %q (%+v) reads as %v %q, not %v: %v", v, text, f, q.Value, q.Unit.Symbol(), printed, fault)
				}
				if again := f.Text(printed); again != text {
					t.Fatalf("%q printed again is %q (%+v)", text, again, f)
				}
				if strings.HasPrefix(text, "−0 ") || math.Signbit(q.Value) && q.Value == 0 {
					t.Fatalf("%v is printed %q", v, text)
				}
			}
		}
	}
}

// TestRoundingAgainstRationals rounds with exact fractions and compares. The
// value is first written with twelve figures, as the package promises.
func TestRoundingAgainstRationals(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 20000 {
		x := (rnd.Float64()*2 - 1) * math.Pow(10, float64(rnd.IntN(14)-4))
		if rnd.IntN(3) == 0 { // near a tie
			x = math.Round(x*200)/200 + float64(rnd.IntN(3)-1)*1e-15
		}
		f := Format{Places: rnd.IntN(5), Round: Rounding(rnd.IntN(3))}
		if got, want := strings.Replace(f.Number(x), "−", "-", 1), exactly(t, x, f); got != want {
			t.Fatalf("%v with %+v is printed %s, want %s", x, f, got, want)
		}
	}
}

// exactly rounds by the definition, with big.Rat.
func exactly(t *testing.T, x float64, f Format) string {
	t.Helper()
	d, ok := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', 12, 64))
	if !ok {
		t.Fatal("no fraction")
	}
	scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(f.Places)), nil))
	d.Mul(d, scale)
	if new(big.Rat).Abs(d).Cmp(big.NewRat(1, 1e9)) < 0 {
		d.SetInt64(0)
	}
	floor := new(big.Int).Div(d.Num(), d.Denom()) // rounds towards minus infinity, as Denom is above 0
	rest := new(big.Rat).Sub(d, new(big.Rat).SetInt(floor))
	up := rest.Sign() > 0
	switch half := rest.Cmp(big.NewRat(1, 2)); f.Round {
	case Down:
		up = false
	case Either:
		up = half > 0 || half == 0 && d.Sign() > 0
	}
	if up {
		floor.Add(floor, big.NewInt(1))
	}
	return new(big.Rat).Quo(new(big.Rat).SetInt(floor), scale).FloatString(f.Places)
}

// TestDirectionIsKept: Up is never below the value, Down never above it, by
// more than the noise, and neither is a whole step away.
func TestDirectionIsKept(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 20000 {
		x := (rnd.Float64()*2 - 1) * math.Pow(10, float64(rnd.IntN(12)-6))
		figures := 1 + rnd.IntN(8)
		up := Format{Figures: figures, Round: Up}.Printed(x)
		down := Format{Figures: figures, Round: Down}.Printed(x)
		either := Format{Figures: figures}.Printed(x)
		step := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))+1-float64(figures)) * 1.0001
		noise := math.Abs(x) * 1e-11
		if up < x-noise || down > x+noise || up-down > step || either != up && either != down || math.Abs(either-x) > step/2+noise {
			t.Fatalf("%v to %d figures: down %v, nearest %v, up %v", x, figures, down, either, up)
		}
	}
}

func TestPrinterRefusesWhatIsNotFinite(t *testing.T) {
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v was printed", x)
				}
			}()
			Format{}.Number(x)
		}()
	}
}

func TestPrintedFarOut(t *testing.T) {
	for _, symbol := range []string{"pF", "m", "km", "%IACS", "°F"} {
		for _, v := range []float64{1e308, -1e308, 5e-324, 1e-300} {
			for _, f := range formats(Must(symbol)) {
				if text := f.Text(v); text == "" || len(text) > 60 {
					t.Errorf("%v %s is printed %q", v, symbol, text)
				}
			}
		}
	}
}

func ExampleFormat_Text() {
	loss := Format{Unit: Must("dB"), Places: 2, Round: Up}
	wire := Format{Unit: Must("ohm/km"), Figures: 3}
	gauge := Format{Unit: Must("AWG")}
	fmt.Println(loss.Text(0.4183))
	fmt.Println(wire.Text(0.0131734))
	fmt.Println(gauge.Text(-1))
	// Output:
	// 0.42 dB
	// 13.2 ohm/km
	// 2/0 AWG
}

func ExampleFormat_Spoken() {
	fmt.Println(Format{Unit: Must("dB"), Places: 1}.Spoken(-6.02))
	// Output: minus 6.0 decibels
}
