package press_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/templates"
)

const slipsFolder = "../../testdata/slips"

// slipChecks are the checks that catch slips, by the name that a slip calls
// its check, with words that only the faults of this check have.
var slipChecks = map[string]string{
	"equal steps":                 "equal steps",
	"order":                       "does not",
	"case":                        "the case says",
	"claim":                       "this claim does not hold",
	"claim wanted":                "claim",
	"sense":                       "is meant",
	"two values":                  "two values",
	"typed figure beside a table": "table",
	"unit":                        "has no unit",
	"range":                       "than this method covers",
	"link":                        "leads to",
	"picture":                     "drawing",
	"hazard":                      "the caution",
	"never printed":               "never printed",
	"stale words":                 "older than their original",
}

// slip is one case of testdata/slips.
type slip struct {
	check  string
	hurts  bool
	edits  map[string][]string // by file: pieces as they were and as typed, in turn
	archiv *txtar.Archive
}

func readSlip(t *testing.T, path string) slip {
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s := slip{edits: map[string][]string{}, archiv: a}
	for line := range strings.Lines(string(a.Comment)) {
		if v, ok := strings.CutPrefix(line, "caught by: "); ok {
			s.check = strings.TrimSpace(v)
		}
		s.hurts = s.hurts || strings.TrimSpace(line) == "can hurt: yes"
	}
	for _, f := range a.Files[:len(a.Files)-1] {
		name, how, ok := strings.Cut(f.Name, ", as ")
		if !ok || (how == "typed") != (len(s.edits[name])%2 == 1) {
			t.Fatalf("%s: %q is no piece of a file as it was, or as typed", path, f.Name)
		}
		s.edits[name] = append(s.edits[name], strings.TrimSuffix(string(f.Data), "\n"))
	}
	return s
}

// typedInto returns the clean copy with the slip typed into it.
func (s slip) typedInto(t *testing.T) fstest.MapFS {
	c := cleanCopy(t)
	for name, pieces := range s.edits {
		text := string(c[name].Data)
		for i := 0; i < len(pieces); i += 2 {
			if strings.Count(text, pieces[i]) != 1 {
				t.Fatalf("%s does not hold this once:\n%s", name, pieces[i])
			}
			text = strings.Replace(text, pieces[i], pieces[i+1], 1)
		}
		c[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return c
}

func cleanCopy(t *testing.T) fstest.MapFS {
	c, root := fstest.MapFS{}, os.DirFS(filepath.Join(slipsFolder, "clean"))
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, path)
		c[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func proofOf(c fstest.MapFS) *fault.List {
	_, faults := press.Make(press.Order{Copy: c, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	return faults
}

// TestCleanCopy: where nothing is wrong, nothing is told.
func TestCleanCopy(t *testing.T) {
	if told := proofOf(cleanCopy(t)).String(); told != "" {
		t.Errorf("the clean copy is not silent:\n%s", told)
	}
}

// TestSlips types each slip into the clean copy, and sees it caught by its own
// check.
func TestSlips(t *testing.T) {
	paths, err := filepath.Glob(slipsFolder + "/*.txtar")
	if err != nil || len(paths) < 25 {
		t.Fatalf("%d slips: %v", len(paths), err)
	}
	typed := 0
	for i, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			if number := fmt.Sprintf("%02d-", i+1); !strings.HasPrefix(filepath.Base(path), number) {
				t.Errorf("this slip should be the number %s", number)
			}
			s := readSlip(t, path)
			if strings.HasPrefix(s.check, "typed figure") {
				typed++
			}
			s.caught(t, path)
		})
	}
	if 4*typed > len(paths) {
		t.Errorf("the check of typed figures catches %d of %d slips: more than a quarter", typed, len(paths))
	}
}

func (s slip) caught(t *testing.T, path string) {
	words, known := slipChecks[s.check]
	if !known {
		t.Fatalf("there is no check %q", s.check)
	}
	faults := proofOf(s.typedInto(t))
	told := faults.String() + "\n"
	caught := false
	for _, f := range faults.All() {
		caught = caught || strings.Contains(f.Message+" "+f.Wanted, words) && f.Place.Text != nil
	}
	if !caught {
		t.Errorf("the check %q does not catch it:\n%s", s.check, told)
	}
	if s.hurts && !faults.Stopped() {
		t.Errorf("somebody could be hurt, and nothing stops:\n%s", told)
	}
	last := &s.archiv.Files[len(s.archiv.Files)-1]
	switch {
	case told == string(last.Data):
	case *update:
		last.Data = []byte(told)
		if err := os.WriteFile(path, txtar.Format(s.archiv), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("told:\n%s\nwanted:\n%s", told, last.Data)
	}
}
