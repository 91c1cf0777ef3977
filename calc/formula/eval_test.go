package formula

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// trial is an environment of a test: a scope with what stands in it.
type trial struct {
	values  map[string]Value
	missing map[string]bool // facts that are missing
}

func (e trial) Value(name string) Value {
	if v, ok := e.values[name]; ok {
		return v
	}
	return CannotTell("the " + name + " is not known")
}

func (e trial) Given(name string) bool {
	v, ok := e.values[name]
	return ok && v.State == Known
}

func (e trial) Missing(name string) bool { return e.missing[name] }

func base(t *testing.T, s string) Value {
	t.Helper()
	q, f := unit.Read(placed(s))
	if f != nil {
		t.Fatal(f)
	}
	return Quantity(q.Value)
}

// trialScope is what the formulas of these tests may name.
func trialScope(t *testing.T) *Scope {
	t.Helper()
	kind := func(s string) Type { return Of(unit.Must(s).Kind()) }
	s := &Scope{
		Values: map[string]Symbol{
			"run": {Type: kind("m")}, "load": {Type: kind("ohm")}, "x": {}, "y": {}, "zero": {}, "inf": {},
			"factor": {Missing: true}, "other": {Missing: true}, "back": {}, "failed": {}, "lost": {},
			"metal": {Type: Choice("copper", "clad")}, "level": {Type: kind("dB SPL")},
			"loads":    {Type: kind("ohm").In("speaker")},
			"measured": {Type: kind("ohm").In("speaker"), Missing: true},
			"walls":    {Type: kind("m2").In("wall"), Missing: true},
			"finish":   {Type: Choice("hard", "soft").In("wall")},
			"empty":    {Type: Type{Group: "nothing"}},
		},
		Functions: map[string]*Function{},
	}
	for _, text := range []string{
		"double(n) = 2*n", "parallel(n) = 1/sum(1/n)", "cut(n) = n when metal is copper, else 0",
		"inner(n, q) = double(n) + q*double(n + 1)", "spread(n) = max(n) - min(n)",
	} {
		step, faults := ParseStep(placed(text))
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		f := &Function{Name: step.Name.Text, Body: step.Body}
		for _, p := range step.Params {
			f.Params = append(f.Params, p.Text)
		}
		s.Functions[f.Name] = f
	}
	size := func(x float64, word string, text string) []Key {
		return []Key{{Number: x, Text: text}, {Word: word}}
	}
	s.Functions["share"] = &Function{Name: "share", Column: &Column{
		Table: "sizes", Name: "share", Keys: []Type{{}, Choice("copper", "clad")}, KeyNames: []string{"n", "metal"},
		Rows: []Row{{Keys: size(1, "copper", "1"), Value: 10}, {Keys: size(2, "copper", "2"), Value: 20},
			{Keys: size(4, "copper", "4"), Value: 40}, {Keys: size(2, "clad", "2"), Empty: true}},
	}}
	return s
}

func trialEnv(t *testing.T) trial {
	t.Helper()
	list := func(all ...string) Value {
		v := Value{}
		for _, s := range all {
			if s == "-" {
				v.List = append(v.List, CannotTell("this member is not known"))
				continue
			}
			v.List = append(v.List, base(t, s))
		}
		return v
	}
	return trial{
		values: map[string]Value{
			"run": base(t, "9 m"), "load": base(t, "8 ohm"), "x": Quantity(3), "y": Quantity(-2), "zero": Quantity(0),
			"inf": Quantity(math.Inf(1)), "back": NoValue("nothing comes back"), "level": base(t, "80 dB SPL"),
			"failed": FailedAt(fault.At(placed("1/0"), "division by nothing")), "metal": WordOf("copper"),
			"lost":  CannotTell("the loss is not known"),
			"loads": list("8 ohm", "4 ohm"), "measured": list("6 ohm", "-"),
			"finish": ListOf(WordOf("hard"), WordOf("soft")), "empty": {List: []Value{}},
		},
		missing: map[string]bool{"factor": true, "walls": true},
	}
}

func evaluate(t *testing.T, s string, e Env) Value {
	t.Helper()
	return sound1(t, mustBody(t, s)).Eval(e)
}

func sound1(t *testing.T, n Node) *Formula {
	t.Helper()
	f, faults := Check(n, trialScope(t))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return f
}

// TestEval works formulas by hand.
func TestEval(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]float64{
		"-2^2": -4, "2^3^2": 512, "2^-1": 0.5, "(-2)^2": 4, "-x^2": -9, "2 - 3 - 4": -5, "2/4*2": 1, "--2": 2,
		"2 m^2": 2, "1/(2 m)*4 m": 2, "(2 m)^2/1 m^2": 4, "pi": math.Pi, "x²": 9, "x³": 27, "0^0": 1,
		"9^0.5": 3, "y^3": -8, "sqrt(9)": 3, "log10(1000)": 3, "log2(8)": 3, "ln(exp(2))": 2,
		"sin(30 deg)": 0.5, "cos(60 deg)": 0.5, "tan(45 deg)": 1, "asin(1)": math.Pi / 2, "acos(1)": 0,
		"atan(1)": math.Pi / 4, "abs(y)": 2, "sinc(zero)": 1, "sinc(pi)": 0, "round(2.5)": 3, "round(-2.5)": -3,
		"roundup(2.0000000001)": 2, "roundup(2.1)": 3, "rounddown(2.9999999999)": 3, "rounddown(-0.5)": -1,
		"min(x, y, 1)": -2, "max(x, y, 1)": 3, "sum(loads)/1 ohm": 12, "min(loads)/1 ohm": 4, "max(loads)/1 ohm": 8,
		"count(loads)": 2, "count(measured)": 2, "count(2*loads)": 2, "1/sum(1/loads)/1 ohm": 8.0 / 3,
		"tally(x > 2, y > 2, metal is copper)": 2, "double(x)": 6, "inner(x, y)": 6 - 16,
		"parallel(loads)/1 ohm": 8.0 / 3, "parallel(2*loads)/1 ohm": 16.0 / 3, "spread(loads)/1 ohm": 4,
		"cut(x)": 3, "share(x - 1, metal)": 20, "0 - 0": 0, "-zero": 0, "zero*y": 0,
		"-10 dBV - -10 dBV + 0 dB": 0, "(level - 0 dB SPL)/1 dB": 80, "sum(loads/sum(loads))": 1,
		"x when x > 2, else y": 3, "x when x < 2, y when metal is copper, else 1": -2,
		`none "no" when x < 2, else 5`: 5, "20 °C - 68 °F + 1 K": 1, "sum(empty)": 0,
	} {
		t.Run(source, func(t *testing.T) {
			got := evaluate(t, source, e)
			if got.State != Known || math.Abs(got.Number-want) > 1e-14*math.Max(1, math.Abs(want)) {
				t.Errorf("got %v %v %v, want %v", got.State, got.Number, got.Fault, want)
			}
			if got.Number == 0 && math.Signbit(got.Number) {
				t.Error("nothing comes out below nothing")
			}
		})
	}
}

// TestFailed holds what cannot be worked to its place and its words.
func TestFailed(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"2/zero":                     `1:3 division by nothing: "zero" is 0`,
		"x/(x - 3)":                  `1:3 division by nothing: "(x - 3)" is 0`,
		"log10(zero)":                `1:7 log10 has no value here: "zero" is 0`,
		"2*ln(y)":                    `1:6 ln has no value here: "y" is below 0`,
		"sqrt(y)":                    `1:6 sqrt has no value here: "y" is below 0`,
		"asin(x)":                    `1:6 asin has no value here: "x" is above 1`,
		"acos(y)":                    `1:6 acos has no value here: "y" is below -1`,
		"y^0.5":                      `1:1 "y^0.5" has no value: "y" is below 0, and the power is not whole`,
		"zero^-1":                    `1:1 "zero^-1" has no value: "zero" is 0, and a negative power divides by it`,
		"10^(x*200)":                 `1:1 "10^(x*200)" comes to a number too large to be worked with`,
		"exp(1000*x)":                `1:1 "exp(1000*x)" comes to a number too large to be worked with`,
		"1e300*1e300":                `1:1 "1e300*1e300" comes to a number too large to be worked with`,
		"inf + 1":                    `1:1 "inf" is no number that can be worked with`,
		"failed + lost":              `1:1 division by nothing`,
		"lost*failed":                `1:1 division by nothing`,
		"x when failed > 1, else 2":  `1:1 division by nothing`,
		"share(3, metal)":            `1:7 the table sizes has no row for this value of "3"`,
		"share(9, metal)":            `1:7 the table sizes has no row for this value of "9"`,
		"sum(loads/(loads - 4 ohm))": `1:11 division by nothing: "(loads - 4 ohm)" is 0`,
	} {
		t.Run(source, func(t *testing.T) {
			got := evaluate(t, source, e)
			if got.State != Failed {
				t.Fatalf("got %v %v", got.State, got.Number)
			}
			line, column := got.Fault.Place.Text.Position(got.Fault.Place.Start)
			if told := strings.Join([]string{digit(line), ":", digit(column), " ", got.Fault.Message}, ""); told != want {
				t.Errorf("got  %s\nwant %s", told, want)
			}
		})
	}
	if got := evaluate(t, "share(3, metal)", e).Fault.Wanted; got != "one of its rows; nearest: 2 and 4" {
		t.Errorf("the neighbours of 3 are told as %q", got)
	}
	if got := evaluate(t, "share(9, metal)", e).Fault.Wanted; got != "one of its rows; nearest: 4" {
		t.Errorf("the neighbours of 9 are told as %q", got)
	}
}

func digit(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return digit(n/10) + digit(n%10)
}

// TestStates carries none and unknown through.
func TestStates(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"lost + 1":                         "cannot tell: the loss is not known",
		"back*2":                           "none: nothing comes back",
		"back + lost":                      "cannot tell: the loss is not known",
		"lost + back":                      "cannot tell: the loss is not known",
		"-lost":                            "cannot tell: the loss is not known",
		"sqrt(lost)":                       "cannot tell: the loss is not known",
		"max(1, back)":                     "none: nothing comes back",
		"double(lost)":                     "cannot tell: the loss is not known",
		`none "this arm is right nowhere"`: "none: this arm is right nowhere",
		`unknown "no" when x > 2, else 1`:  "cannot tell: no",
		"1 when lost > 2, else 2":          "cannot tell: the loss is not known",
		"1 when back > 2, else 2":          "cannot tell: nothing comes back",
		"1 when factor > 2, else 2":        "cannot tell: the factor is not known",
		"share(lost, metal)":               "cannot tell: the loss is not known",
		"sum(measured)/1 ohm":              "cannot tell: this member is not known",
		"sum(walls)/1 m^2":                 "cannot tell: the walls is not known",
		"count(walls)":                     "cannot tell: the walls is not known",
		"max(empty)":                       "none: the list has no members",
		"tally(x > 2, lost > 2)":           "cannot tell: the loss is not known",
		"walls*2":                          "cannot tell: the walls is not known",
	} {
		t.Run(source, func(t *testing.T) {
			got := evaluate(t, source, e)
			if told := got.State.String() + ": " + got.Why; told != want {
				t.Errorf("got %q, want %q", told, want)
			}
		})
	}
	e.values["metal"] = WordOf("clad")
	if got := evaluate(t, "share(2, metal)", e); got.State != Unknown || got.Why != "the table sizes has no share for 2 and clad" {
		t.Errorf("an empty cell is %v: %s", got.State, got.Why)
	}
	if got := evaluate(t, "share(1, metal)", e); got.State != Failed || got.Fault.Message != `the table sizes has no row for this value of "metal"` ||
		got.Fault.Wanted != "one of its rows; nearest: copper" {
		t.Errorf("a missing word is %v: %v", got.State, got.Fault)
	}
}

// TestFirstCaseWins holds the order of cases: the first that is true wins, if
// all before it are surely false.
func TestFirstCaseWins(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"1 when x > 2, 2 when lost > 1, else 3":           "1",
		"1 when x < 2, 2 when lost > 1, else 3":           "the loss is not known",
		"1 when lost > 1 and x < 2, else 3":               "3",
		"1 when lost > 1 or x > 2, else 3":                "1",
		"1 when not lost > 1, else 3":                     "the loss is not known",
		"1 when failed > 1 and x < 2, else 3":             "3",
		"1 when x < 2, 2/zero when x > 5, else 3":         "3",
		"1 when metal is clad or metal is copper, else 3": "1",
	} {
		t.Run(source, func(t *testing.T) {
			got := evaluate(t, source, e)
			told := got.Why
			if got.State == Known {
				told = digit(int(got.Number))
			}
			if told != want {
				t.Errorf("got %q, want %q", told, want)
			}
		})
	}
}

// TestLists works formulas that give a list.
func TestLists(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string][]float64{
		"2*loads/1 ohm":    {16, 8},
		"loads/sum(loads)": {8.0 / 12, 4.0 / 12},
		"measured when measured is given, else 0.8*loads": {6, 3.2},
		"max(loads, 5 ohm)":             {8, 5},
		"double(loads)":                 {16, 8},
		"1 when loads > 5 ohm, else 0":  {1, 0},
		"tally(loads > 5 ohm, x > 2)":   {2, 1},
		"inner(loads/1 ohm, x)":         {16 + 3*18, 8 + 3*10},
		"1 when finish is hard, else 2": {1, 2},
	} {
		t.Run(source, func(t *testing.T) {
			got := evaluate(t, source, e)
			if got.State != Known || len(got.List) != len(want) {
				t.Fatalf("got %v", got)
			}
			for i, m := range got.List {
				if m.State != Known || math.Abs(m.Number-want[i]) > 1e-12 {
					t.Errorf("member %d is %v %v, want %v", i, m.State, m.Number, want[i])
				}
			}
		})
	}
	gaps := evaluate(t, "2*measured", e).List
	if gaps[0].State != Known || gaps[1].State != Unknown || gaps[1].Why != "this member is not known" {
		t.Errorf("a gap comes out as %v", gaps)
	}
	e.values["measured"] = ListOf(Quantity(6))
	short := evaluate(t, "measured + loads", e).List
	if short[1].State != Failed || !strings.Contains(short[1].Fault.Message, "has only 1 members") {
		t.Errorf("a short list comes out as %v", short)
	}
}

// TestAssumed names the facts that something stood in for.
func TestAssumed(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"factor when factor is given, else 5":          "factor",
		"2*x when not factor is given, else 5":         "factor",
		"5 when other is given, else 6":                "",
		"y when factor is given and x > 9, else 6":     "factor",
		"1 when x > 2, 2 when factor is given, else 3": "",
		"max(factor, 1)":                               "",
	} {
		t.Run(source, func(t *testing.T) {
			if got := evaluate(t, source, e); strings.Join(got.Assumed, ",") != want {
				t.Errorf("got %q, want %q", got.Assumed, want)
			}
		})
	}
	floor := evaluate(t, "measured when measured is given, else 0.8*loads", e)
	if !slices.Equal(floor.Assumed, []string{"measured"}) || floor.List[0].Assumed != nil || floor.List[1].Assumed == nil {
		t.Errorf("a gap that 0.8*loads stands in for is assumed as %q, %v", floor.Assumed, floor.List)
	}
	a := Value{Number: 1, Assumed: []string{"b", "d"}}
	b := Value{Number: 1, Assumed: []string{"a", "b"}}
	if got := worse(a, b).Assumed; !slices.Equal(got, []string{"a", "b", "d"}) {
		t.Errorf("two sets of assumed facts make %q", got)
	}
	e.values["x"] = a
	for _, source := range []string{"2*x", "sqrt(x)", "double(x)", "1 when x > 0, else 2", "1/(x - 1)", "log10(x - 1)", "share(x, metal)", "tally(x > 0)", "exp(x*1e4)"} {
		if got := evaluate(t, source, e); !slices.Equal(got.Assumed, a.Assumed) {
			t.Errorf("%s carries %q", source, got.Assumed)
		}
	}
}

// TestTruth answers conditions in three values.
func TestTruth(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"x > 2": "true", "x < 2": "false", "x = 3": "true", "x = 3.0000000001": "true", "x = 3.00001": "false",
		"x < 3.0000000001": "false", "x <= 2.9999999999": "true", "x > 2.9999999999": "false", "x >= 3.0000000001": "true",
		"run at most 9 m": "true", "run below 9 m": "false", "run is 9 m": "true", "run is 29 ft 6 in": "false",
		"run is 900 cm": "true", "metal is copper": "true", "metal is clad": "false", "not metal is clad": "true",
		"lost > 1": "cannot tell", "not lost > 1": "cannot tell", "lost > 1 and x > 2": "cannot tell",
		"lost > 1 and x < 2": "false", "lost > 1 or x > 2": "true", "lost > 1 or x < 2": "cannot tell",
		"factor is given": "false", "not factor is given": "true", "back > 1": "cannot tell", "failed > 1": "cannot tell",
		"failed > 1 and lost > 1": "cannot tell", "loads > 5 ohm": "false", "loads > 2 ohm": "true",
		"measured > 5 ohm": "cannot tell", "measured > 7 ohm": "false", "measured is given": "false",
		"walls is given": "false", "finish is hard": "false", "x above 2 and y below 0": "true",
		"level at least 80 dB SPL": "true",
	} {
		t.Run(source, func(t *testing.T) {
			f := sound1(t, mustCond(t, source))
			if got, _ := f.Truth(e); got.String() != want {
				t.Errorf("got %v, want %s", got, want)
			}
		})
	}
	if _, why := sound1(t, mustCond(t, "x > 2 and lost > 1")).Truth(e); why != "the loss is not known" {
		t.Errorf("why is %q", why)
	}
	a := sound1(t, mustCond(t, "lost > 1 and failed > 1")).Answer(e)
	if a.Fault == nil || a.Why != "division by nothing" {
		t.Errorf("a side that failed is told as %+v", a)
	}
	if v := sound1(t, mustCond(t, "x > 2")).Eval(e); v.Number != 1 {
		t.Errorf("a true condition as a value is %v", v)
	}
	if v := sound1(t, mustCond(t, "lost > 2")).Eval(e); v.State != Unknown {
		t.Errorf("an untold condition as a value is %v", v)
	}
	if v := sound1(t, mustCond(t, "failed > 2")).Eval(e); v.State != Failed {
		t.Errorf("a failed condition as a value is %v", v)
	}
}

// TestChosen returns the outcome that stands.
func TestChosen(t *testing.T) {
	e := trialEnv(t)
	for source, want := range map[string]string{
		"2*x":                                        "2*x",
		"x when x > 2, else y":                       "x",
		"x when x < 2, else 2*y":                     "2*y",
		"x when lost > 2, else y":                    "",
		"loads when x > 2, else 2*loads":             "loads",
		"loads when loads > 5 ohm, else 2*loads":     "loads when loads > 5 ohm, else 2*loads",
		"loads when measured is given, else 2*loads": "loads when measured is given, else 2*loads",
	} {
		t.Run(source, func(t *testing.T) {
			got := ""
			if n := sound1(t, mustBody(t, source)).Chosen(e); n != nil {
				got = Text(n)
			}
			if got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// TestChoiceAsValue lets a choice through as a result.
func TestChoiceAsValue(t *testing.T) {
	f := sound1(t, mustBody(t, "metal"))
	if got := f.Eval(trialEnv(t)); got.Word != "copper" || !slices.Equal(f.Type().Words, []string{"copper", "clad"}) {
		t.Errorf("got %v of %v", got, f.Type())
	}
}

// TestSquareIsProduct holds x^2 to the very bits of x*x, which every program
// that follows IEEE 754 agrees on.
func TestSquareIsProduct(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	square := sound1(t, mustBody(t, "x^2"))
	for range 10000 {
		x := r.NormFloat64() * math.Pow(10, float64(r.IntN(300)-150))
		if got := square.Eval(trial{values: map[string]Value{"x": Quantity(x)}}).Number; got != x*x {
			t.Fatalf("%v^2 is %v, and the product %v", x, got, x*x)
		}
	}
}

// TestNearOne holds functions to the first terms of their series, where their
// argument nears 1 and a difference from it would lose digits.
func TestNearOne(t *testing.T) {
	d := 0x1p-40
	for source, want := range map[string]float64{
		"log2(1 + x)": (d - d*d/2) / math.Ln2,
		"log2(1 - x)": (-d - d*d/2) / math.Ln2,
		"ln(1 + x)":   d - d*d/2,
		"acos(1 - x)": math.Sqrt(2*d) * (1 + d/12),
		"sinc(x)":     1,
	} {
		got := evaluate(t, source, trial{values: map[string]Value{"x": Quantity(d)}})
		if got.State != Known || math.Abs(got.Number-want) > 4e-16*math.Abs(want) {
			t.Errorf("%s is %v, want %v", source, got.Number, want)
		}
	}
}
