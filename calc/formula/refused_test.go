package formula

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
)

var update = flag.Bool("update", false, "write the expected faults from what comes out")

const refusedFolder = "../../testdata/formula/refused"

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

// TestRefused holds every refusal to its place and its words. A case is named
// by what is wrong; its first line is the text behind the word that says how it
// is read, and what follows is all that an author is told.
func TestRefused(t *testing.T) {
	l := &library{t: t, rules: map[string]*sound{}, done: map[string]bool{}}
	scope := l.read(filepath.Join(refusedFolder, "scope.txt"))
	l.check(scope)
	files, _ := filepath.Glob(filepath.Join(refusedFolder, "*.txtar"))
	count := 0
	for _, file := range files {
		archive, err := txtar.ParseFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for i := range archive.Files {
			count++
			c := &archive.Files[i]
			t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar")+"/"+c.Name, func(t *testing.T) { refused(t, c, scope.scope) })
		}
		if *update {
			if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Logf("%d texts are refused", count)
	if count < 275 {
		t.Errorf("only %d texts are refused", count)
	}
}

// refused holds one case to what is told, or takes what is told for the case.
func refused(t *testing.T, c *txtar.File, s *Scope) {
	text, want, _ := strings.Cut(string(c.Data), "\n")
	faults := refuse(t, text, s)
	got := faults.String()
	if !faults.Stopped() {
		t.Errorf("%q passes", text)
	}
	plain(t, faults)
	if *update {
		c.Data = []byte(text + "\n" + strings.TrimRight(got, "\n") + "\n")
		return
	}
	if strings.TrimRight(got, "\n") != strings.TrimRight(want, "\n") {
		t.Errorf("%s\ngot:\n%s\nwant:\n%s", text, got, want)
	}
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
