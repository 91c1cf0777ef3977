package formula

import (
	"slices"
	"strings"
	"testing"

	"bindpost/calc/unit"
)

func TestTypeOf(t *testing.T) {
	s := trialScope(t)
	for source, want := range map[string]string{
		"run*load":                           "a resistivity",
		"run/2":                              "a length",
		"level - 0 dB SPL":                   "a step in decibels",
		"level + 3 dB":                       "a sound level",
		"3 dB + level":                       "a sound level",
		"36 AWG - 2":                         "a wire gauge",
		"20 °C - 68 °F":                      "a temperature step",
		"20 °C + 5 K":                        "a temperature",
		"sqrt(load*1 W)":                     "a voltage",
		"(load*1 W)^0.5":                     "a voltage",
		"(1 m)^(-1)":                         "a number per length",
		"(1 m)^(3 - 1)":                      "an area",
		"(1 m)^(1/2*4)":                      "an area",
		"(1 m)^(1 + 1)":                      "an area",
		"asin(x)":                            "an angle",
		"1 dB/1 m*2 m":                       "a step in decibels",
		"count(loads)":                       "a plain number",
		"sum(loads)":                         "a resistance",
		"metal":                              "a choice of copper or clad",
		`none "no"`:                          "any value",
		`none "no" when x > 1, else 2 m`:     "a length",
		`2 m when x > 1, else unknown "no"`:  "a length",
		"max(level, 3 dB + 0 dB SPL)":        "a sound level",
		"10 dB*log10(load/8 ohm)":            "a step in decibels",
		"0 dBi + 10 dB*log10(1.64)":          "an antenna gain",
		"0 dBW + 10 dB*log10(1 V*1 A/1 W)":   "a power level",
		"0 dBm + 10 dB*log10(1 W/1 mW)":      "a power level",
		"30 dBm + 10 dB*log10(2 W/1 W)":      "a power level",
		"0 dBu + 20 dB*log10(1 V/0.7746 V)":  "a voltage level",
		"94 dB SPL + 20 dB*log10(1 Pa/1 Pa)": "a sound level",
		"0 dB SPL + 10 dB*log10((1 Pa)^2/(20 uPa)^2)": "a sound level",
		"0 dB SPL + 10 dB*log10(1 Pa^2/400 uPa^2)":    "a sound level",
		"0 dB SPL + 10 dB*log10(x)":                   "a sound level",
		"87 dB SPL + 10 dB*log10(2 W/1 W)":            "a sound level",
		"level + 10 dB*log10(2 W/1 W)":                "a sound level",
		"20 dB*log10(run/1 m)":                        "a step in decibels",
		"10 dB*log10(run/1 m)":                        "a step in decibels",
		"10 dB*log10((2 V/1 V)^2)":                    "a step in decibels",
		"20 dB*log10(sqrt(2 W/1 W))":                  "a step in decibels",
		"20 dB*log10((2 V/1 V)^1)":                    "a step in decibels",
		"1 W*10^((5 dBi - 0 dBi)/10 dB)":              "a power",
		"metal when x > 2, else metal":                "a choice of copper or clad",
		"20 dB*log10(abs(2 V/1 V))":                   "a step in decibels",
		"log10(2*(1 W/1 W))*10 dB":                    "a step in decibels",
		"(20 dB)*(log10(2 V/1 V))":                    "a step in decibels",
		"-20 dB*log10(2 V/1 V)":                       "a step in decibels",
		"0 dBV - -20 dB*log10(2 V/1 V)":               "a voltage level",
		"20 dB*log10(2 V/1 V) + 0 dBV":                "a voltage level",
		"(0 dBV + 3 dB) + 20 dB*log10(2 V/1 V)":       "a voltage level",
		"1 W*10^((level - 80 dB SPL)/10 dB)":          "a power",
		"20 uPa*10^((level - 0 dB SPL)/20 dB)":        "a pressure",
		"10^(-(3 dB)/20 dB)":                          "a plain number",
		"1 V*10^(-(3 dB)/20 dB)":                      "a voltage",
		"1 V*10^(3 dB/(20 dB))":                       "a voltage",
		"2^((level - 85 dB SPL)/3 dB)":                "a plain number",
		"1 V*10^x":                                    "a voltage",
	} {
		t.Run(source, func(t *testing.T) {
			f, faults := Check(mustBody(t, source), s)
			if faults.Len() > 0 {
				t.Fatal(faults)
			}
			if got := f.Type().String(); got != want {
				t.Errorf("got %s, want %s", got, want)
			}
		})
	}
}

func TestGroups(t *testing.T) {
	s := trialScope(t)
	for source, want := range map[string]string{
		"2*loads": "speaker", "loads + load": "speaker", "sum(loads)": "", "loads/sum(measured)": "speaker",
		"double(loads)": "speaker", "parallel(loads)": "", "1 when loads > 2 ohm, else 2": "speaker",
		"tally(loads > 2 ohm)": "speaker", "max(loads, load)": "speaker", "sum(loads)*walls": "wall",
		"sum(loads/sum(loads))": "", "sqrt(loads)": "speaker", "count(walls)*loads": "speaker",
		"loads when measured is given, else 2 ohm": "speaker", "x when finish is hard, else y": "wall",
	} {
		f, faults := Check(mustBody(t, source), s)
		if faults.Len() > 0 {
			t.Error(faults)
			continue
		}
		if f.Type().Group != want {
			t.Errorf("%q is one for each %q, want %q", source, f.Type().Group, want)
		}
	}
}

// TestBrokenIsSilent passes over what was told before.
func TestBrokenIsSilent(t *testing.T) {
	s := trialScope(t)
	s.Values["bad"] = Symbol{Type: Broken}
	s.Functions["worse"] = &Function{Name: "worse", Params: []string{"n"}, Broken: true}
	for _, source := range []string{
		"bad + run", "bad*2", "bad^2", "run^bad", "-bad", "sqrt(bad)", "sin(bad)", "abs(bad)", "max(bad, run)", "sum(bad)",
		"worse(run)", "double(bad)", "share(bad, metal)", "bad when x > 2, else run", "run when bad > 2, else run",
		"run when bad is copper, else run", "run when bad is given, else run", "tally(bad > 2)", "(bad)", "count(bad)", "min(bad)",
		"run when not bad > 2 and x > 2 or x < 1, else run",
	} {
		f, faults := Check(mustBody(t, source), s)
		if faults.Len() > 0 || f == nil {
			t.Errorf("%q: %v", source, faults)
		}
	}
	for _, source := range []string{"bad is 9 m", "bad > 9 m"} {
		if f, faults := Check(mustCond(t, source), s); faults.Len() > 0 || !f.Type().Broken {
			t.Errorf("%q: %v", source, faults)
		}
	}
	// the other side is still looked at
	for _, source := range []string{"bad + metal", "bad*level", "bad + log10(run)"} {
		if _, faults := Check(mustBody(t, source), s); faults.Len() != 1 {
			t.Errorf("%q: %d faults, want one: %v", source, faults.Len(), faults)
		}
	}
}

func TestUsesAndNodes(t *testing.T) {
	f := sound1(t, mustBody(t, "double(run) + cut(x)*1 m + pi*1 m + run"))
	if got := strings.Join(f.Uses(), " "); got != "metal run x" {
		t.Errorf("uses %q", got)
	}
	if plain := sound1(t, mustBody(t, "2*x")); plain.Nodes() != 3 {
		t.Errorf("2*x has %d pieces", plain.Nodes())
	}
	if f.Nodes() < 20 {
		t.Errorf("%d pieces with the functions written out", f.Nodes())
	}
	if f.Node() == nil || f.Place().String() != "double(run) + cut(x)*1 m + pi*1 m + run" {
		t.Errorf("place %q", f.Place())
	}
}

// TestWrittenOut holds the limit of pieces with own functions written out,
// which grow with each layer.
func TestWrittenOut(t *testing.T) {
	s := trialScope(t)
	last := "n"
	for _, name := range []string{"f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "f9", "f10", "f11", "f12"} {
		call := func(arg string) string {
			if last == "n" {
				return arg
			}
			return last + "(" + arg + ")"
		}
		body := mustBody(t, call("n")+" + "+call("n")+" + 1")
		s.Functions[name] = &Function{Name: name, Params: []string{"n"}, Body: body}
		last = name
	}
	if _, faults := Check(mustBody(t, "f3(x)"), s); faults.Len() > 0 {
		t.Error(faults)
	}
	_, faults := Check(mustBody(t, "f12(x)"), s)
	if faults.Len() != 1 || !strings.Contains(faults.String(), "too many pieces with its own functions written out") {
		t.Errorf("got %v", faults)
	}
}

func TestCheckAs(t *testing.T) {
	s := trialScope(t)
	length, metal := Of(unit.Must("mm").Kind()), Choice("copper", "clad", "aluminium")
	f, faults := CheckAs(mustBody(t, "2*run"), s, length)
	if faults.Len() > 0 || f.Type().Kind != length.Kind {
		t.Error(faults)
	}
	_, faults = CheckAs(mustBody(t, "load"), s, length)
	if !strings.Contains(faults.String(), `"load" is a resistance, and a length is wanted`) {
		t.Error(faults)
	}
	_, faults = CheckAs(mustBody(t, "load"), s, metal)
	if !strings.Contains(faults.String(), `a choice of copper, clad or aluminium is wanted`) {
		t.Error(faults)
	}
	f, faults = CheckAs(mustBody(t, "aluminium"), s, metal)
	if faults.Len() > 0 || f.Eval(trialEnv(t)).Word != "aluminium" || !slices.Equal(f.Type().Words, metal.Words) {
		t.Errorf("a word of a choice: %v %v", f, faults)
	}
	_, faults = CheckAs(mustBody(t, "alumnium"), s, metal)
	if !strings.Contains(faults.String(), "try: aluminium") {
		t.Error(faults)
	}
	if f, faults = CheckAs(mustBody(t, "metal"), s, metal); faults.Len() > 0 || f.Eval(trialEnv(t)).Word != "copper" {
		t.Errorf("a choice: %v", faults)
	}
	if _, faults = CheckAs(mustBody(t, `unknown "why"`), s, length); faults.Len() > 0 {
		t.Error(faults)
	}
	if _, faults = CheckAs(mustCond(t, "x > 2"), s, length); faults.Len() == 0 {
		t.Error("a condition passes for a length")
	}
	if _, faults = Check(&Word{Text: "copper"}, s); faults.Len() == 0 {
		t.Error("a word alone passes")
	}
	if f, faults = Check(mustBody(t, "2*3"), nil); faults.Len() > 0 || f.Eval(nil).Number != 6 {
		t.Errorf("no scope: %v", faults)
	}
}

// TestManyValues counts in words what a function with many values takes.
func TestManyValues(t *testing.T) {
	s := trialScope(t)
	s.Functions["f"] = &Function{Name: "f", Params: strings.Fields("n o p q u v w"), Body: mustBody(t, "n")}
	_, faults := Check(mustBody(t, "f(1, 2, 3, 4, 5, 6)"), s)
	if !strings.Contains(faults.String(), "f takes many values, and six stand") {
		t.Error(faults)
	}
}

func TestReservedName(t *testing.T) {
	for name, want := range map[string]string{
		"run": "", "one_watt": "", "R2": "", "länge": "",
		"m": "it is a unit", "ohm": "it is a unit", "kHz": "it is a unit", "in": "it is a unit",
		"when": "it is a word of the language", "pi": "it is a word of the language", "at": "it is a word of the language",
		"sqrt": "it is a built-in function", "tally": "it is a built-in function",
		"limit": "it heads a line of a block", "claim": "it heads a line of a block", "most": "it is a word of the language",
		"within": "it is a key of a case", "reference": "it is a key of a case",
		"": "a name is a letter, then letters, digits and _", "2run": "a name is a letter, then letters, digits and _",
		"a-b": "a name is a letter, then letters, digits and _", "_x": "a name is a letter, then letters, digits and _",
	} {
		if got := ReservedName(name); got != want {
			t.Errorf("%q: got %q, want %q", name, got, want)
		}
	}
}

func TestTypes(t *testing.T) {
	length := Of(unit.Must("m").Kind())
	for _, c := range []struct {
		a, b Type
		fits bool
	}{
		{length, length, true}, {length, Type{}, false}, {Broken, length, true}, {length, Type{Any: true}, true},
		{Choice("a"), Choice("b", "a"), true}, {Choice("a", "c"), Choice("a"), false}, {Choice("a"), length, false},
		{Type{Truth: true}, Type{Truth: true}, true}, {Type{Truth: true}, length, false}, {length.In("g"), length, true},
	} {
		if got := c.a.Fits(c.b); got != c.fits {
			t.Errorf("%v into %v: %v", c.a, c.b, got)
		}
	}
	if got := (Type{Truth: true}).String(); got != "a condition" {
		t.Error(got)
	}
	if got := Choice("solid").String(); got != "a choice of solid" {
		t.Error(got)
	}
	for v, want := range map[State]string{Known: "known", None: "none", Unknown: "cannot tell", Failed: "failed"} {
		if v.String() != want {
			t.Errorf("%d is %q", v, v)
		}
	}
}

// TestMadeTrees checks trees that were not read from a text.
func TestMadeTrees(t *testing.T) {
	metre := &Number{Text: "2", Unit: unit.Must("m"), Value: 2}
	made := &Binary{Op: Add, Left: metre, Right: &Name{Text: "load"}}
	_, faults := Check(made, trialScope(t))
	if got := faults.String(); got != "stop: \"load\" is a resistance, and \"2 m\" is a length\n  wanted: a length on both sides, such as 9 m" {
		t.Errorf("got %q", got)
	}
	_, faults = Check(&Call{Function: "zzz"}, trialScope(t))
	if got := faults.String(); !strings.HasPrefix(got, "stop: \"zzz\" is not a function") {
		t.Errorf("got %q", got)
	}
	_, faults = Check(&Call{Function: "tally", Args: []Node{metre}}, trialScope(t))
	if got := faults.String(); !strings.Contains(got, `tally counts conditions, and "2 m" is none`) {
		t.Errorf("got %q", got)
	}
	_, faults = Check(&Negate{Operand: &Given{Name: &Name{Text: "factor"}}}, trialScope(t))
	if got := faults.String(); !strings.Contains(got, `"factor is given" is a condition, and no number`) {
		t.Errorf("got %q", got)
	}
	few := &Scope{Values: map[string]Symbol{"run": {}, "load": {}}}
	_, faults = Check(&Name{Text: "zzzzzz"}, few)
	if got := faults.String(); !strings.Contains(got, "wanted: one of: load, run") {
		t.Errorf("got %q", got)
	}
	_, faults = Check(&Name{Text: "q"}, &Scope{})
	if got := faults.String(); strings.Contains(got, "wanted") {
		t.Errorf("got %q", got)
	}
	defer func() {
		if recover() == nil {
			t.Error("a node of no kind passes")
		}
	}()
	Check(struct{ At }{}, few)
}

func TestWalk(t *testing.T) {
	n := mustBody(t, "a*f(b) when c is given and not d is e, g(u) when k > 2, else sqrt(-(a))")
	if got := strings.Join(Names(n), " "); got != "a b c d u k a" {
		t.Errorf("names %q", got)
	}
	if got := strings.Join(Calls(n), " "); got != "f g sqrt" {
		t.Errorf("calls %q", got)
	}
}

// TestFunctionTable holds the table of built-in functions to itself.
func TestFunctionTable(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range functions {
		if seen[f.name] || f.value == nil || f.least < 1 || f.most != 0 && f.most < f.least || f.conditions != (f.rule == tallyRule) {
			t.Errorf("the row of %q is ill made", f.name)
		}
		seen[f.name] = true
		if ReservedName(f.name) == "" {
			t.Errorf("%q may name a value", f.name)
		}
	}
	if len(seen) != 21 {
		t.Errorf("%d built-in functions", len(seen))
	}
}
