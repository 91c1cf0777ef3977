package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"bindpost/content"
)

// TestBlankDate makes a copy on a given day.
func TestBlankDate(t *testing.T) {
	into := filepath.Join(t.TempDir(), "attic")
	var out, errs bytes.Buffer
	day := time.Date(2031, time.February, 3, 23, 59, 0, 0, time.UTC)
	d := desk{out: &out, err: &errs, talkative: true, now: func() time.Time { return day }}
	if code := run([]string{"blank", into}, d); code != done {
		t.Fatalf("blank ended with %d: %s", code, errs.String())
	}
	imprint, err := os.ReadFile(filepath.Join(into, imprintName))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(imprint), "\ndate: \"2031-02-03\"\n"); n != 1 {
		t.Errorf("the day stands %d times in the imprint:\n%s", n, imprint)
	}
	if !strings.Contains(out.String(), "It explains itself") {
		t.Errorf("somebody looking on is told only %q", out.String())
	}
}

// TestBlankIsWhole compares a new copy with the one in the program: all files,
// and but for the date the same bytes.
func TestBlankIsWhole(t *testing.T) {
	into := t.TempDir()
	leaves, err := blankLeaves(content.Blank(), time.Date(2026, time.November, 25, 0, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	if last := leaves[len(leaves)-1].name; last != imprintName {
		t.Errorf("%s is laid last, after what makes a folder a copy", last)
	}
	if err := lay(into, leaves); err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]fs.FS{{content.Blank(), os.DirFS(into)}, {os.DirFS(into), content.Blank()}} {
		contained(t, pair[0], pair[1])
	}
}

// contained fails for a file of one folder that another has not, or not alike.
func contained(t *testing.T, part, whole fs.FS) {
	t.Helper()
	err := fs.WalkDir(part, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		want, err := fs.ReadFile(part, path)
		if err != nil {
			return err
		}
		got, err := fs.ReadFile(whole, path)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not the same in both: %v", path, err)
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// TestBlankIsNoDemonstration holds the small copy out of the demonstration.
func TestBlankIsNoDemonstration(t *testing.T) {
	if _, err := fs.Stat(content.Files, "_blank"); err == nil {
		t.Error("the demonstration holds the small worked copy")
	}
	if _, err := fs.Stat(content.Files, imprintName); err != nil {
		t.Error(err)
	}
}

// TestLayTakesBack stops in the middle: a file that somebody put there while
// the copy was being written is left alone, and the rest is taken away.
func TestLayTakesBack(t *testing.T) {
	leaves, err := blankLeaves(content.Blank(), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	t.Run("in a folder that stood", func(t *testing.T) {
		dir := t.TempDir()
		theirs := filepath.Join(dir, imprintName)
		if err := os.WriteFile(theirs, []byte("mine"), 0o666); err != nil {
			t.Fatal(err)
		}
		if err := lay(dir, leaves); err == nil {
			t.Fatal("it wrote over a file")
		}
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) != 1 {
			t.Errorf("%v stand, and only one file should: %v", entries, err)
		}
		if text, _ := os.ReadFile(theirs); string(text) != "mine" {
			t.Errorf("the file now holds %q", text)
		}
	})
	t.Run("in a folder of its own", func(t *testing.T) {
		dir := filepath.Join(t.TempDir(), "attic")
		twice := append(leaves[:1:1], leaves...)
		if err := lay(dir, twice); err == nil {
			t.Fatal("it wrote one file twice")
		}
		if _, err := os.Stat(dir); !os.IsNotExist(err) {
			t.Errorf("half a copy stands: %v", err)
		}
	})
}

// TestBlankLeavesNeedAnImprint holds the copy in the program to having one.
func TestBlankLeavesNeedAnImprint(t *testing.T) {
	if _, err := blankLeaves(fstest.MapFS{"start-here.md": {}}, time.Now()); err == nil {
		t.Error("a copy without an imprint passes")
	}
}

func TestAsTyped(t *testing.T) {
	for name, want := range map[string]string{"attic": "attic", "my attic": `"my attic"`, "a&b": `"a&b"`} {
		if got := asTyped(name); got != want {
			t.Errorf("%s is typed %s, and should be %s", name, got, want)
		}
	}
}

// TestLinger waits for one line and no longer.
func TestLinger(t *testing.T) {
	in, out := strings.NewReader("\nmore"), &bytes.Buffer{}
	linger(in, out)
	if !strings.Contains(out.String(), "Press the Enter key") {
		t.Errorf("it says %q", out.String())
	}
	linger(strings.NewReader(""), out) // nobody there: it does not hang
}
