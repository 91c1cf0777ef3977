package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected outputs of the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"bindpost": main})
}

// TestScripts runs the command as its user does.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                "../../testdata/script",
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "cutreadme": cutReadme,
		},
	})
}

// exits runs a command and compares its exit code: exits N command …
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits N command …")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var failed *exec.ExitError
	if errors.As(err, &failed) {
		got = failed.ExitCode()
	} else if err != nil && !errors.Is(err, os.ErrProcessDone) {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("it ended with %d, and %d was wanted", got, want)
	}
}

// cutReadme writes the guide that README.md shows into a file, so that what
// the README teaches cannot part from what the program takes: cutreadme FILE.
func cutReadme(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: cutreadme FILE")
	}
	readme, err := os.ReadFile("../../README.md")
	ts.Check(err)
	guide := shownGuide(string(readme))
	if guide == "" {
		ts.Fatalf("README.md shows no guide")
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(guide), 0o666))
}

// shownGuide returns the indented lines from a docket on, without what
// indents them.
func shownGuide(readme string) string {
	_, after, found := strings.Cut(readme, "\n    ```docket\n")
	if !found {
		return ""
	}
	guide := "```docket\n"
	for line := range strings.Lines(after) {
		shown, indented := strings.CutPrefix(line, "    ")
		if !indented && line != "\n" {
			break
		}
		guide += shown
	}
	return guide
}
