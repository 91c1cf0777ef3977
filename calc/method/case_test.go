package method_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

var update = flag.Bool("update", false, "rewrite the expected parts of the cases")

// TestCases loads the method files of each case and compares the faults, and
// where the case asks for it, what runs give.
func TestCases(t *testing.T) {
	paths, err := filepath.Glob("../../testdata/method/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) { runCase(t, path) })
	}
}

func runCase(t *testing.T, path string) {
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var sources method.Sources
	var runs string
	for _, f := range a.Files {
		text := fault.NewText(f.Name, string(f.Data))
		switch name := strings.TrimSuffix(f.Name, ".yaml"); name {
		case "references":
			sources.References = append(sources.References, text)
		case "cautions":
			sources.Cautions = text
		case "values":
			sources.Values = append(sources.Values, text)
		case "constants":
			sources.Constants = text
		case "faults", "results":
		case "run":
			runs = string(f.Data)
		default:
			sources.Methods = append(sources.Methods, text)
		}
	}
	library, faults := method.Load(sources, nil)
	got := map[string]string{"faults": faults.String(), "results": ""}
	for line := range strings.Lines(runs) {
		got["results"] += worked(t, library, strings.TrimSpace(line))
	}
	compare(t, a, got, path)
}

// compare holds parts of a case against what came of it.
func compare(t *testing.T, a *txtar.Archive, got map[string]string, path string) {
	t.Helper()
	changed := false
	for i := range a.Files {
		want, ok := got[a.Files[i].Name]
		if !ok {
			continue
		}
		if want != "" && !strings.HasSuffix(want, "\n") {
			want += "\n"
		}
		if want == string(a.Files[i].Data) {
			continue
		}
		if *update {
			a.Files[i].Data, changed = []byte(want), true
			continue
		}
		t.Errorf("%s:\n%s\nwanted:\n%s", a.Files[i].Name, want, a.Files[i].Data)
	}
	if changed {
		if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// worked runs a line of a case: a method's name and its values.
func worked(t *testing.T, l *method.Library, line string) string {
	t.Helper()
	name, rest, _ := strings.Cut(line, " ")
	m, ok := l.Method(name)
	if !ok {
		t.Fatalf("no method %q", name)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", line)
	values, faults := typed(m.Sheet(), rest)
	text := fault.NewText("typed", line)
	faults.Join(m.Sheet().Check(values, text.All()))
	if !faults.Stopped() {
		o := m.Run(values)
		faults.Join(o.Faults)
		for _, r := range m.Sheet().Gives {
			fmt.Fprintf(&b, "  %s: %s\n", r.Name, r.Text(o.Results.Of(r.Name)))
		}
		for _, v := range o.Verdicts {
			fmt.Fprintf(&b, "  verdict %s: %s, %s\n", v.Name, v.Grade, v.Words)
		}
		for _, c := range o.Cautions {
			fmt.Fprintf(&b, "  caution %s\n", c.ID)
		}
	}
	for _, f := range faults.All() {
		fmt.Fprintf(&b, "  %s: %s\n", f.Grade, f.Message)
	}
	return b.String()
}

// typed reads name=value pairs parted by spaces; a value may hold one.
func typed(s *method.Sheet, rest string) (method.Values, *fault.List) {
	values, faults := method.Values{}, &fault.List{}
	var pairs []string
	for _, word := range strings.Fields(rest) {
		if strings.Contains(word, "=") {
			pairs = append(pairs, word)
		} else {
			pairs[len(pairs)-1] += " " + word
		}
	}
	for _, pair := range pairs {
		name, value, _ := strings.Cut(pair, "=")
		p, fs := s.Input(name).Read(fault.NewText("typed", value).All())
		faults.Join(fs)
		values[name] = p
	}
	return values, faults
}
