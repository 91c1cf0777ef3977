package unit

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
)

var update = flag.Bool("update", false, "write what came out into the case files")

// TestCases reads the typed values of testdata/unit and compares what comes
// out, faults with their carets included.
func TestCases(t *testing.T) {
	for _, file := range caseFiles(t) {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txtar"), func(t *testing.T) {
			archive, err := txtar.ParseFile(file)
			if err != nil || len(archive.Files) != 2 || archive.Files[0].Name != "typed" || archive.Files[1].Name != "read" {
				t.Fatalf("want a file typed and a file read: %v", err)
			}
			got := readCases(string(archive.Files[0].Data))
			if *update {
				archive.Files[1].Data = []byte(got)
				if err := os.WriteFile(file, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			compareLines(t, got, string(archive.Files[1].Data))
		})
	}
}

func caseFiles(t testing.TB) []string {
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "unit", "*.txtar"))
	if err != nil || len(files) < 5 {
		t.Fatalf("the case files are missing: %v %v", files, err)
	}
	return files
}

func compareLines(t *testing.T, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Fatalf("from line %d on\ngot:\n%s\nwant:\n%s", i+1,
				strings.Join(g[i:min(i+6, len(g))], "\n"), strings.Join(w[min(i, len(w)):min(i+6, len(w))], "\n"))
		}
	}
}

func readCases(source string) string {
	var b strings.Builder
	text := fault.NewText("typed", source)
	for line := 1; text.Offset(line, 1) < len(text.Source()); line++ {
		start := text.Offset(line, 1)
		b.WriteString(readCase(text.Place(start, start+len(text.Line(line)))) + "\n")
	}
	return b.String()
}

// readCase reads one line of a case file.
func readCase(p fault.Place) string {
	line := p.String()
	if strings.HasPrefix(line, "unit:") {
		u, f := Parse(p.Sub(len("unit:"), len(line)))
		if f != nil {
			return f.Error()
		}
		return fmt.Sprintf("%s: %q, %s, said %q", line, u.Symbol(), u.Kind(), u.Spoken())
	}
	var q Quantity
	var f *fault.Fault
	if want, value, ok := strings.Cut(strings.TrimPrefix(line, "as "), ":"); ok && strings.HasPrefix(line, "as ") {
		q, f = ReadAs(p.Sub(len(line)-len(value), len(line)), Must(want))
	} else {
		q, f = Read(p)
	}
	if f != nil {
		return f.Error()
	}
	return fmt.Sprintf("%s: %v, %q, %s", line, q.Value, q.Unit.Symbol(), q.Unit.Kind())
}
