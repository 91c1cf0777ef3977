package main

import (
	"errors"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the expected outputs of the scripts")

// TestScripts runs the command as its user does: built plainly, also where the
// tests are run under the race detector, which makes each start take seconds.
func TestScripts(t *testing.T) {
	programs := t.TempDir()
	if out, err := exec.Command("go", "build", "-o", filepath.Join(programs, programFile()), ".").CombinedOutput(); err != nil {
		t.Fatalf("building the command: %v\n%s", err, out)
	}
	testscript.Run(t, testscript.Params{
		Dir:                "../../testdata/script",
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("ALONE", programs) // a path on which nothing lies but bindpost
			env.Setenv("PATH", programs+string(os.PathListSeparator)+env.Getenv("PATH"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"bindpost": command, "exits": exits, "cutreadme": cutReadme,
		},
	})
}

func programFile() string {
	if runtime.GOOS == "windows" {
		return "bindpost.exe"
	}
	return "bindpost"
}

// command runs the program: bindpost …, or ! bindpost … where it must fail.
func command(ts *testscript.TestScript, neg bool, args []string) {
	err := ts.Exec("bindpost", args...)
	if failed := err != nil; failed != neg {
		ts.Fatalf("bindpost %s: %v", strings.Join(args, " "), err)
	}
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

// cutReadme writes a file that README.md shows, the guide or the one that
// begins with a line, so that what the README teaches cannot part from what the
// program takes: cutreadme FILE [LINE].
func cutReadme(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 || len(args) > 2 {
		ts.Fatalf("usage: cutreadme FILE [LINE]")
	}
	first := "```docket"
	if len(args) == 2 {
		first = args[1]
	}
	readme, err := os.ReadFile("../../README.md")
	ts.Check(err)
	shown := shownFile(string(readme), first)
	if shown == "" {
		ts.Fatalf("README.md shows no file that begins with %s", first)
	}
	ts.Check(os.MkdirAll(filepath.Dir(ts.MkAbs(args[0])), 0o777))
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(shown), 0o666))
}

// shownFile returns the indented lines from a first one on, without what
// indents them.
func shownFile(readme, first string) string {
	_, after, found := strings.Cut(readme, "\n    "+first+"\n")
	if !found {
		return ""
	}
	file := first + "\n"
	for line := range strings.Lines(after) {
		shown, indented := strings.CutPrefix(line, "    ")
		if !indented && line != "\n" {
			break
		}
		file += shown
	}
	return file
}
