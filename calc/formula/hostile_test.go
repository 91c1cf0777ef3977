package formula

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// everyParse reads a text in all three ways and returns the faults of each.
func everyParse(p fault.Place) []*fault.List {
	_, step := ParseStep(p)
	_, body := ParseBody(p)
	_, cond := ParseCond(p)
	return []*fault.List{step, body, cond}
}

// TestHostile gives the parser texts that are made to break it. Each ends in a
// fault that is short, well within a second.
func TestHostile(t *testing.T) {
	noise := make([]byte, 10_000_000)
	r := rand.New(rand.NewPCG(7, 8))
	for i := range noise {
		noise[i] = byte(r.UintN(256))
	}
	for name, source := range map[string]string{
		"500 KB of brackets":        strings.Repeat("(", 500_000),
		"500 KB of square brackets": strings.Repeat("[", 500_000),
		"a number of a million":     strings.Repeat("9", 1_000_000),
		"ten million random bytes":  string(noise),
		"4,000 minus signs":         strings.Repeat("-", 4000),
		"4,000 brackets":            strings.Repeat("(", 4000),
		"4,000 closing brackets":    strings.Repeat(")", 4000),
		"not not not":               strings.Repeat("not ", 1000) + "x is given",
		"powers":                    strings.Repeat("2^", 2000) + "2",
		"calls":                     strings.Repeat("sqrt(", 800),
		"commas":                    strings.Repeat(",", 4000),
		"cases":                     strings.Repeat("1 when x = 1, ", 280),
		"quotes":                    strings.Repeat(`"`, 4001),
		"many pieces":               "1" + strings.Repeat("+1", 2040),
		"many conditions":           "x=1" + strings.Repeat(" or x=1", 580) + " or",
		"names":                     strings.Repeat("x ", 2000),
		"a number of 4,000 digits":  strings.Repeat("9", 4000),
		"no text at all":            "",
		"blanks":                    strings.Repeat(" ", 5000),
		"line breaks":               strings.Repeat("\n", 4000) + "+",
		"signs":                     strings.Repeat("+", 4000),
		"not characters":            strings.Repeat("\xff", 4000),
		"nothing but nulls":         strings.Repeat("\x00", 4000),
		"units":                     "1 " + strings.Repeat("m ", 2000),
	} {
		t.Run(name, func(t *testing.T) {
			p := fault.NewText("hostile", source).All()
			start := time.Now()
			for _, faults := range everyParse(p) {
				if !faults.Stopped() {
					t.Error("it passes")
				}
				if faults.Len() > mostTold {
					t.Errorf("%d faults", faults.Len())
				}
				for _, f := range faults.All() {
					if n := len(f.Message) + len(f.Wanted) + len(f.Try); n > 600 {
						t.Errorf("a fault of %d bytes", n)
					}
					if f.Place.End > len(p.Text.Source()) {
						t.Errorf("a place at %d of %d", f.Place.End, len(source))
					}
				}
			}
			if took := time.Since(start); took > 2*time.Second {
				t.Errorf("it took %v", took)
			}
		})
	}
}

// work counts what the parser does with a text: allocations stand for steps,
// which no clock of a busy machine can blur.
func work(source string) float64 {
	p := fault.NewText("work", source).All()
	return testing.AllocsPerRun(5, func() { everyParse(p) })
}

// TestGrowth compares the work for a text with that for one twice as long: it
// may double, and not more.
func TestGrowth(t *testing.T) {
	for name, make := range map[string]func(n int) string{
		"sum":        func(n int) string { return "1" + strings.Repeat("+x", n) },
		"product":    func(n int) string { return "1" + strings.Repeat("*x", n) },
		"conditions": func(n int) string { return "x=1" + strings.Repeat(" or x=1", n/2) },
		"cases":      func(n int) string { return strings.Repeat("1 when x = 1, ", n/4) + "else 2" },
		"arguments":  func(n int) string { return "max(1" + strings.Repeat(",x", n) + ")" },
		"brackets":   func(n int) string { return strings.Repeat("(", n/10) + "1" + strings.Repeat(")", n/10) },
	} {
		t.Run(name, func(t *testing.T) {
			once, twice := work(make(200)), work(make(400))
			if twice > 2.3*once+50 {
				t.Errorf("%.0f steps for one length, %.0f for twice that", once, twice)
			}
		})
	}
	if beyond := work(strings.Repeat("(", 5_000_000)); beyond > 100 {
		t.Errorf("a text beyond the limit takes %.0f steps", beyond)
	}
}

// TestLimits holds the limits to their very edge.
func TestLimits(t *testing.T) {
	for name, c := range map[string]struct {
		source string
		told   string
	}{
		"depth 64":      {strings.Repeat("(", 64) + "1" + strings.Repeat(")", 64), ""},
		"depth 65":      {strings.Repeat("(", 65) + "1" + strings.Repeat(")", 65), "nested too deep"},
		"64 signs":      {strings.Repeat("-", 64) + "1", ""},
		"65 signs":      {strings.Repeat("-", 65) + "1", "nested too deep"},
		"4096 bytes":    {"x" + strings.Repeat("y", 4095), ""},
		"4097 bytes":    {"x" + strings.Repeat("y", 4096), "is too long to be read"},
		"1999 pieces":   {"1" + strings.Repeat("+1", 999), ""},
		"2001 pieces":   {"1" + strings.Repeat("+1", 1000), "too many pieces"},
		"mixed nesting": {strings.Repeat("-(sqrt(", 22) + "1" + strings.Repeat("))", 22), "nested too deep"},
	} {
		t.Run(name, func(t *testing.T) {
			_, faults := ParseBody(placed(c.source))
			if got := faults.String(); (c.told == "") != (got == "") || !strings.Contains(got, c.told) {
				t.Errorf("got %q", clip(got))
			}
		})
	}
}

// seeds are the texts of all cases.
func seeds(add func(string)) {
	files, _ := filepath.Glob("../../testdata/formula/*/*")
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			continue
		}
		for line := range strings.Lines(string(source)) {
			word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
			switch word {
			case "step", "body", "cond", "need", "verdict", "when", "rule", "caution":
				add(rest)
			}
		}
	}
}

// FuzzFormula reads, checks, prints and works any text: nothing panics, every
// fault lies in the text, and what is read reads back.
func FuzzFormula(f *testing.F) {
	seeds(func(s string) { f.Add(s) })
	f.Fuzz(func(t *testing.T, source string) {
		p := fault.NewText("fuzz", source).All()
		step, faults := ParseStep(p)
		holdFaults(t, p, faults)
		if step != nil && step.Body != nil && faults.Len() == 0 {
			again, more := ParseStep(placed(step.String()))
			if more.Len() > 0 || again.String() != step.String() {
				t.Fatalf("%q does not read back: %v", step, more)
			}
		}
		s, e := fuzzScope, fuzzEnv
		for _, read := range []func(fault.Place) (Node, *fault.List){ParseBody, ParseCond} {
			n, faults := read(p)
			holdFaults(t, p, faults)
			if n == nil {
				continue
			}
			again, more := read(placed(Text(n)))
			if more.Len() > 0 && len(Text(n)) <= mostBytes || more.Len() == 0 && !alikeTrees(n, again) {
				t.Fatalf("%q does not read back from %q: %v", source, Text(n), more)
			}
			c, faults := Check(n, s)
			holdFaults(t, p, faults)
			if c != nil {
				holdValue(t, c, e)
			}
		}
	})
}

var (
	fuzzScope = &Scope{Values: map[string]Symbol{
		"x": {}, "run": {Missing: true}, "load": {}, "metal": {Type: Choice("copper", "clad")}, "loads": {Type: Type{Group: "g"}},
	}}
	fuzzEnv = trial{values: map[string]Value{
		"x": Quantity(2), "load": Quantity(8), "metal": WordOf("copper"), "loads": ListOf(Quantity(1), Quantity(2)),
	}}
)

func holdFaults(t *testing.T, p fault.Place, faults *fault.List) {
	t.Helper()
	for _, f := range faults.All() {
		if f.Place.Text != p.Text || f.Place.Start < 0 || f.Place.Start > f.Place.End || f.Place.End > len(p.Text.Source()) {
			t.Fatalf("%q lies outside the text, at %d to %d", f.Message, f.Place.Start, f.Place.End)
		}
		if !utf8.ValidString(f.Message) && utf8.ValidString(p.String()) {
			t.Fatalf("%q cuts a character", f.Message)
		}
		if bytes.ContainsAny([]byte(f.Message), "\n") {
			t.Fatalf("%q holds a line break", f.Message)
		}
	}
}

func holdValue(t *testing.T, f *Formula, e Env) {
	t.Helper()
	if f.Type().Truth {
		f.Answer(e)
		return
	}
	for _, v := range append(f.Eval(e).List, f.Eval(e)) {
		if v.State == Known && unworkable(v.Number) || v.State == Failed && v.Fault == nil || (v.State == Unknown || v.State == None) && v.Why == "" {
			t.Fatalf("%q comes to %+v", Text(f.Node()), v)
		}
	}
}
