package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestMovedIsToldOnTheTerminal presses a copy, lengthens a run and presses
// again, as somebody looking on. More than a screen of it goes to the file.
func TestMovedIsToldOnTheTerminal(t *testing.T) {
	dir := t.TempDir()
	copied, manual := filepath.Join(dir, "copy"), filepath.Join(dir, "manual")
	write := func(name, text string) {
		t.Helper()
		if err := os.MkdirAll(copied, 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(copied, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	pressed := func(long string) string {
		t.Helper()
		write("run.md", "```docket\ncode: T1\nquestion: What?\nanswer: It loses <figure:run.lost>.\ntopics: wire\n```\n\n"+
			"```calc speaker-wire\nname: run\ngauge: 10, 12, 14, 16, 18 AWG\nrun: "+long+"\nload: 4, 6, 8 ohm\nrows: gauge\ncolumns: load\nshow: loss\n"+
			"figure: lost = loss when gauge is 16 AWG and load is 8 ohm\n```\n")
		var out, err bytes.Buffer
		if code := run([]string{"press", copied, "--into", manual}, desk{out: &out, err: &err, talkative: true}); code != done || err.Len() > 0 {
			t.Fatalf("exit %d\n%s", code, err.String())
		}
		return out.String()
	}
	write("imprint.yaml", "title: A test book\nlanguage: en-GB\ndate: \"2026-11-25\"\ntopics: [wire]\n")
	if out := pressed("9 m"); strings.Contains(out, "ince the last press") {
		t.Errorf("the first press tells of something that moved:\n%s", out)
	}
	if out := pressed("9 m"); !strings.HasPrefix(out, "Nothing moved since the last press.\n") {
		t.Errorf("nothing changed, and told is:\n%s", out)
	}
	out := pressed("12 m")
	head := "What moved since the last press:\n  T1 now reads: It loses 0.34 dB.\n  run.lost: was 0.26 dB, is 0.34 dB (in T1).\n  run.loss.10-awg.4-ohm: was "
	tail := fmt.Sprintf("\n  … and 5 more, in %s.\n", filepath.Join(copied, ".bindpost", "moved.txt"))
	if !strings.HasPrefix(out, head) || !strings.Contains(out, tail) {
		t.Errorf("told is:\n%s\nwanted a text that begins\n%s\nand holds\n%s", out, head, tail)
	}
}
