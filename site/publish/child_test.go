package publish

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bindpost/site/folder"
)

// The tests of killing need a publish in a process of its own. That process is
// this test program again, told by its environment what to publish.
const childEnv = "PUBLISH_CHILD"

// child is what such a process is to do.
type child struct {
	into  string
	text  string // what every page of the manual says
	pages int
	steps bool // as on a disk that has no exchange
	wait  bool // say on stdout when about to begin
}

func (c child) env() string {
	return strings.Join([]string{childEnv + "=" + c.text, strconv.Itoa(c.pages), strconv.FormatBool(c.steps), strconv.FormatBool(c.wait), c.into}, "|")
}

func init() {
	if os.Getenv(childEnv) != "" {
		runtime.LockOSThread() // so that every call of the publish is made by the first thread
	}
}

func TestMain(m *testing.M) {
	if told := os.Getenv(childEnv); told != "" {
		if err := publishAsChild(told); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// The trace of a child is read between these two marks.
const markBegin, markEnd = "/publish-begins", "/publish-ends"

func publishAsChild(told string) error {
	words := strings.SplitN(told, "|", 5)
	pages, err := strconv.Atoi(words[1])
	if err != nil {
		return err
	}
	w := system
	if words[2] == "true" {
		w.exchange = func(string, string) error { return errNoExchange }
	}
	files, stamp := pressed(words[0], pages)
	if words[3] == "true" {
		fmt.Println("ready")
	}
	os.Lstat(markBegin)
	_, f := publish(w, words[4], files, stamp)
	os.Lstat(markEnd)
	if f != nil {
		return f
	}
	return nil
}

// pressed makes a manual that says one text on every page.
func pressed(text string, pages int) ([]File, Stamp) {
	files := []File{{"index.html", []byte("contents: " + text)}, {"look/plain.css", []byte(text)}}
	for i := range pages {
		files = append(files, File{fmt.Sprintf("guides/K%d.html", i), bytes.Repeat([]byte(text), 1000)})
	}
	return files, Stamp{Title: "Wires " + text, Program: "bindpost test"}
}

// wantTree is the manual of pressed as it is to be found on the disk: the
// bytes of each file, and "/" for each folder.
func wantTree(text string, pages int) map[string]string {
	files, stamp := pressed(text, pages)
	want := map[string]string{folder.StampName: stamp.text(), "look": "/", "guides": "/"}
	if pages == 0 {
		delete(want, "guides")
	}
	for _, f := range files {
		want[f.Path] = string(f.Data)
	}
	return want
}

// tree reads what really stands in a folder; nil when there is none.
func tree(dir string) (map[string]string, error) {
	if _, err := os.Lstat(dir); errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		rel, _ := filepath.Rel(dir, p)
		switch {
		case err != nil || rel == ".":
			return err
		case d.IsDir():
			found[filepath.ToSlash(rel)] = "/"
			return nil
		}
		data, err := os.ReadFile(p)
		found[filepath.ToSlash(rel)] = string(data)
		return err
	})
	return found, err
}

// differs says in what two trees differ; "" when in nothing.
func differs(got, want map[string]string) string {
	if got == nil {
		return "there is no folder"
	}
	var all []string
	for _, p := range slices.SortedFunc(maps.Keys(want), cmp.Compare[string]) {
		if text, is := got[p]; !is {
			all = append(all, p+" is missing")
		} else if text != want[p] {
			all = append(all, p+" is another")
		}
	}
	for _, p := range slices.SortedFunc(maps.Keys(got), cmp.Compare[string]) {
		if _, is := want[p]; !is {
			all = append(all, p+" is too many")
		}
	}
	return strings.Join(all, ", ")
}

// stands fails the test unless the folder holds the whole manual of a text.
func stands(t *testing.T, into, text string, pages int) {
	t.Helper()
	got, err := tree(into)
	if err != nil {
		t.Fatal(err)
	}
	if d := differs(got, wantTree(text, pages)); d != "" {
		t.Errorf("the manual %q does not stand whole: %s", text, d)
	}
}

// alone fails the test unless the folder above holds the names and no others.
func alone(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if !slices.Equal(got, names) {
		t.Errorf("beside one another lie %q, wanted %q", got, names)
	}
}

func mustPublish(t *testing.T, into, text string, pages int) Report {
	t.Helper()
	files, stamp := pressed(text, pages)
	report, err := Publish(into, files, stamp)
	if err != nil {
		t.Fatalf("publish: %v", err)
	}
	return report
}
