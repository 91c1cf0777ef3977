package method_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/unit"
)

// halver is a method written in Go, behind the same interface as the files.
type halver struct{}

func (halver) Sheet() *method.Sheet {
	return &method.Sheet{
		Name: "halver", Asks: "What is half of it?", Uncased: "made up",
		Takes: []*method.Input{{Name: "way", Unit: unit.Must("m"), From: &method.Bound{Value: 1, Text: "1 m"}, To: &method.Bound{Value: 9, Text: "9 m"}}},
		Gives: []*method.Result{{Name: "half", Of: "half", Unit: unit.Must("m"), Format: unit.Format{Unit: unit.Must("m"), Places: 1}}},
	}
}

func (halver) Run(v method.Values, _ ...string) *method.Outcome {
	half := formula.CannotTell("way is not known")
	if p, ok := v["way"]; ok {
		half = formula.Quantity(p.Value.Number / 2)
	}
	return &method.Outcome{Results: method.Results{{Name: "half", Value: half}}}
}

func (halver) Work(method.Values, ...string) [][]method.Worked { return nil }

// load reads method files on top of the shipped set.
func load(t *testing.T, files ...string) *method.Library {
	t.Helper()
	s := method.Sources{Go: []method.Method{halver{}}}
	for _, f := range files {
		name, _, _ := strings.Cut(strings.TrimPrefix(f, "method: "), "\n")
		s.Methods = append(s.Methods, fault.NewText(name+".yaml", f))
	}
	l, faults := method.Load(s, trade.Library())
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return l
}

func value(t *testing.T, s *method.Sheet, name, text string) method.Point {
	t.Helper()
	p, faults := s.Input(name).Read(fault.NewText(name, text).All())
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return p
}

func TestAFileBorrowsFromGo(t *testing.T) {
	l := load(t, `method: quarter
asks: What is a quarter of it?
takes:
  way: {unit: m, from: 1, to: 30}
working:
  - part = half of halver
  - again = half of halver with way = part
gives:
  again: {unit: m, places: 2, round: either}
no outside case: made up
`)
	m, _ := l.Method("quarter")
	o := m.Run(method.Values{"way": value(t, m.Sheet(), "way", "6 m")})
	if got := m.Sheet().Result("again").Text(o.Results.Of("again")); got != "1.50 m" {
		t.Errorf("a quarter of 6 m is %s", got)
	}
	if _, ok := l.Method("speaker-wire"); !ok {
		t.Error("the set below is gone")
	}
	if base := trade.Library(); l.Hash() == base.Hash() {
		t.Error("a larger library has the hash of the smaller one")
	}
}

// A value that a borrower hands over must lie within what the borrowed method
// covers.
func TestHandedOverOutOfBounds(t *testing.T) {
	l := load(t, `method: far
asks: How far?
takes:
  way: {unit: m, from: 1, to: 900}
working:
  - wire = 1 ohm/m*way   [circuit-theory]
  - left = left of damping with wire = wire
gives:
  left: {unit: number, figures: 2, round: down}
no outside case: made up
`)
	m, _ := l.Method("far")
	s := m.Sheet()
	v := method.Values{"way": value(t, s, "way", "800 m"), "load": value(t, s, "load", "8 ohm"), "factor": value(t, s, "factor", "100")}
	o := m.Run(v)
	if !o.Faults.Stopped() || !strings.Contains(o.Faults.String(), "wire is 800 ohm, more than this method covers") {
		t.Errorf("the fault is %q", o.Faults)
	}
	if o = m.Run(v.With("way", value(t, s, "way", "2 m"))); o.Faults.Len() > 0 || o.Results.Of("left").State != formula.Known {
		t.Errorf("within bounds: %v %v", o.Results.Of("left"), o.Faults)
	}
	if o = m.Run(v); !o.Faults.Stopped() {
		t.Errorf("out of bounds once more, by the way of a point within them, it is %v", o.Results.Of("left"))
	}
}

// The printed steps of a worked line give the printed result.
func TestWorkedLine(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	s := m.Sheet()
	v := method.Values{}
	for name, text := range map[string]string{"gauge": "16 AWG", "run": "9 m", "load": "8 ohm"} {
		v[name] = value(t, s, name, text)
	}
	steps := m.Work(v, "loss")[0]
	last := steps[len(steps)-1]
	if want := s.Result("loss").Text(m.Run(v).Results.Of("loss")); last.Text != want {
		t.Errorf("the line ends in %s, and the table prints %s", last.Text, want)
	}
	if got := formula.TextWith(last.Rule, last.Given); got != "20 dB*log10((8 ohm + 0.2371 ohm)/8 ohm)" {
		t.Errorf("the last step reads %s", got)
	}
	// By a pocket calculator, rounded up as the method says:
	if by := math.Ceil(20*math.Log10((8+0.2371)/8)*100) / 100; by != 0.26 {
		t.Errorf("by hand it comes to %v", by)
	}
	if got := m.Work(v, "damping")[0]; got != nil && got[len(got)-1].Value.State != formula.Unknown {
		t.Errorf("a result that cannot be told is worked: %v", got)
	}
	names := func() (all []string) {
		for _, w := range steps {
			all = append(all, w.Method+" "+w.Name)
		}
		return all
	}()
	if slices.Contains(names, "iec-size each") {
		t.Error("a step that nothing rests on is worked")
	}
}

// A constant, a symbol, a choice and a case of several are put in as printed.
func TestWorkedPieces(t *testing.T) {
	l := load(t, `method: pieces
asks: What goes in?
takes:
  run: {unit: m, from: 1, to: 30, symbol: l_r}
  kind: {choice: [long, short]}
  ways: {unit: m, each: way, from: 1, to: 9}
constants:
  stretch: 1.5 [circuit-theory]
working:
  - all = sum(ways)                                          [circuit-theory]
  - far = run*stretch when kind is long, else run + all      [circuit-theory]
gives:
  far: {unit: m, places: 1, round: either, symbol: F}
no outside case: made up
`)
	m, _ := l.Method("pieces")
	s := m.Sheet()
	v := method.Values{"run": value(t, s, "run", "3 m"), "kind": value(t, s, "kind", "long"), "ways": value(t, s, "ways", "1 and 2 m")}
	w := m.Work(v, "far")[0]
	if got := formula.TextWith(w[len(w)-1].Rule, w[len(w)-1].Given); got != "3 m*1.5" || len(w) != 1 {
		t.Errorf("%d steps, the last %s", len(w), got)
	}
	if w[0].Symbol("run") != "l_r" || w[0].Symbol("far") != "F" || w[0].Symbol("stretch") != "" {
		t.Error("the symbols are lost")
	}
	w = m.Work(v.With("kind", value(t, s, "kind", "short")), "far")[0]
	if got := formula.TextWith(w[len(w)-1].Rule, w[len(w)-1].Given); got != "3 m + 3 m" || len(w) != 2 {
		t.Errorf("%d steps, the last %s", len(w), got)
	}
	if got := s.Sample(); got != `pieces run="9 m" kind="long" ways="9 m"` {
		t.Errorf("a sample of it is %s", got)
	}
}

// Sweeps are read in every form, with the unit of the last value for bare ones.
func TestReadSweep(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	s := m.Sheet()
	for _, c := range []struct{ name, typed, want string }{
		{"gauge", "12, 14, 16AWG", "12 AWG | 14 AWG | 16 AWG"},
		{"gauge", "12 AWG to 16 AWG by 2", "12 AWG | 14 AWG | 16 AWG"},
		{"gauge", "12 to 16 AWG by 2 AWG", "12 AWG | 14 AWG | 16 AWG"},
		{"run", "3 m to 4 m by 50 cm", "3 m | 3.5 m | 4 m"},
		{"run", "10 to 30 ft by 10", "10 ft | 20 ft | 30 ft"},
		{"run", "0.1 m to 0.3 m by 0.1 m", "0.1 m | 0.2 m | 0.3 m"},
		{"run", "3 m to 8 m by 2 m", "3 m | 5 m | 7 m"},
		{"run", "5 ft 6 in", "5.5 ft"},
		{"temperature", "10 °C to 20 °C by 5 °C", "10 °C | 15 °C | 20 °C"},
		{"temperature", "10 °C to 20 °C by 5 K", "10 °C | 15 °C | 20 °C"},
		{"metal", "copper, clad", "copper | copper-clad aluminium"},
		{"metal", "don't know", "don't know"},
		{"load", "4, don't know, 8 ohm", "4 ohm | don't know | 8 ohm"},
		{"factor", "20, 200", "20 | 200"},
	} {
		points, faults := s.Input(c.name).ReadSweep(fault.NewText("typed", c.typed).All())
		var texts []string
		for _, p := range points {
			texts = append(texts, p.Text)
		}
		if got := strings.Join(texts, " | "); got != c.want || faults.Stopped() {
			t.Errorf("%s: %s reads as %s\n%v", c.name, c.typed, got, faults)
		}
	}
}

// What cannot be read as a sweep is refused at its place, with a mend.
func TestSweepRefused(t *testing.T) {
	m, _ := trade.Library().Method("speaker-wire")
	s := m.Sheet()
	for _, c := range []struct {
		name, typed, message string
		column               int
	}{
		{"gauge", "12.5 AWG", "no whole number", 1},
		{"size", "2 mm2", "not in the list", 1},
		{"run", "", "has no value", 1},
		{"run", "3 m to 9 m by 0 m", "goes nowhere", 15},
		{"run", "3 m to 9 m by 2 ohm", "is a resistance", 17},
		{"run", "1 m to 149 m by 1 cm", "values", 1},
		{"metal", "coper", `cannot be "coper"`, 1},
		{"gauge", "12, 14, x AWG", "", 9},
	} {
		points, faults := s.Input(c.name).ReadSweep(fault.NewText("typed", c.typed).All())
		if len(points) > 0 || !faults.Stopped() {
			t.Errorf("%s: %s was read", c.name, c.typed)
			continue
		}
		all := faults.All()
		if _, column := all[0].Place.Text.Position(all[0].Place.Start); !strings.Contains(all[0].Message, c.message) || column != c.column {
			t.Errorf("%s: %s is refused in column %d: %v", c.name, c.typed, column, all[0])
		}
	}
	if _, faults := s.Input("gauge").Read(fault.NewText("typed", "12, 14 AWG").All()); !faults.Stopped() {
		t.Error("two values were taken for one")
	}
}

func TestWorse(t *testing.T) {
	order := []string{method.Fits, method.Doubtful, method.AskFirst, method.CannotTell, method.DoNotConnect}
	for i, a := range order {
		for j, b := range order {
			if method.Worse(a, b) != (i > j) {
				t.Errorf("Worse(%s, %s) is %v", a, b, i <= j)
			}
		}
	}
}

// FuzzLoad sees that no method file, however written, brings the reader down,
// and that every fault has a place in it.
func FuzzLoad(f *testing.F) {
	for _, seed := range []string{
		"method: a\nasks: x\ntakes:\n  run: {unit: m, from: 1, to: 2}\nworking:\n  - x = 2*run [circuit-theory]\ngives:\n  x: {unit: m, places: 1, round: up}\nno outside case: y\n",
		"method: a\ntables:\n  t: {keys: [a], columns: {b: m}, rows: [[1, 2]]}\n", "method: a\nverdicts:\n  v: [else fits \"x\"]\n",
		"method: [a]\n", "a: {b: [c, {d: e}]}", "cases:\n  - {x: 1}\n", "needs:\n  - a is b, else \"c\"\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, source string) {
		text := fault.NewText("a.yaml", source)
		_, faults := method.Load(method.Sources{Methods: []*fault.Text{text}}, trade.Library())
		for _, x := range faults.All() {
			if x.Place.Text == text && (x.Place.Start < 0 || x.Place.End > len(text.Source()) || x.Place.Start > x.Place.End) {
				t.Errorf("a fault outside its text: %v", x)
			}
		}
	})
}

// The cases of an author's own method are worked when it is read.
func TestOwnCasesAreWorked(t *testing.T) {
	file := `method: mine
asks: What is twice of it?
takes:
  run: {unit: m, from: 1, to: 30}
working:
  - twice = 2*run   [circuit-theory]
gives:
  twice: {unit: m, places: 1, round: up}
cases:
  - {run: 9 m, twice: 18 m, within: 1 %, reference: arithmetic}
  - {run: 9 m, twice: 28 m, within: 1 %, reference: arithmetic}
`
	_, faults := method.Load(method.Sources{Methods: []*fault.Text{fault.NewText("mine.yaml", file)}}, trade.Library())
	if s := faults.String(); faults.Len() != 1 || !strings.Contains(s, "mine.yaml:11:23: stop: the case says 28 m, and the working comes to 18.0 m") {
		t.Errorf("got %q", s)
	}
}
