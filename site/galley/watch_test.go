package galley

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"bindpost/site/folder"
)

// guard is after what time something that should happen is taken never to do so.
const guard = time.Minute

// watched is a folder under watch, and what was told of it.
type watched struct {
	t     *testing.T
	root  string
	told  <-chan Changes
	times int // how often it was told that something changed
	marks int
}

// watching begins to watch a folder, and hears of what is there already.
func watching(t *testing.T, root string) *watched {
	t.Helper()
	w, err := watch(root)
	must(t, err)
	return runningWatch(t, w)
}

func runningWatch(t *testing.T, w *watcher) *watched {
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- w.run(ctx) }()
	t.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	v := &watched{t: t, root: w.root, told: w.out}
	if first := v.next(); !first.Whole {
		t.Errorf("at first all of the copy has changed, and told is %v", first)
	}
	return v
}

// next waits for the next that is told.
func (v *watched) next() Changes {
	v.t.Helper()
	select {
	case c := <-v.told:
		v.times++
		return c
	case <-time.After(guard):
		v.t.Fatal("nothing is told any more")
		return Changes{}
	}
}

// until waits until all these paths were told, and returns everything that was.
func (v *watched) until(paths ...string) Changes {
	v.t.Helper()
	var all Changes
	missing := slices.Clone(paths)
	for len(missing) > 0 {
		c := v.next()
		all.Whole = all.Whole || c.Whole
		all.Paths = append(all.Paths, c.Paths...)
		missing = slices.DeleteFunc(missing, func(p string) bool { return slices.Contains(c.Paths, p) })
	}
	return all
}

// untilWhole waits until it is told that anything may have changed.
func (v *watched) untilWhole() {
	v.t.Helper()
	for !v.next().Whole {
	}
}

// mark is the beginning of names of files that only tell how far the watch is.
const mark = "mark-"

// only fails on anything told beside these paths, also of what is told until a
// file comes that is written now.
func (v *watched) only(c Changes, paths ...string) {
	v.t.Helper()
	v.marks++
	last := fmt.Sprintf("%s%d.md", mark, v.marks)
	v.write(last)
	rest := v.until(last)
	c.Whole = c.Whole || rest.Whole
	got := slices.Compact(slices.Sorted(slices.Values(append(c.Paths, rest.Paths...))))
	got = slices.DeleteFunc(got, func(p string) bool { return strings.HasPrefix(p, mark) })
	if slices.Sort(paths); c.Whole || !slices.Equal(got, paths) {
		v.t.Errorf("told is %v (whole: %v), and %v was wanted", got, c.Whole, paths)
	}
}

// everyFolder writes a guide into each folder of the copy, and waits until all
// are told: so none has lost its watch.
func (v *watched) everyFolder() {
	v.t.Helper()
	var probes []string
	must(v.t, filepath.WalkDir(v.root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() {
			within, _ := filepath.Rel(v.root, filepath.Join(path, "probe.md"))
			probes = append(probes, filepath.ToSlash(within))
		}
		return err
	}))
	v.write(probes...)
	v.until(probes...)
}

func (v *watched) at(path string) string { return filepath.Join(v.root, filepath.FromSlash(path)) }

// write writes files, and the folders that they lie in.
func (v *watched) write(paths ...string) {
	v.t.Helper()
	for _, p := range paths {
		must(v.t, os.MkdirAll(filepath.Dir(v.at(p)), 0o777))
		must(v.t, os.WriteFile(v.at(p), []byte("text"), 0o666))
	}
}

func (v *watched) rename(from, to string) {
	v.t.Helper()
	must(v.t, os.Rename(v.at(from), v.at(to)))
}

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// However an editor saves a guide, that guide has changed and nothing else.
func TestSaves(t *testing.T) {
	for name, save := range map[string]func(*watched){
		"written over": func(v *watched) { v.write("a.md") },
		"a file renamed over it": func(v *watched) {
			v.write("a.md.tmp")
			v.rename("a.md.tmp", "a.md")
		},
		"a hidden file renamed over it": func(v *watched) {
			v.write(".a.md.swp")
			v.rename(".a.md.swp", "a.md")
		},
		"with a copy of the old one kept": func(v *watched) {
			v.rename("a.md", "a.md~")
			v.write("a.md")
		},
		"with a copy of the old one taken away": func(v *watched) {
			v.write("4913")
			must(v.t, os.Remove(v.at("4913")))
			v.rename("a.md", "a.md~")
			v.write("a.md")
			must(v.t, os.Remove(v.at("a.md~")))
		},
	} {
		t.Run(name, func(t *testing.T) {
			v := &watched{t: t, root: t.TempDir()}
			v.write("a.md", "b.md")
			v = watching(t, v.root)
			for range 3 { // the watch outlasts the first
				save(v)
				v.only(v.until("a.md"), "a.md")
			}
		})
	}
}

// What has no part in a press begins none.
func TestPassedOver(t *testing.T) {
	v := &watched{t: t, root: t.TempDir()}
	v.write("a.md")
	v = watching(t, v.root)
	v.write("a.md~", ".a.md.swp", "x.tmp", "notes.txt", "_draft.md", ".bindpost/ledger.jsonl", "_aside/b.md")
	must(t, os.Chmod(v.at("a.md"), 0o600))
	v.write("z.md")
	v.only(v.until("z.md"), "z.md")
	v.write("_aside/b.md", "Imprint.YML") // the second is not read, and told to be misnamed
	v.only(v.until("Imprint.YML"), "Imprint.YML")
	v.rename("_draft.md", "draft.md")
	v.only(v.until("draft.md"), "draft.md")
}

// Folders that come with all that is in them are missed by no file.
func TestFoldersAtOnce(t *testing.T) {
	v := watching(t, t.TempDir())
	var paths []string
	for i := range 200 {
		paths = append(paths, fmt.Sprintf("f%d/deep/a.md", i), fmt.Sprintf("f%d/deep/er/b.md", i))
	}
	v.write(paths...)
	v.until(paths...)
	v.everyFolder()
}

func TestGoingAndRenaming(t *testing.T) {
	v := &watched{t: t, root: t.TempDir()}
	v.write("a.md", "b.md", "sub/in/c.md", "sub/d.md", "gone/e.md")
	v = watching(t, v.root)
	must(t, os.Remove(v.at("a.md")))
	v.only(v.until("a.md"), "a.md")
	v.rename("b.md", "bb.md")
	v.only(v.until("b.md", "bb.md"), "b.md", "bb.md")
	must(t, os.RemoveAll(v.at("gone")))
	v.until("gone")
	v.rename("sub", "other")
	v.only(v.until("sub", "other/in/c.md"), "sub", "other", "other/d.md", "other/in/c.md")
	v.write("other/in/c.md")
	v.only(v.until("other/in/c.md"), "other/in/c.md")
	v.rename("other/in", "in")
	v.until("other/in", "in/c.md")
	v.write("in/c.md")
	v.only(v.until("in/c.md"), "in/c.md")
	must(t, os.Rename(v.at("in"), filepath.Join(t.TempDir(), "in")))
	v.only(v.until("in"), "in")
	v.everyFolder()
}

// The order tells which guide was written last.
func TestOrder(t *testing.T) {
	v := watching(t, t.TempDir())
	v.write("b.md", "c.md", "a.md", "c.md", "b.md")
	c := v.until("a.md", "b.md", "c.md")
	if n := len(c.Paths); c.Paths[n-1] != "b.md" {
		t.Errorf("the order is %v", c.Paths)
	}
}

// A thousand files are one burst, or, on a machine that stumbles, a few.
func TestThousandAtOnce(t *testing.T) {
	v := watching(t, t.TempDir())
	var paths []string
	for i := range 1000 {
		paths = append(paths, fmt.Sprintf("guide-%d.md", i))
	}
	before := v.times
	v.write(paths...)
	v.until(paths...)
	if n := v.times - before; n > 20 {
		t.Errorf("a thousand files were told of in %d bursts", n)
	}
}

// The copy goes and comes back, in every way that it can.
func TestCopyGoneAndBack(t *testing.T) {
	for name, c := range map[string]struct{ away, back func(top string) error }{
		"removed and made anew": {
			func(top string) error { return os.RemoveAll(filepath.Join(top, "over/copy")) },
			func(top string) error { return os.Mkdir(filepath.Join(top, "over/copy"), 0o777) },
		},
		"renamed and renamed back": {
			func(top string) error {
				return os.Rename(filepath.Join(top, "over/copy"), filepath.Join(top, "over/elsewhere"))
			},
			func(top string) error {
				return os.Rename(filepath.Join(top, "over/elsewhere"), filepath.Join(top, "over/copy"))
			},
		},
		"the folder above it removed": {
			func(top string) error { return os.RemoveAll(filepath.Join(top, "over")) },
			func(top string) error { return os.MkdirAll(filepath.Join(top, "over/copy"), 0o777) },
		},
		"the folder above it renamed": {
			func(top string) error { return os.Rename(filepath.Join(top, "over"), filepath.Join(top, "under")) },
			func(top string) error { return os.Rename(filepath.Join(top, "under"), filepath.Join(top, "over")) },
		},
	} {
		t.Run(name, func(t *testing.T) {
			top := t.TempDir()
			v := &watched{t: t, root: filepath.Join(top, "over", "copy")}
			v.write("a.md", "sub/b.md")
			v = watching(t, v.root)
			for range 2 {
				must(t, c.away(top))
				v.untilWhole()
				must(t, c.back(top))
				v.untilWhole()
				v.write("a.md", "sub/b.md")
				v.until("a.md", "sub/b.md")
				v.everyFolder()
			}
		})
	}
}

// A copy that is not there yet is seen to come.
func TestCopyThatComes(t *testing.T) {
	top := t.TempDir()
	v := watching(t, filepath.Join(top, "a", "b", "copy"))
	v.write("one.md")
	v.until("one.md")
	v.everyFolder()
}

// Behind a link the copy is watched where it lies, and the link too.
func TestCopyBehindLink(t *testing.T) {
	top := t.TempDir()
	first, second := filepath.Join(top, "first"), filepath.Join(top, "second")
	must(t, os.MkdirAll(first, 0o777))
	must(t, os.MkdirAll(second, 0o777))
	link := filepath.Join(top, "link")
	must(t, os.Symlink(first, link))
	v := watching(t, link)
	v.write("a.md")
	v.only(v.until("a.md"), "a.md")
	must(t, os.RemoveAll(first))
	v.untilWhole()
	must(t, os.Mkdir(first, 0o777))
	v.untilWhole()
	v.write("a.md")
	v.until("a.md")
	must(t, os.Symlink(second, link+"-new"))
	must(t, os.Rename(link+"-new", link))
	v.untilWhole()
	v.write("b.md")
	v.until("b.md")
}

// In a copy with links a file may change under a name that is not told.
func TestLinksInCopy(t *testing.T) {
	v := watching(t, t.TempDir())
	v.write("text.txt")
	must(t, os.Symlink("text.txt", v.at("a.md")))
	v.untilWhole()
	v.write("text.txt")
	v.untilWhole()
}

// What a press writes into the copy is not taken for a change of it.
func TestManualInCopy(t *testing.T) {
	v := &watched{t: t, root: t.TempDir()}
	v.write("a.md")
	v = watching(t, v.root)
	pressed := func() {
		v.write(".manual.new/index.html", ".manual.new/sub/x.md")
		must(t, os.WriteFile(v.at(".manual.new/"+folder.StampName), []byte(folder.StampHead), 0o666))
		if _, err := os.Stat(v.at("manual")); err == nil {
			v.rename("manual", ".manual.old")
		}
		v.rename(".manual.new", "manual")
		must(t, os.RemoveAll(v.at(".manual.old")))
	}
	for range 3 {
		pressed()
		v.only(v.until("manual"), "manual")
		v.write("manual/sub/x.md", "manual/y.md", "a.md")
		v.only(v.until("a.md"), "a.md")
	}
	must(t, os.Remove(v.at("manual/"+folder.StampName)))
	v.untilWhole()
	v.write("manual/sub/x.md")
	v.until("manual/sub/x.md")
}

// Where the system loses count, all of the copy is taken anew: the folder whose
// coming was lost is watched as well.
func TestOverflow(t *testing.T) {
	limit := 16384
	if text, err := os.ReadFile("/proc/sys/fs/inotify/max_queued_events"); err == nil {
		fmt.Sscan(string(text), &limit)
	}
	w, err := watch(t.TempDir())
	must(t, err)
	w.heap = heap{}
	w.ear.mu.Lock() // nobody listens meanwhile
	for i := range limit + 2000 {
		must(t, os.WriteFile(filepath.Join(w.root, fmt.Sprintf("%d.md", i)), nil, 0o666))
	}
	must(t, os.Mkdir(filepath.Join(w.root, "lost"), 0o777))
	w.ear.mu.Unlock()
	v := &watched{t: t, root: w.root, told: w.out}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() { ended <- w.run(ctx) }()
	v.untilWhole()
	v.write("lost/a.md")
	v.until("lost/a.md")
	cancel()
	must(t, <-ended)
}

// Folders are made, renamed and removed by the hundred while the watch runs; in
// the end each that is there is watched, under the name that it has.
func TestManyRenames(t *testing.T) {
	v := watching(t, t.TempDir())
	rolls := rand.New(rand.NewPCG(1, 2))
	name := func() string {
		names := []string{"a", "b", "c", "a/d", "a/e", "b/d", "b/d/f", "c/g"}
		return names[rolls.IntN(len(names))]
	}
	for range 600 {
		from, to := name(), name()
		switch rolls.IntN(4) {
		case 0, 1:
			os.MkdirAll(v.at(from), 0o777)
		case 2: // what cannot be renamed stays
			if !strings.HasPrefix(to, from) {
				os.Rename(v.at(from), v.at(to))
			}
		case 3:
			os.RemoveAll(v.at(from))
		}
		if rolls.IntN(40) == 0 {
			v.write("mark.md")
			v.until("mark.md")
		}
	}
	v.write("last.md")
	v.until("last.md")
	v.everyFolder()
}

// What the system says of one folder is the press's to tell; that it watches no
// more of them ends the galley, in words that help.
func TestRefusals(t *testing.T) {
	for _, err := range []error{nil, fs.ErrNotExist, fs.ErrPermission, syscall.ENOTDIR} {
		if got := refused(err); got != nil {
			t.Errorf("%v is told as %v", err, got)
		}
	}
	full := refused(&fs.PathError{Op: "watch", Path: "a", Err: syscall.ENOSPC})
	if !errors.Is(full, ErrUnwatched) || !strings.Contains(full.Error(), "close other programs") {
		t.Errorf("no room is told as %v", full)
	}
	if other := refused(syscall.EMFILE); !errors.Is(other, ErrUnwatched) || !errors.Is(other, syscall.EMFILE) {
		t.Errorf("another refusal is told as %v", other)
	}
}
