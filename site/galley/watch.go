package galley

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"

	"bindpost/site/folder"
)

const (
	// Quiet is for how long nothing may have changed before a press begins. The
	// largest gap seen inside one burst of a thousand files was a tenth of it.
	Quiet = 40 * time.Millisecond
	// Longest is after what time a press begins although changes go on.
	Longest = 2 * time.Second
)

// watcher hears what changes in a copy. It watches folders, for a file that is
// saved by renaming another over it takes its watch away with it. It is used by
// one goroutine.
type watcher struct {
	root    string // the copy's folder as it was named, from the root of the disk
	real    string // where it lies once links are followed; the last known where it is away
	system  *fsnotify.Watcher
	ear     *ear            // that hears it
	above   map[string]bool // the copy's folder and those above it, by the names under which events tell of them
	folders map[string]bool // the folders of the copy that are watched; false: what lies in it is not read
	linked  bool            // the copy holds a link, and what changes is not told under the link's name
	heap    heap
	out     chan Changes
}

// watch begins to watch a copy, which need not be there. All of it counts as
// changed, unless the heap is emptied before the watcher runs.
func watch(root string) (*watcher, error) {
	w := &watcher{root: root, real: root, out: make(chan Changes)}
	if err := w.lay(); err != nil {
		w.close()
		return nil, err
	}
	return w, nil
}

func (w *watcher) close() {
	if w.system != nil {
		w.system.Close()
	}
}

// run hands on what changes until it is told to end. It returns an error where
// the system will not let it watch any more.
func (w *watcher) run(ctx context.Context) error {
	defer w.close()
	var b burst
	if !w.heap.empty() {
		b.begin()
	}
	for {
		var out chan<- Changes
		if b.over {
			out = w.out
		}
		var heard bool
		var err error
		select {
		case <-ctx.Done():
			return nil
		case <-w.ear.signal:
			heard, err = w.hearAll()
		case <-b.rest:
			b.over, b.rest, b.changes = true, nil, w.heap.changes()
		case out <- b.changes:
			b, w.heap = burst{}, heap{}
		}
		if err != nil {
			return err
		}
		if heard {
			b.goOn(&w.heap)
		}
	}
}

// hearAll takes in all that was told, and reports whether it may change the
// manual. Where the watch was laid anew, what the old one told is in it.
func (w *watcher) hearAll() (heard bool, err error) {
	ear := w.ear
	events, lost := ear.held()
	if lost {
		return true, w.lay()
	}
	for _, e := range events {
		one, err := w.hear(e)
		if heard = heard || one; err != nil || w.ear != ear {
			return heard, err
		}
	}
	return heard, nil
}

// burst is a row of changes with no quiet moment between them.
type burst struct {
	begun   time.Time
	rest    <-chan time.Time // when it is over, if nothing else comes
	over    bool             // a press may begin
	changes Changes          // of a burst that is over
}

func (b *burst) begin() {
	b.begun, b.rest = time.Now(), time.After(Quiet)
}

// goOn takes a change in. A burst that was long enough stays over, however much
// still comes: the press that waits for its turn takes that along.
func (b *burst) goOn(h *heap) {
	switch left := Longest - time.Since(b.begun); {
	case b.begun.IsZero():
		b.begin()
	case left > 0:
		b.over, b.rest = false, time.After(min(Quiet, left))
	case b.over:
		b.changes = h.changes()
	}
}

// hear takes an event in and reports whether it may change the manual.
func (w *watcher) hear(e fsnotify.Event) (bool, error) {
	const comes, goes = fsnotify.Create, fsnotify.Remove | fsnotify.Rename
	if e.Name == "" || e.Op&(comes|goes|fsnotify.Write) == 0 {
		return false, nil
	}
	if w.above[e.Name] {
		if e.Op&(comes|goes) == 0 {
			return false, nil
		}
		return true, w.lay()
	}
	base := filepath.Base(e.Name)
	open, watched := w.folders[filepath.Dir(e.Name)]
	switch {
	case watched && base == folder.StampName: // the folder becomes a manual, or is none any more
		return true, w.lay()
	case !open || folder.Aside(base):
		return false, nil
	}
	// The watch that was on what had this name goes first, whatever came: two
	// folders that change names would else be taken for one another.
	went := e.Op&(comes|goes) != 0 && w.leave(e.Name)
	info, err := os.Lstat(e.Name)
	if err == nil && info.IsDir() {
		if !went && !e.Op.Has(comes) {
			return false, nil // some systems say of a folder that it was written when something in it was
		}
		w.put(e.Name)
		return true, w.enter(e.Name)
	}
	if went {
		w.put(e.Name)
		return true, nil
	}
	return w.file(e.Name, err == nil && info.Mode()&fs.ModeSymlink != 0), nil
}

// file takes in that a file came, went or was written, and reports whether that
// may change the manual. What editors write for themselves has no part in it. In
// a copy with a link any file may have one, under the link's name.
func (w *watcher) file(path string, link bool) bool {
	w.linked = w.linked || link
	if !w.linked && !folder.Heeded(w.within(path)) {
		return false
	}
	w.put(path)
	return true
}

// within returns the path of something relative to the copy, with slashes.
func (w *watcher) within(path string) string {
	p, err := filepath.Rel(w.real, path)
	if err != nil {
		panic("galley: the copy is watched and something elsewhere is told of: " + err.Error())
	}
	return filepath.ToSlash(p)
}

// put notes that something changed at a path.
func (w *watcher) put(path string) {
	w.heap.whole = w.heap.whole || w.linked
	w.heap.put(w.within(path))
}

// lay begins anew: with a fresh watch on all folders of the copy and on those
// above it, as far as they are there. By the latter it is seen to come back.
func (w *watcher) lay() error {
	w.close()
	system, err := fsnotify.NewWatcher()
	if err != nil {
		return refused(err)
	}
	w.ear = listen(system)
	w.system, w.above, w.folders, w.linked = system, map[string]bool{}, map[string]bool{}, false
	w.heap.whole = true
	if real, err := filepath.EvalSymlinks(w.root); err == nil {
		w.real = real
	}
	for _, way := range []string{w.root, w.real} {
		if err := w.layAbove(way); err != nil {
			return err
		}
	}
	if info, err := os.Stat(w.real); err != nil || !info.IsDir() {
		return nil // it is away: when it comes back, a folder above it tells
	}
	return w.enter(w.real)
}

// layAbove watches the folders above a path, the highest first: one that comes
// into being while this is done is then told of by the one that holds it.
func (w *watcher) layAbove(path string) error {
	holder := filepath.Dir(path)
	if holder == path {
		return nil
	}
	if err := w.layAbove(holder); err != nil {
		return err
	}
	real, err := filepath.EvalSymlinks(holder)
	if err != nil {
		return nil // it is not there
	}
	w.above[filepath.Join(real, filepath.Base(path))] = true
	return refused(w.system.Add(real))
}

// enter watches a folder of the copy and all folders in it. The watch comes
// before the look, so that nothing is missed between; what is found has changed.
func (w *watcher) enter(dir string) error {
	if err := w.system.Add(dir); err != nil {
		return refused(err)
	}
	open := !folder.Stamped(os.DirFS(dir), ".")
	w.folders[dir] = open
	if !open {
		return nil
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // the press tells what cannot be read
	}
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		switch {
		case folder.Aside(e.Name()):
		case e.IsDir():
			if err := w.enter(path); err != nil {
				return err
			}
		default:
			w.file(path, e.Type()&fs.ModeSymlink != 0)
		}
	}
	return nil
}

// leave takes the watch from a folder that went, and from all folders in it: one
// that was only renamed would tell of its files under the name that it had. It
// reports whether what went was a folder.
func (w *watcher) leave(dir string) bool {
	if _, watched := w.folders[dir]; !watched {
		return false
	}
	for f := range w.folders {
		if f == dir || strings.HasPrefix(f, dir+string(filepath.Separator)) {
			w.system.Remove(f) // an error says that it went by itself
			delete(w.folders, f)
		}
	}
	return true
}

// ErrUnwatched is the cause where the system will not let folders be watched.
var ErrUnwatched = errors.New("the system does not let the folders of the copy be watched")

// refused passes over what the press tells better: that a folder is gone, or
// shut. What stands in the way of all watching is returned.
func refused(err error) error {
	switch {
	case err == nil, errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.ENOTDIR):
		return nil
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("%w: it has no room for more watches on folders; close other programs that watch folders, or allow more", ErrUnwatched)
	}
	return fmt.Errorf("%w: %w", ErrUnwatched, err)
}
