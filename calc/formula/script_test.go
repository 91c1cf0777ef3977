package formula

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// scriptTrial is one formula at one point: what goes to the script, and what the
// evaluation came to.
type scriptTrial struct {
	f     *Formula
	env   Env
	point scriptPoint
}

// scriptPoint is a scriptTrial as the script reads it.
type scriptPoint struct {
	Formula int             `json:"f"`
	Values  map[string]any  `json:"v"`
	Given   map[string]bool `json:"given"`
	Missing map[string]bool `json:"missing"`
}

// trials gathers scripts and points for one run of Node.
type trials struct {
	scripts []string
	number  map[*Formula]int
	all     []scriptTrial
}

// add puts a formula at a point on the list. The values that it rests on are
// frozen first, so that the script and the evaluation get the same ones.
func (l *trials) add(f *Formula, env Env) {
	n, ok := l.number[f]
	if !ok {
		n = len(l.scripts)
		l.number[f] = n
		l.scripts = append(l.scripts, f.Script())
	}
	p := scriptPoint{n, map[string]any{}, map[string]bool{}, map[string]bool{}}
	values := frozen{env, map[string]Value{}}
	for _, name := range f.Uses() {
		values.values[name] = unassumed(env.Value(name))
		p.Values[name] = scriptValue(values.values[name])
		p.Given[name], p.Missing[name] = env.Given(name), env.Missing(name)
	}
	l.all = append(l.all, scriptTrial{f, values, p})
}

type frozen struct {
	Env
	values map[string]Value
}

func (e frozen) Value(name string) Value { return e.values[name] }

// ranges makes the point a range of its own.
func (e frozen) ranges() RangeEnv { return frozenRanges{e} }

type frozenRanges struct{ frozen }

func (e frozenRanges) Range(name string) Range { return RangeOf(e.values[name]) }

func (e frozenRanges) Given(name string) Truth {
	if e.Env.Given(name) {
		return True
	}
	return False
}

func unassumed(v Value) Value {
	v.Assumed = nil
	v.List = slices.Clone(v.List)
	for i := range v.List {
		v.List[i].Assumed = nil
	}
	return v
}

// scriptValue is a value as the script has it.
func scriptValue(v Value) any {
	switch {
	case v.State == None:
		return map[string]any{"none": v.Why}
	case v.State == Unknown:
		return map[string]any{"unknown": v.Why}
	case v.State == Failed:
		return map[string]any{"failed": v.Fault.Message}
	case v.List != nil:
		list := []any{}
		for _, m := range v.List {
			list = append(list, scriptValue(m))
		}
		return list
	case v.Word != "":
		return v.Word
	}
	return v.Number
}

// outcome is what a scriptTrial came to: the value, and the facts assumed.
type outcome struct {
	Is      any      `json:"is"`
	Assumed []string `json:"assumed"`
}

const driver = `
const points = JSON.parse(require("fs").readFileSync(process.argv[2], "utf8"));
const outcomes = points.map(p => {
  const assumed = new Set();
  const v = { value: n => p.v[n], given: n => p.given[n], missing: n => p.missing[n], assume: n => assumed.add(n) };
  return { is: formulas[p.f](bindpost, v), assumed: [...assumed].sort() };
});
process.stdout.write(JSON.stringify(outcomes));
`

// run works all trials in one process of Node.
func (l *trials) run(t *testing.T) []outcome {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Fatal("node is needed to work the scripts: apt-get install nodejs")
	}
	var js strings.Builder
	js.WriteString(ScriptRuntime + "const formulas = [\n")
	for _, s := range l.scripts {
		fmt.Fprintf(&js, "(k, v) => %s,\n", s)
	}
	js.WriteString("];\n" + driver)
	points := make([]scriptPoint, len(l.all))
	for i := range l.all {
		points[i] = l.all[i].point
	}
	data, err := json.Marshal(points)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	script, input := filepath.Join(folder, "formulas.js"), filepath.Join(folder, "points.json")
	for path, text := range map[string][]byte{script: []byte(js.String()), input: data} {
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(node, script, input)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("node: %v", err)
	}
	var got []outcome
	if err := json.Unmarshal(out, &got); err != nil {
		t.Fatal(err)
	}
	if len(got) != len(l.all) {
		t.Fatalf("%d outcomes of %d trials", len(got), len(l.all))
	}
	return got
}

// agree works all trials and sees that script and evaluation come to the same.
// Where rounding alone parts them, the range of the point must hold both; the
// share of these may be no more than told.
func (l *trials) agree(t *testing.T, parted float64) {
	t.Helper()
	held, kinds := 0, map[string]int{}
	for i, got := range l.run(t) {
		tr := &l.all[i]
		want, assumed := tr.want()
		kinds[kindOf(want)]++
		switch {
		case !slices.Equal(got.Assumed, assumed) && len(got.Assumed)+len(assumed) > 0:
			t.Fatalf("%s\n%s\nassumed %v, and the script %v, with %v", Text(tr.f.Node()), tr.f.Script(), assumed, got.Assumed, tr.point)
		case agrees(got.Is, want):
		case tr.f.Type().Truth || !inRange(tr.f.Range(tr.env.(frozen).ranges()), got.Is):
			t.Fatalf("%s\n%s\ncame to %v, and the script to %v, with %v", Text(tr.f.Node()), tr.f.Script(), want, got.Is, tr.point)
		default:
			held++
		}
	}
	if share := float64(held) / float64(len(l.all)); share > parted {
		t.Errorf("rounding parts %.4f of %d trials, and may part %g", share, len(l.all), parted)
	}
	t.Logf("%d formulas, %d trials, %v, %d parted by rounding", len(l.scripts), len(l.all), kinds, held)
}

// want is what the evaluation came to, as the script should give it.
func (tr *scriptTrial) want() (any, []string) {
	if !tr.f.Type().Truth {
		v := tr.f.Eval(tr.env)
		return scriptValue(v), v.Assumed
	}
	switch a := tr.f.Answer(tr.env); {
	case a.Fault != nil:
		return map[string]any{"failed": a.Why}, a.Assumed
	case a.Truth == Untold:
		return map[string]any{"unknown": a.Why}, a.Assumed
	default:
		return a.Truth == True, a.Assumed
	}
}

func kindOf(x any) string {
	if gap, ok := x.(map[string]any); ok {
		for state := range gap {
			return state
		}
	}
	return fmt.Sprintf("%T", x)
}

// agrees compares what a script gave with what it should: states, reasons and
// words to the letter, numbers to 1e-12 or 8 units in the last place.
func agrees(got, want any) bool {
	switch want := want.(type) {
	case float64:
		x, ok := got.(float64)
		return ok && near(x, want)
	case []any:
		list, ok := got.([]any)
		return ok && slices.EqualFunc(list, want, agrees)
	case map[string]any:
		gap, ok := got.(map[string]any)
		return ok && len(gap) == 1 && gap[kindOf(want)] == want[kindOf(want)]
	}
	return got == want
}

func near(a, b float64) bool {
	size := math.Max(math.Abs(a), math.Abs(b))
	return math.Abs(a-b) <= math.Max(1e-12*size, 8*lastPlace(size))
}

// inRange reports whether what a script gave is among what a range holds.
func inRange(r Range, got any) bool {
	switch got := got.(type) {
	case float64:
		return r.Holds(Quantity(got))
	case string:
		return r.Holds(WordOf(got))
	case []any:
		return len(got) == len(r.List) && eachWithin(r.List, got)
	case map[string]any:
		return r.None && got["none"] != nil || r.Unknown && got["unknown"] != nil || r.Failed && got["failed"] != nil
	}
	return false
}

func eachWithin(ranges []Range, got []any) bool {
	for i, g := range got {
		if !inRange(ranges[i], g) {
			return false
		}
	}
	return true
}

// TestScriptsAgree works every formula of the trade at hundreds of points in
// Node, with values missing as they may be.
func TestScriptsAgree(t *testing.T) {
	l, lot := &trials{number: map[*Formula]int{}}, newLot(11)
	for _, s := range sounds(t) {
		for range 200 {
			env := newSoundEnv(s, lot.point(lot.ranges(s), s))
			for i := range s.steps {
				if body := s.steps[i].body; body != nil {
					l.add(body, env)
				}
			}
			for _, c := range s.conds {
				l.add(c, env)
			}
		}
	}
	l.agree(t, 0.001)
}

// TestWildScriptsAgree does the same for formulas that nobody would write.
func TestWildScriptsAgree(t *testing.T) {
	l, g := &trials{number: map[*Formula]int{}}, newWilds(12)
	for range 2000 {
		f := g.formula(t)
		for range 8 {
			l.add(f, g.within(g.ranges()))
		}
	}
	l.agree(t, 0.005)
}

// TestScriptWriting holds what a script may be made of: it is written into a
// file that a browser reads, beside texts of an author.
func TestScriptWriting(t *testing.T) {
	g := newWilds(13)
	for range 500 {
		s := g.formula(t).Script()
		if strings.ContainsAny(s, "<\u2028\u2029\n") {
			t.Errorf("%q holds what a script element cannot", s)
		}
		if odd := regexp.MustCompile(`eval|Function|document|window|fetch|NaN|null|undefined`).FindString(s); odd != "" {
			t.Errorf("%q holds %s", s, odd)
		}
	}
	if odd := regexp.MustCompile(`\b(eval|document|window|fetch|require|import|var)\b|\*\*|\?\.|\?\?`).FindString(ScriptRuntime); odd != "" {
		t.Errorf("the runtime holds %s", odd)
	}
	if !strings.HasPrefix(ScriptRuntime, `"use strict";`) {
		t.Error("the runtime is not strict")
	}
}
