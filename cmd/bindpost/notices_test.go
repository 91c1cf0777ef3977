package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestNoticesAreAllOfThem compares the list with the modules that the program
// is linked from, on every system it is built for: a new library without a
// notice fails, and so does a notice without its library.
func TestNoticesAreAllOfThem(t *testing.T) {
	linked := map[string]string{} // module, and where it lies
	for _, system := range []string{"linux", "windows", "darwin"} {
		for line := range strings.Lines(goList(t, system)) {
			if path, dir, found := strings.Cut(strings.TrimSpace(line), " "); found {
				linked[path] = dir
			}
		}
	}
	if len(linked) == 0 {
		t.Fatal("no module is linked, which cannot be")
	}
	listed := map[string]bool{}
	for _, l := range libraries {
		if l.module == "" {
			continue
		}
		listed[l.module] = true
		dir, ok := linked[l.module]
		if !ok {
			t.Errorf("%s has a notice and is not linked: take it off the list", l.module)
			continue
		}
		sameText(t, l, dir)
	}
	for module := range linked {
		if !listed[module] {
			t.Errorf("%s is linked and has no notice: add its licence to notices and to the list", module)
		}
	}
}

// goList returns the modules other than ours that the program needs on a
// system, each with its folder.
func goList(t *testing.T, system string) string {
	t.Helper()
	format := "{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}"
	list := exec.Command("go", "list", "-deps", "-f", format, ".")
	list.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list for %s: %v", system, err)
	}
	return string(out)
}

// sameText compares a notice with the licence in a library's own folder.
func sameText(t *testing.T, l library, dir string) {
	t.Helper()
	for _, name := range []string{"LICENSE", "COPYING", "LICENSE.md", "LICENSE.txt"} {
		want, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			continue
		}
		if got := noticeText(l); got != strings.TrimRight(string(want), "\n")+"\n" {
			t.Errorf("the notice of %s is not what its %s says", l.name, name)
		}
		return
	}
	t.Errorf("%s has no licence in %s", l.name, dir)
}

// TestNoticeOfGo compares the notice of Go with the one that Go came with.
func TestNoticeOfGo(t *testing.T) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(libraries, func(l library) bool { return l.module == "" })
	if i < 0 {
		t.Fatal("Go itself has no notice")
	}
	sameText(t, libraries[i], strings.TrimSpace(string(root)))
}

// TestNoticesPrinted holds every text on the list, and only those, in what is
// printed.
func TestNoticesPrinted(t *testing.T) {
	var out bytes.Buffer
	if code := run([]string{"--notices"}, desk{out: &out}); code != done {
		t.Fatalf("it ended with %d", code)
	}
	for _, l := range libraries {
		if !strings.Contains(out.String(), noticeText(l)) {
			t.Errorf("the notice of %s is not printed", l.name)
		}
	}
	files, err := noticeTexts.ReadDir("notices")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != len(libraries) {
		t.Errorf("%d texts stand in notices, and %d libraries are listed", len(files), len(libraries))
	}
}
