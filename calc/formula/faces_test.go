package formula

import (
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// faceCase is one file of testdata/formula/faces: a formula, and how it is to
// be written.
type faceCase struct {
	archive *txtar.Archive
	scope   *Scope
	formula *Formula
}

func (c *faceCase) part(name string) string {
	for _, f := range c.archive.Files {
		if f.Name == name {
			return strings.TrimSpace(string(f.Data))
		}
	}
	return ""
}

func (c *faceCase) set(name, text string) {
	for i := range c.archive.Files {
		if c.archive.Files[i].Name == name {
			c.archive.Files[i].Data = []byte(text + "\n")
			return
		}
	}
	c.archive.Files = append(c.archive.Files, txtar.File{Name: name, Data: []byte(text + "\n")})
}

// pairs are the lines of a part, each cut at its colon.
func (c *faceCase) pairs(name string) map[string]string {
	pairs := map[string]string{}
	for line := range strings.Lines(c.part(name)) {
		key, value, _ := strings.Cut(line, ":")
		pairs[key] = strings.TrimSpace(value)
	}
	return pairs
}

func readFace(t *testing.T, path string) *faceCase {
	t.Helper()
	archive, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := &faceCase{archive: archive, scope: &Scope{Values: map[string]Symbol{}, Functions: map[string]*Function{}}}
	l := &library{t: t}
	for name, spec := range c.pairs("values") {
		s := &sound{}
		l.takes(s, name+": "+spec)
		c.scope.Values[name] = Symbol{Type: s.takes[0].typ, Missing: s.takes[0].missing}
	}
	if c.part("table") != "" {
		c.table(t)
	}
	var n Node
	if cond := c.part("condition"); cond != "" {
		node, faults := ParseCond(fault.NewText(path, cond).All())
		if node == nil {
			t.Fatal(faults)
		}
		n = node
	}
	for line := range strings.Lines(c.part("formula")) {
		step, faults := ParseStep(fault.NewText(path, line).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		n = step.Body
		if step.Params != nil {
			c.scope.Functions[step.Name.Text] = &Function{Name: step.Name.Text, Params: texts(step.Params), Body: step.Body}
		}
	}
	f, faults := Check(n, c.scope)
	if f == nil {
		t.Fatal(faults)
	}
	c.formula = f
	return c
}

// table reads a table of one column: "limit: ohm/km by size mm2, class c2 c5",
// then its rows.
func (c *faceCase) table(t *testing.T) {
	t.Helper()
	lines := strings.Split(c.part("table"), "\n")
	name, rest, _ := strings.Cut(lines[0], ": ")
	of, by, _ := strings.Cut(rest, " by ")
	l := &library{t: t}
	col := &Column{Table: name + "s", Name: name, Unit: l.unit(of)}
	for _, key := range strings.Split(by, ", ") {
		words := strings.Fields(key)
		col.KeyNames = append(col.KeyNames, words[0])
		if len(words) > 2 {
			col.Keys = append(col.Keys, Choice(words[1:]...))
		} else {
			col.Keys = append(col.Keys, Of(l.unit(words[1]).Kind()))
		}
	}
	for _, line := range lines[1:] {
		cells, value, _ := strings.Cut(line, ": ")
		row := Row{Empty: value == "-"}
		for i, cell := range strings.Split(cells, ", ") {
			k := Key{Text: cell, Word: cell}
			if col.Keys[i].Words == nil {
				k = Key{Text: cell, Number: quantity(t, cell, col.Keys[i].Kind)}
			}
			row.Keys = append(row.Keys, k)
		}
		if !row.Empty {
			row.Value = quantity(t, value, col.Unit.Kind())
		}
		col.Rows = append(col.Rows, row)
	}
	c.scope.Functions[name] = &Function{Name: name, Column: col}
}

// options are the symbols of a case and, if asked for, the texts put in.
func (c *faceCase) options(put bool) MathOptions {
	symbols, puts := c.pairs("symbols"), c.pairs("puts")
	o := MathOptions{Symbol: func(name string) string { return symbols[name] }}
	if put {
		o.Number = func(name string) (string, bool) { text, ok := puts[name]; return text, ok }
	}
	return o
}

var (
	leaf = regexp.MustCompile(`<(mi|mn|mo|mtext)( [^>]*)?>[^<]*</(mi|mn|mo|mtext)>`)
	tag  = regexp.MustCompile(leaf.String() + `|</?[^>]*>`)
)

// pretty sets each element of MathML on a line of its own.
func pretty(mathml string) string {
	var b strings.Builder
	depth := 0
	for _, piece := range tag.FindAllString(mathml, -1) {
		if strings.HasPrefix(piece, "</") {
			depth--
		}
		b.WriteString(strings.Repeat(" ", depth) + piece + "\n")
		if !leaf.MatchString(piece) && !strings.HasPrefix(piece, "</") {
			depth++
		}
	}
	return strings.TrimSpace(b.String())
}

// TestFaces holds how formulas are written: text, MathML with names and with
// numbers, and script. `go test ./calc/formula -run TestFaces -update` writes
// what comes out; read every line of the difference before keeping it.
func TestFaces(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/formula/faces/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no faces: %v", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			c := readFace(t, path)
			got := map[string]string{
				"text":   Text(c.formula.Node()),
				"mathml": pretty(c.formula.MathML(c.options(false))),
				"script": c.formula.Script(),
			}
			order := []string{"text", "mathml", "script"}
			if c.part("puts") != "" {
				got["mathml with numbers"] = pretty(c.formula.MathML(c.options(true)))
				order = []string{"text", "mathml", "mathml with numbers", "script"}
			}
			for _, name := range order {
				if *update {
					c.set(name, got[name])
				} else if want := c.part(name); got[name] != want {
					t.Errorf("%s:\n%s\nwant:\n%s", name, got[name], want)
				}
			}
			if *update {
				if err := os.WriteFile(path, txtar.Format(c.archive), 0o666); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// children are how many elements an element of MathML holds; -1 for any.
var children = map[string]int{
	"math": 1, "mrow": -1, "mi": 0, "mn": 0, "mo": 0, "mtext": 0, "mfrac": 2, "msup": 2, "msub": 2,
	"msqrt": 1, "mtable": -1, "mtr": 2, "mtd": 1,
}

// attributes are all that an element may bear.
var attributes = map[string][]string{"math": {"class", "display", "aria-label"}, "mtable": {"class"}, "mo": {"fence"}}

// checkMathML sees that MathML is well formed and holds the elements and
// attributes that it may, each with the children that it must have.
func checkMathML(t *testing.T, mathml string) {
	t.Helper()
	type open struct {
		name string
		held int
	}
	stack := []open{{}}
	d := xml.NewDecoder(strings.NewReader(mathml))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v\n%s", err, mathml)
		}
		switch x := token.(type) {
		case xml.StartElement:
			name := x.Name.Local
			if _, ok := children[name]; !ok {
				t.Fatalf("%s is no element to be used\n%s", name, mathml)
			}
			for _, a := range x.Attr {
				if !slices.Contains(attributes[name], a.Name.Local) {
					t.Fatalf("%s bears %s\n%s", name, a.Name.Local, mathml)
				}
			}
			stack[len(stack)-1].held++
			stack = append(stack, open{name: name})
		case xml.EndElement:
			top := stack[len(stack)-1]
			if want := children[top.name]; want >= 0 && top.held != want {
				t.Fatalf("%s holds %d elements, and must hold %d\n%s", top.name, top.held, want, mathml)
			}
			stack = stack[:len(stack)-1]
		}
	}
}

// TestMathMLIsWhole checks the MathML of every formula of the trade, and of
// formulas that nobody would write, with names and with odd texts put in.
func TestMathMLIsWhole(t *testing.T) {
	texts := []string{"9 m", "−20 °C", "-3", "33 1/3 rpm", "1/0 AWG", "copper", "8 and 4 ohm", "1.2 × 10⁻⁹ H/m", "5 ft 6 in", `<i>"&'`, "", "\x01\xff"}
	g := newWilds(31)
	o := MathOptions{
		Symbol: func(name string) string { return g.pick("", "R_w", "_", "a_b_c", `<i>"&'`, "\x01\xff") },
		Number: func(name string) (string, bool) { return texts[g.IntN(len(texts))], g.IntN(3) > 0 },
	}
	check := func(f *Formula) {
		checkMathML(t, f.MathML(MathOptions{}))
		checkMathML(t, f.MathML(o))
	}
	for _, s := range sounds(t) {
		for i := range s.steps {
			if s.steps[i].body != nil {
				check(s.steps[i].body)
			}
		}
		for _, c := range s.conds {
			check(c)
		}
	}
	for range 2000 {
		check(g.formula(t))
	}
}

// TestEveryFace sees that each built-in function has every face, and that no
// face is left behind by a function that is gone.
func TestEveryFace(t *testing.T) {
	for i := range functions {
		name := functions[i].name
		if rangeFaces[name].over == nil {
			t.Errorf("%s has no range", name)
		}
		if _, ok := slopeFaces[name]; !ok {
			t.Errorf("%s has no slope", name)
		}
		if mathFaces[name] == nil {
			t.Errorf("%s has no MathML", name)
		}
		if spokenFunctions[name] == "" {
			t.Errorf("%s is not said in words", name)
		}
		if !strings.Contains(ScriptRuntime, "\n    "+name+": [") {
			t.Errorf("%s has no script", name)
		}
	}
	for name := range rangeFaces {
		if builtin(name) == nil {
			t.Errorf("%s has a range and is no function", name)
		}
	}
	for name := range slopeFaces {
		if builtin(name) == nil {
			t.Errorf("%s has a slope and is no function", name)
		}
	}
	for name := range mathFaces {
		if builtin(name) == nil {
			t.Errorf("%s has MathML and is no function", name)
		}
	}
	for name := range spokenFunctions {
		if builtin(name) == nil {
			t.Errorf("%s is said in words and is no function", name)
		}
	}
}

// TestWordAlone writes a choice's word that stands for a whole formula, as it
// does in a binding.
func TestWordAlone(t *testing.T) {
	n, _ := ParseBody(fault.NewText("binding", "bare_copper").All())
	f, faults := CheckAs(n, &Scope{}, Choice("bare_copper", "clad"))
	if f == nil {
		t.Fatal(faults)
	}
	if got := f.Script(); got != `"bare_copper"` {
		t.Errorf("script %s", got)
	}
	if got := f.MathML(MathOptions{}); !strings.Contains(got, "<mtext>bare copper</mtext>") || !strings.Contains(got, `aria-label="bare copper"`) {
		t.Errorf("MathML %s", got)
	}
	if r := f.Range(wildRanges{}); !slices.Equal(r.Words, []string{"bare_copper"}) || !r.Empty() || !r.Sure() {
		t.Errorf("range %+v", r)
	}
}

// TestFunctionsWithinFunctions sees that own functions within own functions
// cost no more than their pieces: each doubles, and thirty would else be worked
// a thousand million times.
func TestFunctionsWithinFunctions(t *testing.T) {
	const deep = 30
	body, _ := ParseBody(fault.NewText("body", "x*x").All())
	scope := &Scope{
		Values:    map[string]Symbol{"loads": {Type: Type{Kind: unit.Kind{}, Group: "speaker"}}},
		Functions: map[string]*Function{"square": {Name: "square", Params: []string{"x"}, Body: body}},
	}
	text := strings.Repeat("square(", deep) + "1" + strings.Repeat(")", deep)
	n, _ := ParseBody(fault.NewText("nested", text).All())
	f, faults := Check(n, scope)
	if f == nil {
		t.Fatal(faults)
	}
	env := wildEnv{"loads": ListOf(Quantity(1), Quantity(2))}
	if v := f.Eval(env); v.State != Known || v.Number != 1 {
		t.Errorf("value %+v", v)
	}
	if r := f.Range(wildRanges{"loads": RangeOf(env["loads"])}); !r.Holds(Quantity(1)) || r.Hi-r.Lo > 1e-3 {
		t.Errorf("range %+v", r)
	}
	if size := len(f.Script()); size > 10000 {
		t.Errorf("a script of %d characters", size)
	}
}
