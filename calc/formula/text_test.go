package formula

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

func placed(s string) fault.Place { return fault.NewText("test", s).All() }

// mustBody reads an expression or cases that a test knows to be sound.
func mustBody(t *testing.T, s string) Node {
	t.Helper()
	n, faults := ParseBody(placed(s))
	if faults.Len() > 0 {
		t.Fatalf("%q: %v", s, faults)
	}
	return n
}

func mustCond(t *testing.T, s string) Node {
	t.Helper()
	n, faults := ParseCond(placed(s))
	if faults.Len() > 0 {
		t.Fatalf("%q: %v", s, faults)
	}
	return n
}

// TestCanonicalText holds the spacing in which formulas are printed, and that
// every way of writing comes to it.
func TestCanonicalText(t *testing.T) {
	for written, want := range map[string]string{
		"2 * run*each":                         "2*run*each",
		"a+b":                                  "a + b",
		"a−b":                                  "a - b",
		"2×run·each":                           "2*run*each",
		"20dB*log10( (load+wire) / load )":     "20 dB*log10((load + wire)/load)",
		"0.004/K*5 K":                          "0.004/K*5 K",
		"x²+y³":                                "x^2 + y^3",
		"2 mm²":                                "2 mm²",
		"2 mm2":                                "2 mm²",
		"(2 m)^2":                              "(2 m)^2",
		"8Ω":                                   "8 ohm",
		"15 µs":                                "15 µs",
		"-10 dBV":                              "-10 dBV",
		"− 5 °C":                               "-5 °C",
		"-x":                                   "-x",
		"--x":                                  "--x",
		"0.10*x":                               "0.10*x",
		"max ( 0 , x )":                        "max(0, x)",
		`none "no hum"  when hum=0 V,else hum`: `none "no hum" when hum = 0 V, else hum`,
		`unknown "why"`:                        `unknown "why"`,
		"a when b is c and not d is given, else e": "a when b is c and not d is given, else e",
		"tally(p>0, q≥1 or r is yes)":              "tally(p > 0, q >= 1 or r is yes)",
		"else a":                                   "a",
		"360 deg*x":                                "360°*x",
		"468 ft MHz/x":                             "468 ft MHz/x",
	} {
		t.Run(written, func(t *testing.T) {
			n := mustBody(t, written)
			if got := Text(n); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
			if again := mustBody(t, Text(n)); !alikeTrees(n, again) {
				t.Errorf("%q reads back to another tree", Text(n))
			}
		})
	}
}

func TestConditionText(t *testing.T) {
	for written, want := range map[string]string{
		"run at  most 9 m":            "run at most 9 m",
		"run <= 9 m":                  "run <= 9 m",
		"loss at least 0.5 dB":        "loss at least 0.5 dB",
		"run below 5 ft 6 in":         "run below 5 ft 6 in",
		"speed is 33 1/3 rpm":         "speed is 33 1/3 rpm",
		"gauge is 1/0 AWG":            "gauge is 1/0 AWG",
		"level above -10 dBV":         "level above -10 dBV",
		"level is -10 dBV":            "level is -10 dBV",
		"x is -3":                     "x is -3",
		"run is 1/2 m":                "run is 1/2 m",
		"run at least 5 ft 6 1/2 in":  "run at least 5 ft 6 1/2 in",
		"wait below 1 h 30 min":       "wait below 1 h 30 min",
		"speed is 33 1/3":             "speed is 33 1/3",
		"ratio is 1/2":                "ratio is 1/2",
		"ratio > 1/2*x":               "ratio > 1/2*x",
		"ratio > 3 m/2 m*x":           "ratio > 3 m/2 m*x",
		"gauge is 2/0":                "gauge is 2/0",
		"run > −9 m":                  "run > -9 m",
		"a is b or c is d and e > f":  "a is b or c is d and e > f",
		"not a is b":                  "not a is b",
		"not not a is b":              "not not a is b",
		"metal is tuner-preamplifier": "metal is tuner-preamplifier",
	} {
		t.Run(written, func(t *testing.T) {
			n := mustCond(t, written)
			if got := Text(n); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
			if again := mustCond(t, Text(n)); !alikeTrees(n, again) {
				t.Errorf("%q reads back to another tree", Text(n))
			}
		})
	}
}

// TestSoundText reads every formula of the trade back from its text.
func TestSoundText(t *testing.T) {
	count := 0
	for _, s := range sounds(t) {
		for _, line := range s.lines {
			switch line.word {
			case "step":
				st, faults := ParseStep(line.rest)
				again, more := ParseStep(placed(st.String()))
				if faults.Len() > 0 || more.Len() > 0 || again.String() != st.String() || !alikeTrees(st.Body, again.Body) {
					t.Errorf("%s: %q does not read back from %q: %v", s.name, line.rest, st, more)
				}
			case "when", "need", "verdict", "caution", "rule":
				n := mustCond(t, line.rest.String())
				if !alikeTrees(n, mustCond(t, Text(n))) {
					t.Errorf("%s: %q does not read back from %q", s.name, line.rest, Text(n))
				}
			default:
				continue
			}
			count++
		}
	}
	if count != 299+57 {
		t.Errorf("%d lines were tried, want %d", count, 299+57)
	}
}

// TestMadeText writes trees that no text gives, so that they read back.
func TestMadeText(t *testing.T) {
	level := &Number{Text: "20", Unit: unit.Must("dB SPL"), Value: 20}
	if got := Text(&Negate{Operand: level}); got != "-(20 dB SPL)" {
		t.Errorf("got %q", got)
	}
}

func TestStepText(t *testing.T) {
	for written, want := range map[string]string{
		"wire=2*run*each [ circuit-theory , iec-60228.1 ]":          "wire = 2*run*each [circuit-theory, iec-60228.1]",
		"lift( x,tau )=x*tau":                                       "lift(x, tau) = x*tau",
		"left = left of damping with wire=wire , load = 2*load [a]": "left = left of damping with wire = wire, load = 2*load [a]",
		"each = each of wire-resistance":                            "each = each of wire-resistance",
	} {
		s, faults := ParseStep(placed(written))
		if faults.Len() > 0 || s.String() != want {
			t.Errorf("%q: got %q, want %q; %v", written, s, want, faults)
		}
	}
}

// TestTextWith puts numbers into formulas.
func TestTextWith(t *testing.T) {
	numbers := map[string]string{
		"run": "9 m", "each": "13.2 ohm/km", "load": "8 ohm", "wire": "0.238 ohm", "volts": "20 V", "ratio": "3",
		"loss": "−5 dB", "speed": "33 1/3 rpm", "loads": "8 ohm and 6 ohm", "gauge": "1/0 AWG", "metal": "copper",
		"part": "5 %", "low": "-3",
	}
	put := func(name string) (string, bool) { s, ok := numbers[name]; return s, ok }
	for formula, want := range map[string]string{
		"2*run*each":                           "2*9 m*13.2 ohm/km",
		"20 dB*log10((load + wire)/load)":      "20 dB*log10((8 ohm + 0.238 ohm)/8 ohm)",
		"volts^2/load":                         "(20 V)^2/8 ohm",
		"1/run":                                "1/(9 m)",
		"ratio/run":                            "3/(9 m)",
		"run/ratio":                            "9 m/3",
		"ratio^2":                              "3^2",
		"2 dB - loss":                          "2 dB - (−5 dB)",
		"loss + 2 dB":                          "−5 dB + 2 dB",
		"low^2":                                "(-3)^2",
		"2*low":                                "2*(-3)",
		"-low":                                 "-(-3)",
		"2*speed":                              "2*(33 1/3 rpm)",
		"sum(loads)":                           "sum(8 ohm and 6 ohm)",
		"volts/loads":                          "20 V/(8 ohm and 6 ohm)",
		"run*other":                            "9 m*other",
		"run*part":                             "9 m*5 %",
		"gauge - 36 AWG":                       "(1/0 AWG) - 36 AWG",
		"run when metal is copper, else 2*run": "9 m when metal is copper, else 2*9 m",
		"run when load > 2 ohm, else run":      "9 m when 8 ohm > 2 ohm, else 9 m",
	} {
		t.Run(formula, func(t *testing.T) {
			if got := TextWith(mustBody(t, formula), put); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// grower makes random trees as the parser makes them: with brackets where they
// are needed, and now and then where they are not.
type grower struct {
	*rand.Rand
	typed bool
}

var (
	leafNumbers = []string{"2", "0.10", "1e3", "2.83", "100"}
	leafUnits   = []string{"", "m", "ohm/km", "dB", "dB SPL", "mm2", "1/K", "%", "deg", "AWG", "°C", "dB/100 ft"}
	leafNames   = []string{"run", "load", "x", "R_w", "pi", "hz10"}
)

func (g grower) pick(of []string) string { return of[g.IntN(len(of))] }

func (g grower) number() *Number {
	n := &Number{Text: g.pick(leafNumbers), Unit: unit.Must(cmpOr(g.pick(leafUnits), "number"))}
	var x float64
	fmt.Sscan(n.Text, &x)
	if n.Unit.Kind().IsPoint() && g.IntN(2) == 0 {
		n.Text, x = "-"+n.Text, -x
	}
	n.Value = n.Unit.ToBase(x) + 0
	return n
}

func cmpOr(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func (g grower) expr(depth int) Node {
	if depth == 0 {
		if g.IntN(2) == 0 {
			return g.number()
		}
		return &Name{Text: g.pick(leafNames)}
	}
	switch g.IntN(8) {
	case 0:
		return &Group{Inner: g.expr(depth - 1)}
	case 1:
		return g.negate(depth)
	case 2:
		c := &Call{Function: g.pick([]string{"sqrt", "log10", "max", "lift"})}
		for range 1 + g.IntN(3) {
			c.Args = append(c.Args, g.expr(depth-1))
		}
		return c
	case 3:
		if g.IntN(4) == 0 {
			return &Call{Function: "tally", Args: []Node{g.cond(depth - 1), g.cond(depth - 1)}}
		}
	}
	op := Op(g.pick([]string{"+", "-", "*", "/", "^"})[0])
	left, right := sides(op)
	b := &Binary{Op: op, Left: g.fit(depth-1, left), Right: g.fit(depth-1, right)}
	if _, ok := lastFactor(b.Left).(*Number); ok && op == Div {
		if r, ok := b.Right.(*Number); ok && written(r) {
			b.Right = &Group{Inner: r} // 1/2 m is refused, and m/100 m is a unit
		}
	}
	return b
}

func (g grower) negate(depth int) Node {
	n := g.fit(depth-1, negated)
	if v, ok := n.(*Number); ok && v.Unit.Kind().IsPoint() {
		n = &Group{Inner: n}
	}
	if b, ok := n.(*Binary); ok { // -(20 dB SPL)^2 would be read as a reading
		if v, ok := b.Left.(*Number); ok && v.Unit.Kind().IsPoint() {
			n = &Group{Inner: n}
		}
	}
	return &Negate{Operand: n}
}

// fit makes an expression for a place, with the brackets that it needs.
func (g grower) fit(depth, place int) Node {
	n := g.expr(depth)
	if v, ok := n.(*Number); ok && place == raised && written(v) {
		return &Group{Inner: n} // 2 m^2 is two square metres
	}
	if binds(n) < place {
		return &Group{Inner: n}
	}
	return n
}

func (g grower) cond(depth int) Node {
	if depth > 0 {
		switch g.IntN(4) {
		case 0:
			return &Or{Tests: []Node{g.test(depth - 1), &And{Tests: []Node{g.test(depth - 1), g.test(depth - 1)}}}}
		case 1:
			return &And{Tests: []Node{g.test(depth - 1), g.test(depth - 1), g.test(depth - 1)}}
		}
	}
	return g.test(depth)
}

func (g grower) test(depth int) Node {
	switch g.IntN(5) {
	case 0:
		if depth > 0 {
			return &Not{Test: g.test(depth - 1)}
		}
		return &Given{Name: &Name{Text: "run"}}
	case 1:
		return &Given{Name: &Name{Text: "load"}}
	case 2:
		return &Is{Name: &Name{Text: "metal"}, Value: &Word{Text: g.pick([]string{"copper", "clad", "watt", "x-y"})}}
	}
	return &Compare{Relation: Relation(g.IntN(5)), Left: g.expr(min(depth, 2)), Right: g.expr(min(depth, 2))}
}

func (g grower) body(depth int) Node {
	if g.IntN(3) > 0 {
		return g.expr(depth)
	}
	c := &Cases{Else: g.expr(depth)}
	if g.IntN(3) == 0 {
		c.Else = &UnknownOutcome{Why: "it is not known"}
	}
	for range 1 + g.IntN(2) {
		k := Case{Outcome: g.expr(depth), When: g.cond(depth)}
		if g.IntN(4) == 0 {
			k.Outcome = &NoneOutcome{Why: "there is none"}
		}
		c.Cases = append(c.Cases, k)
	}
	return c
}

// TestTextReadsBack writes random trees as text and reads them back.
func TestTextReadsBack(t *testing.T) {
	g := grower{Rand: rand.New(rand.NewPCG(1, 2))}
	for i := range 20000 {
		n := g.body(i % 5)
		written := Text(n)
		if len(written) > mostBytes {
			continue
		}
		again, faults := ParseBody(placed(written))
		if faults.Len() > 0 {
			t.Fatalf("%q is refused: %v", written, faults)
		}
		if !alikeTrees(n, again) {
			t.Fatalf("%q reads back as %q", written, Text(again))
		}
	}
}

// TestPlaces holds every node to the text it was read from: the text of its
// place alone reads as the node.
func TestPlaces(t *testing.T) {
	g := grower{Rand: rand.New(rand.NewPCG(3, 4))}
	for i := range 2000 {
		source := "  " + Text(g.body(i%4))
		n, faults := ParseBody(placed(source))
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		inspect(n, func(n Node) bool {
			holdPlace(t, n)
			return true
		})
	}
}

func holdPlace(t *testing.T, n Node) {
	t.Helper()
	p := n.Place()
	source := p.String()
	var again Node
	var faults *fault.List
	switch n.(type) {
	case *Word:
		if source != n.(*Word).Text {
			t.Fatalf("the place of the word %q is %q", n.(*Word).Text, source)
		}
		return
	case *And, *Or, *Not, *Given, *Is, *Compare:
		again, faults = ParseCond(placed(source))
	default:
		again, faults = ParseBody(placed(source))
	}
	if faults.Len() > 0 || !alikeTrees(n, again) {
		t.Fatalf("%s %q has the place %q: %v", strings.TrimPrefix(fmt.Sprintf("%T", n), "*formula."), Text(n), source, faults)
	}
}
