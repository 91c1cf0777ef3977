package press_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/templates"
)

const copiesFolder = "../../testdata/copy"

var update = flag.Bool("update", false, "rewrite the expected parts of the cases")

// TestCopies proofs each copy of testdata/copy and compares what is told. A
// copy without an imprint gets one.
func TestCopies(t *testing.T) {
	paths, err := filepath.Glob(copiesFolder + "/*.txtar")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) { proofCase(t, path) })
	}
}

func proofCase(t *testing.T, path string) {
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	last := len(a.Files) - 1
	if last < 1 || a.Files[last].Name != "faults" {
		t.Fatalf("%s: a case is a copy, and ends with faults", path)
	}
	m, faults := press.Make(press.Order{Copy: copyOf(a.Files[:last]), Library: trade.Library(), Templates: templates.Files, Program: "test"})
	told := faults.String()
	if told != "" {
		told += "\n"
	}
	if (m == nil) != faults.Stopped() {
		t.Errorf("a manual was made: %v; a stop stands: %v", m != nil, faults.Stopped())
	}
	switch {
	case told == string(a.Files[last].Data):
	case *update:
		a.Files[last].Data = []byte(told)
		if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("told:\n%s\nwanted:\n%s", told, a.Files[last].Data)
	}
}

// copyOf makes a copy of the files of a case. In them, a line \xNN stands for a
// byte that no text holds.
func copyOf(files []txtar.File) fstest.MapFS {
	fsys := fstest.MapFS{"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint)}}
	for _, f := range files {
		data := strings.NewReplacer(`\xff`, "\xff", `\xfe`, "\xfe", `\x89`, "\x89", `\x1a`, "\x1a", `\r`, "\r").Replace(string(f.Data))
		fsys[f.Name] = &fstest.MapFile{Data: []byte(data)}
	}
	return fsys
}

const plainImprint = "title: A test book\nlanguage: en-GB\ndate: \"2026-11-25\"\ntopics: [wire, speakers]\n"
