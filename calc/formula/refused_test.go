package formula

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

var update = flag.Bool("update", false, "write the expected faults from what comes out")

const refusedFolder = "../../testdata/formula/refused"

// refusal is one case of a file: a text that must be refused, and the whole
// fault text that an author reads.
type refusal struct{ title, text, faults string }

// readRefusals reads cases. Each starts with `## title`; its text follows as
// one line that says how it is read (step, body or cond), then the faults.
func readRefusals(t *testing.T, file string) (head string, cases []refusal) {
	t.Helper()
	source, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, _ := strings.Cut("\n"+string(source), "\n## ")
	for _, part := range strings.Split(rest, "\n## ") {
		title, body, _ := strings.Cut(part, "\n")
		text, faults, _ := strings.Cut(body, "\n")
		cases = append(cases, refusal{title, text, strings.TrimSpace(faults)})
	}
	return strings.TrimPrefix(head, "\n"), cases
}

// refuse reads and checks a text as its first word says.
func refuse(t *testing.T, text string, s *Scope) *fault.List {
	t.Helper()
	as, rest, _ := strings.Cut(text, " ")
	p := fault.NewText("working", rest).All()
	var n Node
	var faults *fault.List
	switch as {
	case "step":
		step, faults := ParseStep(p)
		switch {
		case step == nil || step.Body == nil:
			return faults
		case step.Params != nil:
			faults.Join(refuseFunction(step, s))
			return faults
		}
		_, checked := Check(step.Body, s)
		faults.Join(checked)
		return faults
	case "body":
		n, faults = ParseBody(p)
	case "cond":
		n, faults = ParseCond(p)
	default:
		t.Fatalf("%q begins with neither step, body nor cond", text)
	}
	if n != nil {
		_, checked := Check(n, s)
		faults.Join(checked)
	}
	return faults
}

// refuseFunction checks an own function in a scope that knows it already.
func refuseFunction(step *Step, s *Scope) *fault.List {
	f := &Function{Name: step.Name.Text, Body: step.Body}
	for _, p := range step.Params {
		f.Params = append(f.Params, p.Text)
	}
	with := &Scope{Values: s.Values, Functions: map[string]*Function{f.Name: f}}
	for name, other := range s.Functions {
		with.Functions[name] = other
	}
	return CheckFunction(f, with)
}

// TestRefused holds every refusal to its place and its words.
func TestRefused(t *testing.T) {
	l := &library{t: t, rules: map[string]*sound{}, done: map[string]bool{}}
	scope := l.read(filepath.Join(refusedFolder, "scope.txt"))
	l.check(scope)
	files, _ := filepath.Glob(filepath.Join(refusedFolder, "*.md"))
	count := 0
	for _, file := range files {
		if filepath.Base(file) == "README.md" {
			continue
		}
		head, cases := readRefusals(t, file)
		for i := range cases {
			count++
			c := &cases[i]
			t.Run(strings.TrimSuffix(filepath.Base(file), ".md")+"/"+c.title, func(t *testing.T) { c.run(t, scope.scope) })
		}
		if *update {
			writeRefusals(t, file, head, cases)
		}
	}
	t.Logf("%d texts are refused", count)
	if count < 150 {
		t.Errorf("only %d texts are refused", count)
	}
}

func (c *refusal) run(t *testing.T, s *Scope) {
	faults := refuse(t, c.text, s)
	got := strings.TrimSpace(faults.String())
	if !faults.Stopped() {
		t.Errorf("%q passes", c.text)
	}
	if *update {
		c.faults = got
	}
	if got != c.faults {
		t.Errorf("%s\ngot:\n%s\nwant:\n%s", c.text, got, c.faults)
	}
	plain(t, faults)
}

// plain holds faults to the style of the house: lower case, no full stop, a
// place inside the text.
func plain(t *testing.T, faults *fault.List) {
	t.Helper()
	for _, f := range faults.All() {
		first := f.Message[:1]
		if strings.ToLower(first) != first && !strings.HasPrefix(f.Message, `"`) {
			t.Errorf("%q begins with a capital", f.Message)
		}
		for _, s := range []string{f.Message, f.Wanted, f.Try} {
			if strings.HasSuffix(s, ".") || strings.Contains(s, "%!") {
				t.Errorf("%q is ill written", s)
			}
		}
		if f.Place.Text == nil || f.Place.Start > f.Place.End || f.Place.End > len(f.Place.Text.Source()) {
			t.Errorf("%q has no place in its text", f.Message)
		}
	}
}

func writeRefusals(t *testing.T, file, head string, cases []refusal) {
	t.Helper()
	var b strings.Builder
	b.WriteString(strings.TrimRight(head, "\n") + "\n")
	for _, c := range cases {
		b.WriteString("\n## " + c.title + "\n" + c.text + "\n" + c.faults + "\n")
	}
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
