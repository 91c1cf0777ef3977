package trade

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/expr-lang/expr"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// TestWorkedLines follows worked lines as somebody does who has a pocket
// calculator and knows no units: of each step, with its numbers put in, only
// these are keyed in, and they come to the printed number of the step; the
// last gives the printed result.
func TestWorkedLines(t *testing.T) {
	eachDrawn(t, 300, func(t *testing.T, d *method.Data, v method.Values, res *method.Result) bool {
		want := d.Run(v, res.Name).Results.Of(res.Name)
		steps := d.Work(v, res.Name)[0]
		if want.State != formula.Known || want.Word != "" || len(steps) == 0 {
			return false
		}
		for i, s := range steps {
			if s.Rule != nil && s.Value.State == formula.Known && s.Value.Word == "" && !lookedUp(s.Rule) {
				keyed(t, res, s, i == len(steps)-1)
			}
		}
		return true
	})
}

// keyed works one step by its printed line alone.
func keyed(t *testing.T, res *method.Result, s method.Worked, last bool) {
	t.Helper()
	line := formula.TextWith(s.With, s.Given)
	printed := numbersOf(s.Text)
	for i, p := range printed {
		got := pocket(t, memberOf(t, s, line, i))
		if last {
			f := res.Format
			f.Unit = unit.Unit{}
			if again := f.Number(unit.Format{Figures: 8}.Printed(got)); again != p {
				t.Errorf("%s: %s = %s keyed in gives %.10g, hence %s, and %s is printed", s.Method, s.Name, line, got, again, s.Text)
			}
		} else if math.Abs(got-worth(t, p)) > 0.5001*lastDigitOf(t, p) {
			t.Errorf("%s: %s = %s keyed in gives %.10g, and %s is printed", s.Method, s.Name, line, got, s.Text)
		}
	}
}

var number = regexp.MustCompile(`^−?[0-9.]+(?: × 10[⁻⁰¹²³⁴-⁹]+)?`)

// numbersOf takes the numbers out of a printed value: "3.20 and 6.40 ohm".
func numbersOf(text string) []string {
	var all []string
	for _, part := range strings.Split(text, " and ") {
		all = append(all, number.FindString(part))
	}
	return all
}

// worth is what a printed number is worth.
func worth(t *testing.T, number string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.NewReplacer("−", "-", " × 10", "e", "⁻", "-",
		"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9").Replace(number), 64)
	if err != nil {
		t.Fatalf("%q is no number", number)
	}
	return x
}

// memberOf is a line for one member of its lists. Where some members follow
// one case of a rule and others another, the case is chosen by whether the
// member is given.
func memberOf(t *testing.T, s method.Worked, line string, member int) string {
	t.Helper()
	if c, ok := s.With.(*formula.Cases); ok {
		chosen := c.Else
		for _, one := range c.Cases {
			if given, ok := one.When.(*formula.Given); ok && s.At(given.Name.Text).List[member].State == formula.Known {
				chosen = one.Outcome
				break
			}
		}
		line = formula.TextWith(chosen, func(name string) (string, bool) {
			if text, ok := s.Given(name); ok {
				return text, true
			}
			v := s.At(name).List[member]
			return fmt.Sprint(v.Number) + " ohm", v.State == formula.Known
		})
	}
	if at := strings.Index(line, "sum("); at >= 0 {
		return line[:at] + summed(line[at+len("sum"):])
	}
	return one(line, member)
}

// memberOfList is a number and its unit; "and" is none.
const memberOfList = `−?[0-9.]+(?: × 10[⁻⁰¹²³⁴-⁹]+)?(?: dB SPL| (?:[^ ()*/a]|a[^n])[^ ()*/]*)?`

var list = regexp.MustCompile(`\(?` + memberOfList + `(?: and ` + memberOfList + `)+`)

// one puts one member in the place of each list.
func one(line string, member int) string {
	return list.ReplaceAllStringFunc(line, func(text string) string {
		opened := strings.HasPrefix(text, "(")
		text = strings.Split(strings.TrimPrefix(text, "("), " and ")[member]
		if opened {
			return "(" + text
		}
		return text
	})
}

// summed writes the sum that a line asks for from its bracket on.
func summed(from string) string {
	depth, end := 0, 0
	for i, r := range from {
		if r == '(' {
			depth++
		} else if r == ')' {
			if depth--; depth == 0 {
				end = i + 1
				break
			}
		}
	}
	members := len(strings.Split(list.FindString(from[:end]), " and "))
	var parts []string
	for i := range members {
		parts = append(parts, one(from[:end], i))
	}
	return "(" + strings.Join(parts, " + ") + ")" + from[end:]
}

// unitBehind is whatever stands behind a number and is no key of a
// calculator: letters and signs, also under a stroke.
var unitBehind = regexp.MustCompile(`([0-9]) ?((?:[A-Za-zµ°%²³]+ ?)+(?:/[A-Za-zµ²³]+)*|/[A-Z]\b)`)

// pocket keys a line in, without its units.
func pocket(t *testing.T, line string) float64 {
	t.Helper()
	named := strings.NewReplacer("log10(", "L(", "sqrt(", "Q(", "−", "-", "^", "**").Replace(line)
	keys := unitBehind.ReplaceAllString(named, "$1")
	if regexp.MustCompile(`[a-zA-Z]`).MatchString(regexp.MustCompile(`[LQ]\(|pi|e-?[0-9]`).ReplaceAllString(keys, "(")) {
		t.Fatalf("%q cannot be keyed in: %q", line, keys)
	}
	out, err := expr.Eval("1.0*("+keys+")", map[string]any{"pi": math.Pi,
		"L": func(x any) float64 { return math.Log10(real64(x)) },
		"Q": func(x any) float64 { return math.Sqrt(real64(x)) },
	})
	if err != nil {
		t.Fatalf("%q keyed in: %v", keys, err)
	}
	return real64(out)
}

func real64(x any) float64 {
	if n, whole := x.(int); whole {
		return float64(n)
	}
	return x.(float64)
}

// lastDigitOf is one in the last place of a printed number with all of its
// four to ten figures.
func lastDigitOf(t *testing.T, number string) float64 {
	t.Helper()
	x := worth(t, number)
	number, _, _ = strings.Cut(number, " ")
	if x == 0 {
		return 1e-9
	}
	figures := max(4, len(strings.Trim(strings.NewReplacer(".", "", "−", "").Replace(number), "0")))
	return math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-float64(figures-1))
}

// TestUnitsPutIn holds lines whose numbers stand in units that do not multiply
// out: they come out when keyed in, and stand so. Lengths and watts were
// converted by GNU units 2.22.
func TestUnitsPutIn(t *testing.T) {
	for _, c := range []struct {
		method, result, step string
		typed                []string
		line                 string
	}{
		{"speaker-wire", "wire", "wire", []string{"gauge=16 AWG", "run=9 m", "load=8 ohm"}, "2*9 m*0.01317 ohm/m = 0.238 ohm"},
		{"speaker-wire", "wire", "wire", []string{"gauge=16 AWG", "run=50 ft", "load=8 ohm"}, "2*0.01524 km*13.17 ohm/km = 0.402 ohm"},
		{"speaker-wire", "wire", "wire", []string{"gauge=16 AWG", "run=29 ft 6 in", "load=8 ohm"}, "2*8.9916 m*0.01317 ohm/m = 0.237 ohm"},
		{"speaker-wire", "share", "share", []string{"gauge=16 AWG", "run=9 m", "load=8 ohm"}, "0.2371 ohm/(8 ohm + 0.2371 ohm)*100 % = 2.88 %"},
		{"speaker-wire", "wire", "cold", []string{"gauge=16 AWG", "run=9 m", "load=8 ohm"}, "1/(58 MS/m*1.309 mm²)*1000 m/km = 13.17 ohm/km"},
		{"wire-size", "diameter", "diameter", []string{"gauge=1/0 AWG"}, "0.127 mm*92^((36 AWG - 0 AWG)/39) = 8.251 mm"},
		{"wire-size", "mils", "area", []string{"gauge=16 AWG"}, "pi/4*(1.2908 mm)^2*1973.525241 cmil/mm² = 2582 cmil"},
		{"wire-resistance", "cold", "cold", []string{"measured=4 ohm/kft", "metal=copper"}, "13.12335958 ohm/km = 13.2 ohm/km"},
		{"seat-level", "spread", "spread", []string{"power=500 mW", "sensitivity=88 dB", "basis=watt", "load=8 ohm", "distance=10 ft"}, "20 dB*log10(3.048 m/1 m) = 9.7 dB"},
		{"sine-power", "volts", "volts", []string{"power=500 mW", "load=8 ohm"}, "sqrt(0.5 W*8 ohm) = 2.00 V"},
		{"lowest-impedance", "lowest", "lowest", []string{"load=6 ohm"}, "0.8*6 ohm = 4.80 ohm"},
		{"loads-parallel", "floor", "floor", []string{"loads=8 and 6 ohm"}, "0.8*(8 and 6 ohm) = 6.40 and 4.80 ohm"},
	} {
		t.Run(c.method+" "+strings.Join(c.typed, " "), func(t *testing.T) {
			d := methodOf(t, c.method)
			steps := d.Work(valuesOf(t, d, c.typed...), c.result)[0]
			for i, s := range steps {
				if s.Name != c.step {
					continue
				}
				if line := formula.TextWith(s.With, s.Given) + " = " + s.Text; line != c.line {
					t.Errorf("the line is\n%s\nand is to be\n%s", line, c.line)
				}
				keyed(t, d.Sheet().Result(c.result), s, i == len(steps)-1)
				return
			}
			t.Errorf("no step %s among %d", c.step, len(steps))
		})
	}
}
