package publish

import (
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"sync"

	"bindpost/site/folder"
)

// tray is the folder in which a manual is written before it takes its place.
// Files may be put into it by several goroutines.
type tray struct {
	dir     string
	disk    *disk // nil where each file waits for the disk alone
	mu      sync.Mutex
	folders []string // that were made in it, each after the one that holds it
}

// newTray makes the folder, which must not be there yet. The stamp comes first,
// and is on the disk before anything else: without it nobody could tell what a
// power cut left.
func newTray(dir, stamp string) (*tray, error) {
	if err := os.Mkdir(dir, 0o777); err != nil {
		return nil, err
	}
	if err := writeFile(filepath.Join(dir, folder.StampName), []byte(stamp), true); err != nil {
		return nil, err
	}
	if err := syncFolder(dir); err != nil {
		return nil, err
	}
	disk, err := diskOf(dir)
	return &tray{dir: dir, disk: disk}, err
}

// close lets go of the folder; what is in it stays.
func (t *tray) close() { t.disk.close() }

// put writes a file, and the folders that are to hold it. One of that path which
// was put there before gives way.
func (t *tray) put(f File) error {
	if err := t.makeFolder(path.Dir(f.Path)); err != nil {
		return err
	}
	err := writeFile(filepath.Join(t.dir, filepath.FromSlash(f.Path)), f.Data, t.disk == nil)
	t.disk.wrote(len(f.Data))
	return err
}

// create begins a file that is written piece by piece.
func (t *tray) create(p string) (io.WriteCloser, error) {
	if err := t.makeFolder(path.Dir(p)); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(filepath.Join(t.dir, filepath.FromSlash(p)), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	return &long{f, t.disk == nil}, err
}

// long is a file that is written piece by piece; where it is to be sure, closing
// it returns when the disk has it.
type long struct {
	*os.File
	sure bool
}

func (l *long) Close() error {
	var err error
	if l.sure {
		err = l.Sync()
	}
	if closed := l.File.Close(); err == nil {
		err = closed
	}
	return err
}

func (t *tray) makeFolder(dir string) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	var missing []string
	for ; dir != "." && !slices.Contains(t.folders, dir); dir = path.Dir(dir) {
		missing = append(missing, dir)
	}
	for _, one := range slices.Backward(missing) {
		if err := os.Mkdir(filepath.Join(t.dir, filepath.FromSlash(one)), 0o777); err != nil {
			return err
		}
		t.folders = append(t.folders, one)
	}
	return nil
}

// settle returns when the disk has taken it all.
func (t *tray) settle() error {
	if t.disk != nil {
		return t.disk.settle()
	}
	for _, sub := range slices.Backward(t.folders) {
		if err := syncFolder(filepath.Join(t.dir, filepath.FromSlash(sub))); err != nil {
			return err
		}
	}
	return syncFolder(t.dir)
}

// write puts a whole manual into a folder that must not be there yet.
func (s sheets) write(dir string) (*tray, error) {
	t, err := newTray(dir, s.stamp)
	if err != nil {
		return nil, err
	}
	for _, f := range s.files {
		if err := t.put(f); err != nil {
			t.close()
			return nil, err
		}
	}
	return t, nil
}

// writeFile writes a file anew; where it is to be sure, it returns when the disk
// has it.
func writeFile(path string, data []byte, sure bool) (err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o666)
	if err != nil {
		return err
	}
	if _, err = f.Write(data); err == nil && sure {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	return err
}

// syncFolder brings the names in a folder onto the disk. Systems and disks
// that cannot do this for a folder say so, and are not failed for it.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !cannotSyncFolder(err) {
		return err
	}
	return nil
}
