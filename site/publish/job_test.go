package publish

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// A job's files come from several goroutines; until it is finished the old
// manual stands, and a job that is given up leaves nothing.
func TestJob(t *testing.T) {
	into := filepath.Join(t.TempDir(), "manual")
	old := []File{{Path: "index.html", Data: []byte("old")}}
	if _, err := Publish(into, old, Stamp{Title: "T"}); err != nil {
		t.Fatal(err)
	}
	begun := func() *Job {
		j, err := Begin(into, Stamp{Title: "T"})
		if err != nil {
			t.Fatal(err)
		}
		var all sync.WaitGroup
		for i := range 20 {
			all.Go(func() {
				if err := j.Put(File{Path: fmt.Sprintf("a/%d/page.html", i), Data: []byte("new")}); err != nil {
					t.Error(err)
				}
			})
		}
		all.Wait()
		if err := j.Put(File{Path: "a/3/page.html", Data: []byte("newer")}); err != nil {
			t.Errorf("a file is put a second time: %v", err)
		}
		return j
	}
	holds := func(file, want string) {
		t.Helper()
		if got, _ := os.ReadFile(filepath.Join(into, file)); string(got) != want {
			t.Errorf("%s holds %q, want %q", file, got, want)
		}
	}
	begun().Discard()
	holds("index.html", "old")
	alone(t, filepath.Dir(into), "manual")

	j := begun()
	if _, err := Begin(into, Stamp{}); err == nil || !strings.Contains(err.Error(), "another press is writing") {
		t.Errorf("a second job at the same folder: %v", err)
	}
	holds("index.html", "old")
	r, err := j.Finish()
	if err != nil || r.Files != 20 || !r.Whole {
		t.Errorf("%+v, %v", r, err)
	}
	j.Discard()
	holds("a/3/page.html", "newer")
	holds("a/19/page.html", "new")
	holds("index.html", "")
	alone(t, filepath.Dir(into), "manual")
}

// What a list of files is refused for, a job refuses too.
func TestJobRefuses(t *testing.T) {
	for paths := range pathCases {
		files := filesOf(paths)
		_, bad := collate(files, Stamp{})
		into := filepath.Join(t.TempDir(), "manual")
		j, err := Begin(into, Stamp{})
		if err != nil {
			t.Fatal(err)
		}
		var refused error
		seen := map[string]bool{}
		for _, f := range files {
			if err := j.Put(f); err != nil && refused == nil {
				refused = err
			}
			if seen[f.Path] {
				bad = nil // a job takes the later one
			}
			seen[f.Path] = true
		}
		j.Discard()
		if (bad != nil) && refused == nil {
			t.Errorf("%q is let through, and a list is told: %v", paths, bad)
		}
		if bad == nil && refused != nil && !strings.Contains(paths, "|") {
			t.Errorf("%q is refused: %v", paths, refused)
		}
	}
}
