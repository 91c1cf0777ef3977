package press_test

import (
	"bytes"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/templates"
)

// TestKeptResults presses a copy on disk after edits at random, with what the
// press before kept, and holds each manual and ledger to those of a press that
// knows nothing. Now and then somebody spoils what was kept, or a page.
func TestKeptResults(t *testing.T) {
	rounds := 40
	if n, err := strconv.Atoi(os.Getenv("BINDPOST_EDITS")); err == nil {
		rounds = n / 10
	}
	r := rand.New(rand.NewPCG(3, 5))
	c := newEdited(r)
	root, into, anew := filepath.Join(t.TempDir(), "copy"), filepath.Join(t.TempDir(), "manual"), filepath.Join(t.TempDir(), "anew")
	order := press.Order{Library: trade.Library(), Templates: templates.Files, Program: "test"}
	carried, written := 0, 0
	for n := range rounds {
		c.edit()
		layOut(t, root, c)
		last := c.last
		if n%5 == 4 {
			last += ", and " + spoil(t, r, root, into)
		}
		with := order
		with.Copy, with.Root, with.Into, with.Build = os.DirFS(root), root, into, "this program"
		got, faults, err := press.Press(with)
		if err != nil {
			t.Fatal(err)
		}
		without := order
		without.Copy, without.Into = c.files, anew
		_, want, err := press.Press(without)
		if err != nil {
			t.Fatal(err)
		}
		if faults.String() != want.String() {
			t.Fatalf("round %d, %s: it tells\n%s\nand a press from nothing\n%s", n, last, faults, want)
		}
		if want.Stopped() {
			continue
		}
		written++
		carried += got.Carried
		sameFolders(t, "round "+strconv.Itoa(n)+", "+last, into, anew)
		sameLedger(t, c, order, filepath.Join(root, ".bindpost", "ledger.jsonl"))
	}
	t.Logf("%d manuals, with the pages of %d guides carried over", written, carried)
	if carried < written {
		t.Errorf("the pages of %d guides were carried over into %d manuals", carried, written)
	}
}

// layOut writes a copy to a folder, and removes what is not in it any more.
func layOut(t *testing.T, root string, c *edited) {
	t.Helper()
	filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		rel, _ := filepath.Rel(root, p)
		if err == nil && !d.IsDir() && c.files[filepath.ToSlash(rel)] == nil && filepath.Base(filepath.Dir(p)) != ".bindpost" {
			return os.Remove(p)
		}
		return nil
	})
	for name, f := range c.files {
		p := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, f.Data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// spoil changes a file that a press wrote, and says which.
func spoil(t *testing.T, r *rand.Rand, root, into string) string {
	t.Helper()
	files := []string{
		filepath.Join(root, ".bindpost", "guides.kept"), filepath.Join(root, ".bindpost", "pieces.kept"),
		filepath.Join(into, "a.html"), filepath.Join(into, "workings", "B1.html"),
	}
	p := files[r.IntN(len(files))]
	data, err := os.ReadFile(p)
	if err != nil || len(data) == 0 {
		return "nothing to spoil"
	}
	switch at := r.IntN(len(data)); r.IntN(3) {
	case 0:
		data[at] ^= 1
	case 1:
		data = data[:at]
	default:
		if err := os.Remove(p); err != nil {
			t.Fatal(err)
		}
		return filepath.Base(p) + " away"
	}
	if err := os.WriteFile(p, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return filepath.Base(p) + " spoilt"
}

// sameFolders holds two folders to the same files.
func sameFolders(t *testing.T, when, got, want string) {
	t.Helper()
	a, b := filesIn(t, got), filesIn(t, want)
	for p, data := range b {
		if !bytes.Equal(a[p], data) {
			t.Fatalf("%s: %s is another\n%s", when, p, firstDifference(a[p], data))
		}
		delete(a, p)
	}
	for p := range a {
		t.Fatalf("%s: %s stands there and should not", when, p)
	}
}

func filesIn(t testing.TB, dir string) map[string][]byte {
	t.Helper()
	files := map[string][]byte{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, _ := filepath.Rel(dir, p)
		files[rel], err = os.ReadFile(p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// sameLedger holds the kept ledger to that of the whole book.
func sameLedger(t *testing.T, c *edited, order press.Order, file string) {
	t.Helper()
	order.Copy = c.files
	book, _ := press.Bound(order)
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if want := book.Ledger("test").Write(); !bytes.Equal(got, want) {
		t.Fatalf("the ledger is another\n%s", firstDifference(got, want))
	}
}

// Words that somebody changed in what is kept, without any harm to its form, are
// not printed.
func TestKeptWordsChanged(t *testing.T) {
	c := newEdited(rand.New(rand.NewPCG(1, 1)))
	root, into, anew := filepath.Join(t.TempDir(), "copy"), filepath.Join(t.TempDir(), "manual"), filepath.Join(t.TempDir(), "anew")
	layOut(t, root, c)
	order := press.Order{Copy: os.DirFS(root), Root: root, Into: into, Build: "this program", Library: trade.Library(), Templates: templates.Files, Program: "test"}
	pressed := func(o press.Order) {
		t.Helper()
		if _, faults, err := press.Press(o); err != nil || faults.Stopped() {
			t.Fatal(err, faults)
		}
	}
	pressed(press.Order{Copy: c.files, Into: anew, Library: order.Library, Templates: order.Templates, Program: "test"})
	for name, words := range map[string][2]string{
		"guides.kept": {"How loud is it", "How foul is it"},
		"pieces.kept": {"It is told below", "It is sold below"},
	} {
		pressed(order)
		kept := filepath.Join(root, ".bindpost", name)
		data, err := os.ReadFile(kept)
		if err != nil {
			t.Fatal(err)
		}
		changed := bytes.ReplaceAll(data, []byte(words[0]), []byte(words[1]))
		if bytes.Equal(changed, data) {
			t.Fatalf("the words are not in %s", name)
		}
		if err := os.WriteFile(kept, changed, 0o644); err != nil {
			t.Fatal(err)
		}
		pressed(order)
		sameFolders(t, "words changed in "+name, into, anew)
	}
}
