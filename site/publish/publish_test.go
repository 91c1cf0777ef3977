package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"

	"bindpost/calc/fault"
	"bindpost/site/folder"
)

func TestPublish(t *testing.T) {
	dir := t.TempDir()
	into := filepath.Join(dir, "not", "yet", "manual")
	report := mustPublish(t, into, "one", 2)
	if report.Into != into || report.Files != 4 || !report.Whole || len(report.Says) != 0 {
		t.Errorf("first: %+v", report)
	}
	stands(t, into, "one", 2)
	if report = mustPublish(t, into, "two", 1); report.Files != 3 || len(report.Says) != 0 {
		t.Errorf("second: %+v", report)
	}
	stands(t, into, "two", 1)
	alone(t, filepath.Dir(into), "manual")
	empty := filepath.Join(dir, "empty")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	mustPublish(t, empty, "two", 1)
	stands(t, empty, "two", 1)
	alone(t, dir, "empty", "not")
}

func TestPublishIntoTheFolderOneIsIn(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	report := mustPublish(t, "manual", "one", 1)
	if real, _ := filepath.EvalSymlinks(dir); report.Into != filepath.Join(real, "manual") && report.Into != filepath.Join(dir, "manual") {
		t.Errorf("went into %s", report.Into)
	}
	t.Chdir(filepath.Join(dir, "manual"))
	mustPublish(t, ".", "two", 1)
	stands(t, filepath.Join(dir, "manual"), "two", 1)
	alone(t, dir, "manual")
}

// The text of the stamp is a promise to every later press: known by its head,
// and the same for the same copy.
func TestStamp(t *testing.T) {
	got := Stamp{Title: "Wires\nand\tposts", Program: "bindpost 0.1"}.text()
	want := "This folder is a manual made by bindpost; the next press replaces all that is in it.\n" +
		"format: 1\ntitle: Wires and posts\nprogram: bindpost 0.1\n"
	if got != want {
		t.Errorf("got\n%s\nwanted\n%s", got, want)
	}
}

// What a press wrote is not read as a part of the copy that it was written into.
func TestManualInsideTheCopyIsNotRead(t *testing.T) {
	root := t.TempDir()
	if err := os.WriteFile(filepath.Join(root, "a.md"), []byte("# a"), 0o644); err != nil {
		t.Fatal(err)
	}
	into := filepath.Join(root, "out", "manual")
	rel, inside := Within(root, into)
	if rel != "out/manual" || !inside {
		t.Errorf("within: %q, %v", rel, inside)
	}
	for range 2 {
		if f := Check(into, root); f != nil {
			t.Fatal(f)
		}
		if _, err := Publish(into, []File{{"kept/a.md", []byte("# output")}, {"imprint.yaml", nil}}, Stamp{}); err != nil {
			t.Fatal(err)
		}
		for _, skip := range [][]string{nil, {rel}} {
			copy, faults := folder.Read(os.DirFS(root), skip...)
			if len(copy.Guides) != 1 || copy.Guides[0].Name() != "a.md" || faults.Len() != 0 {
				t.Errorf("read %d guides, %s", len(copy.Guides), faults)
			}
		}
	}
	if f := Check(filepath.Join(root, "out"), root); f == nil {
		t.Error("a folder that holds a manual is taken for one")
	}
}

func TestWithin(t *testing.T) {
	top := t.TempDir()
	root := filepath.Join(top, "copy")
	makeFolders(t, filepath.Join(root, "sub"), filepath.Join(top, "other"))
	makeLink(t, root, filepath.Join(top, "by-link"))
	makeLink(t, filepath.Join(root, "sub"), filepath.Join(top, "other", "in"))
	makeLink(t, filepath.Join(top, "other"), filepath.Join(root, "out"))
	makeLink(t, filepath.Join(top, "nowhere"), filepath.Join(root, "dangling"))
	cases := []struct {
		root, into, rel string
	}{
		{"copy", "copy/manual", "manual"}, {"copy", "copy/sub/a/b", "sub/a/b"}, {"copy", "by-link/manual", "manual"},
		{"by-link", "copy/sub", "sub"}, {"copy", "other/in/manual", "sub/manual"}, {"copy", "copy/sub/../manual", "manual"},
		{"copy", "copy", ""}, {"copy", "by-link", ""}, {"copy", "other/manual", ""}, {"copy", "copy/out/manual", ""},
		{"copy", "copy-two/manual", ""}, {"copy", ".", ""}, {"copy", "copy/dangling", "dangling"}, {"none", "copy/manual", ""},
	}
	for _, c := range cases {
		t.Run(c.root+" "+c.into, func(t *testing.T) {
			rel, inside := Within(filepath.Join(top, c.root), top+"/"+c.into)
			if rel != c.rel || inside != (c.rel != "") {
				t.Errorf("got %q, %v", rel, inside)
			}
		})
	}
	if rel, inside := Within("", root); inside {
		t.Errorf("in the program's own copy: %q", rel)
	}
}

func makeFolders(t *testing.T, dirs ...string) {
	t.Helper()
	for _, d := range dirs {
		if err := os.MkdirAll(d, 0o755); err != nil {
			t.Fatal(err)
		}
	}
}

func makeLink(t *testing.T, to, from string) {
	t.Helper()
	if err := os.Symlink(to, from); err != nil {
		t.Fatal(err)
	}
}

func makeFile(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// refuse makes a way of the system that always says no.
func refuse(err error) func(a, b string) error {
	return func(a, b string) error { return &os.LinkError{Op: "rename", Old: a, New: b, Err: err} }
}

// nth lets a way of the system through except at some of its turns.
func nth(way func(a, b string) error, err error, turns ...int) func(a, b string) error {
	turn := 0
	return func(a, b string) error {
		turn++
		for _, t := range turns {
			if t == turn {
				return refuse(err)(a, b)
			}
		}
		return way(a, b)
	}
}

// Where the system refuses the swap, the old manual stays and the message says so.
func TestSwapRefused(t *testing.T) {
	cases := map[string]struct {
		ways ways
		says string
	}{
		"no permission":                      {ways{exchange: refuse(syscall.EACCES), rename: os.Rename}, "permission denied"},
		"a disk to read only":                {ways{exchange: refuse(syscall.EROFS), rename: os.Rename}, "read-only file system"},
		"busy":                               {ways{exchange: refuse(syscall.EBUSY), rename: os.Rename}, "resource busy"},
		"first step":                         {ways{exchange: refuse(syscall.EINVAL), rename: nth(os.Rename, syscall.EBUSY, 1)}, "resource busy"},
		"second step":                        {ways{exchange: refuse(syscall.ENOSYS), rename: nth(os.Rename, syscall.EACCES, 2)}, "permission denied"},
		"a fence that says no to everything": {ways{exchange: refuse(syscall.EPERM), rename: refuse(syscall.EPERM)}, "operation not permitted"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			into := filepath.Join(dir, "manual")
			mustPublish(t, into, "old", 1)
			c.ways.lock = lock
			files, stamp := pressed("new", 1)
			report, f := publish(c.ways, into, files, stamp)
			if f == nil || !errors.Is(f, ErrUnwritten) {
				t.Fatalf("report %+v, fault %v", report, f)
			}
			for _, want := range []string{into + ": stop: the system refused to put the new manual in place: ", c.says, "; what stood there is as it was\n  try: close every program"} {
				if !strings.Contains(f.Error(), want) {
					t.Errorf("%q is not in what is told:\n%s", want, f)
				}
			}
			stands(t, into, "old", 1)
			alone(t, dir, "manual")
		})
	}
}

// With no exchange, two steps do, and the report says so.
func TestTwoSteps(t *testing.T) {
	for _, no := range []error{syscall.ENOSYS, syscall.EINVAL, syscall.EOPNOTSUPP, syscall.EXDEV, syscall.EPERM, errNoExchange} {
		t.Run(no.Error(), func(t *testing.T) {
			dir := t.TempDir()
			into := filepath.Join(dir, "manual")
			mustPublish(t, into, "old", 1)
			files, stamp := pressed("new", 1)
			report, f := publish(ways{exchange: refuse(no), rename: os.Rename, lock: lock}, into, files, stamp)
			if f != nil {
				t.Fatal(f)
			}
			const want = "this disk cannot exchange two folders at one stroke: the old manual was moved aside and the new one " +
				"put in its place, so that for a moment there was none"
			if report.Whole || len(report.Says) != 1 || report.Says[0] != want {
				t.Errorf("report %+v", report)
			}
			stands(t, into, "new", 1)
			alone(t, dir, "manual")
		})
	}
}

// If neither step can be made nor unmade, the author is told where the old
// manual lies, and the next press puts it back before it does anything else.
func TestOldManualAside(t *testing.T) {
	dir := t.TempDir()
	into := filepath.Join(dir, "manual")
	mustPublish(t, into, "old", 1)
	files, stamp := pressed("new", 1)
	_, f := publish(ways{exchange: refuse(syscall.ENOSYS), rename: nth(os.Rename, syscall.EACCES, 2, 3), lock: lock}, into, files, stamp)
	aside := filepath.Join(dir, ".manual.old-bindpost")
	want := into + ": stop: the new manual could not be put in place: permission denied; nor could the old one be put back: permission denied\n" +
		"  try: rename the folder \"" + aside + "\" to \"" + into + "\" by hand"
	if f == nil || f.Error() != want || !errors.Is(f, ErrUnwritten) || !errors.Is(f, syscall.EACCES) {
		t.Errorf("told:\n%v\nwanted:\n%s", f, want)
	}
	stands(t, aside, "old", 1)
	_, f = publish(ways{exchange: refuse(syscall.ENOSYS), rename: refuse(syscall.EROFS), lock: lock}, into, files, stamp)
	if f == nil || !strings.Contains(f.Error(), "could not be put back: read-only file system; no manual was made") {
		t.Errorf("told: %v", f)
	}
	stands(t, aside, "old", 1)
	// This press puts it back and then fails, for it has a page it cannot write.
	_, err := Publish(into, []File{{Path: strings.Repeat("k", 300) + ".html"}}, stamp)
	if !errors.Is(err, ErrUnwritten) || !strings.Contains(err.Error(), "the manual could not be written: file name too long; what stood there is as it was") {
		t.Errorf("told: %v", err)
	}
	stands(t, into, "old", 1)
	alone(t, dir, "manual")
}

// What comes into the folder in the very last moment goes aside with the old
// manual, and is not removed.
func TestChangedAtTheLastMoment(t *testing.T) {
	if runtime.GOOS != "linux" && runtime.GOOS != "darwin" {
		t.Skip("this system has no exchange")
	}
	dir := t.TempDir()
	into := filepath.Join(dir, "manual")
	mustPublish(t, into, "old", 1)
	files, stamp := pressed("new", 1)
	w := ways{exchange: func(a, b string) error {
		if err := exchange(a, b); err != nil {
			return err
		}
		if err := os.Remove(filepath.Join(a, folder.StampName)); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(a, "diary.txt"), nil, 0o644)
	}, rename: os.Rename, lock: lock}
	report, f := publish(w, into, files, stamp)
	if f != nil || len(report.Says) != 1 || !strings.Contains(report.Says[0], "the old one could not be removed and lies at \""+
		filepath.Join(dir, ".manual.new-bindpost")+"\": no press has made it") {
		t.Errorf("report %+v, fault %v", report, f)
	}
	stands(t, into, "new", 1)
	alone(t, dir, ".manual.new-bindpost", "manual")
}

// Names beside the manual that look like ours and are not stay untouched.
func TestWhatIsInTheWay(t *testing.T) {
	cases := map[string]struct {
		lay  func(t *testing.T, path string)
		gone bool
	}{
		"nothing":           {func(t *testing.T, path string) {}, true},
		"an empty folder":   {func(t *testing.T, path string) { makeFolders(t, path) }, true},
		"a stamp not begun": {func(t *testing.T, path string) { makeFolders(t, path); makeFile(t, path+"/"+folder.StampName, "") }, true},
		"a stamp cut short": {func(t *testing.T, path string) {
			makeFolders(t, path)
			makeFile(t, path+"/"+folder.StampName, "This fold")
		}, true},
		"a manual":        {func(t *testing.T, path string) { mustPublish(t, path, "left", 2) }, true},
		"another's stamp": {func(t *testing.T, path string) { makeFolders(t, path); makeFile(t, path+"/"+folder.StampName, "mine") }, false},
		"a short stamp and more": {func(t *testing.T, path string) {
			makeFolders(t, path)
			makeFile(t, path+"/"+folder.StampName, "This fold")
			makeFile(t, path+"/diary.txt", "")
		}, false},
		"a folder as stamp":  {func(t *testing.T, path string) { makeFolders(t, path+"/"+folder.StampName) }, false},
		"somebody's folder":  {func(t *testing.T, path string) { makeFolders(t, path); makeFile(t, path+"/diary.txt", "") }, false},
		"a file":             {func(t *testing.T, path string) { makeFile(t, path, "") }, false},
		"a link to a manual": {func(t *testing.T, path string) { makeLink(t, "manual", path) }, false},
		"a link to nothing":  {func(t *testing.T, path string) { makeLink(t, "nothing", path) }, false},
	}
	for name, c := range cases {
		for _, ours := range []string{"new", "old"} {
			t.Run(name+" as "+ours, func(t *testing.T) {
				dir := t.TempDir()
				into := filepath.Join(dir, "manual")
				mustPublish(t, into, "old", 1)
				path := filepath.Join(dir, ".manual."+ours+"-bindpost")
				c.lay(t, path)
				before, _ := os.Lstat(path)
				files, stamp := pressed("new", 1)
				_, err := Publish(into, files, stamp)
				if c.gone {
					if err != nil {
						t.Fatal(err)
					}
					stands(t, into, "new", 1)
					alone(t, dir, "manual")
					return
				}
				want := "what stands at \"" + path + "\" is in the way and could not be removed: no press has made it; what stood there is as it was\n  try: see what it is, and move it elsewhere"
				if err == nil || !strings.HasSuffix(err.Error(), want) || !errors.Is(err, ErrUnwritten) {
					t.Errorf("told:\n%v\nwanted:\n%s", err, want)
				}
				after, _ := os.Lstat(path)
				if !os.SameFile(before, after) {
					t.Error("it is another now")
				}
				stands(t, into, "old", 1)
				alone(t, dir, filepath.Base(path), "manual")
			})
		}
	}
}

// Presses at once: each writes whole or says that another is at work.
func TestTwoPressesAtOnce(t *testing.T) {
	dir := t.TempDir()
	into := filepath.Join(dir, "manual")
	texts := []string{"a", "b", "c", "d", "e", "f"}
	won := make([]bool, len(texts))
	for round := range 10 {
		var all sync.WaitGroup
		for i, text := range texts {
			all.Go(func() {
				files, stamp := pressed(text, 3)
				_, err := Publish(into, files, stamp)
				won[i] = err == nil
				if err != nil && (!errors.Is(err, ErrUnwritten) || !strings.Contains(err.Error(), "another press is writing into this folder; this one has written nothing\n  try: wait until")) {
					t.Errorf("round %d: %v", round, err)
				}
			})
		}
		all.Wait()
		got, err := tree(into)
		if err != nil {
			t.Fatal(err)
		}
		whole := false
		for i, text := range texts {
			whole = whole || won[i] && differs(got, wantTree(text, 3)) == ""
		}
		if !whole {
			t.Fatalf("round %d: no winner's manual stands whole: %v", round, won)
		}
		alone(t, dir, "manual")
	}
}

// A reader who opens pages while presses come and go always finds one.
func TestReaderAlwaysFindsAPage(t *testing.T) {
	if runtime.GOOS != "linux" && runtime.GOOS != "darwin" {
		t.Skip("this system has no exchange, and publish says so to the author")
	}
	into := filepath.Join(t.TempDir(), "manual")
	mustPublish(t, into, "a", 1)
	done := make(chan struct{})
	var reader sync.WaitGroup
	reads := 0
	reader.Go(func() {
		for {
			select {
			case <-done:
				return
			default:
			}
			data, err := os.ReadFile(filepath.Join(into, "index.html"))
			if err != nil || !strings.HasPrefix(string(data), "contents: ") {
				t.Errorf("read %d: %q, %v", reads, data, err)
				return
			}
			reads++
		}
	})
	for i := range 30 {
		mustPublish(t, into, []string{"a", "b"}[i%2], 1)
	}
	close(done)
	reader.Wait()
	if reads < 30 {
		t.Errorf("only %d pages were read", reads)
	}
}

// Where a disk knows no locks, a file that one press makes keeps others away;
// one that a killed press left is named, since nobody can tell it is dead.
func TestLockByMaking(t *testing.T) {
	dir := t.TempDir()
	into := filepath.Join(dir, "manual")
	w := ways{exchange: exchange, rename: os.Rename, lock: func(string) (func(), error) { return nil, errNoLock }}
	files, stamp := pressed("new", 1)
	if _, f := publish(w, into, files, stamp); f != nil {
		t.Fatal(f)
	}
	alone(t, dir, "manual")
	busy := filepath.Join(dir, ".manual.busy-bindpost")
	makeFile(t, busy, "")
	_, f := publish(w, into, files, stamp)
	if f == nil || !errors.Is(f, ErrUnwritten) || !strings.Contains(f.Error(), "if no other is at work, delete \""+busy+"\"") {
		t.Errorf("told: %v", f)
	}
	if _, err := lockByMaking(filepath.Join(dir, "none", "lock")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a lock in no folder: %v", err)
	}
}

// A lock file may be let go and removed at the very moment another opens it.
func TestLockIsHeldByOneOnly(t *testing.T) {
	path := filepath.Join(t.TempDir(), "lock")
	var all sync.WaitGroup
	inside := make(chan struct{}, 1)
	for range 4 {
		all.Go(func() {
			for range 300 {
				release, err := lock(path)
				if errors.Is(err, errTaken) {
					continue
				}
				if err != nil {
					t.Error(err)
					return
				}
				select {
				case inside <- struct{}{}:
					runtime.Gosched()
					<-inside
				default:
					t.Error("two hold the lock")
				}
				release()
			}
		})
	}
	all.Wait()
}

func TestLockThatIsALink(t *testing.T) {
	dir := t.TempDir()
	makeLink(t, filepath.Join(dir, "made"), filepath.Join(dir, ".manual.lock-bindpost"))
	_, err := Publish(filepath.Join(dir, "manual"), nil, Stamp{})
	if !errors.Is(err, ErrUnwritten) || !strings.Contains(err.Error(), "nothing may be written beside it: ") || !strings.Contains(err.Error(), "; no manual was made") {
		t.Errorf("told: %v", err)
	}
	alone(t, dir, ".manual.lock-bindpost")
}

func TestErrorsAreFaults(t *testing.T) {
	dir := t.TempDir()
	makeFile(t, filepath.Join(dir, "file"), "")
	var f *fault.Fault
	for _, into := range []string{"", filepath.Join(dir, "file"), filepath.Join(dir, "file", "manual")} {
		if _, err := Publish(into, nil, Stamp{}); !errors.As(err, &f) {
			t.Errorf("%q: %v is no fault", into, err)
		}
	}
	alone(t, dir, "file")
	if _, err := Publish(filepath.Join(dir, "manual"), nil, Stamp{}); err != nil {
		t.Errorf("a manual of no pages: %v", err)
	}
}
