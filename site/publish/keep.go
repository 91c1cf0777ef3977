package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// KeptFolder is the folder in a copy in which a press keeps what it needs to
// know the next time.
const KeptFolder = ".bindpost"

// Keep writes files into the kept folder of a copy, each at one stroke. The
// files may be written anew at every press and hold nothing that a press could
// not make again.
func Keep(root string, files []File) error {
	for _, f := range files {
		k, err := Keeping(root, f.Path)
		if err != nil {
			return err
		}
		if _, err := k.Write(f.Data); err != nil {
			k.Discard()
			return err
		}
		if err := k.Stand(); err != nil {
			return err
		}
	}
	return nil
}

// Kept is a file of the kept folder that is being written. The one that stood
// there stands until [Kept.Stand]; one that is not to stand must be given up with
// [Kept.Discard].
type Kept struct {
	*os.File
	path string
	dir  string // the kept folder, where it was made for this file; else ""
}

// Keeping begins a file of the kept folder of a copy.
func Keeping(root, name string) (*Kept, error) {
	dir, fresh := filepath.Join(root, KeptFolder), ""
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.Mkdir(dir, 0o777); err != nil {
			return nil, err
		}
		fresh = dir
	case err != nil:
		return nil, err
	case !info.IsDir():
		return nil, fmt.Errorf("%s is no folder", dir)
	}
	path := filepath.Join(dir, filepath.FromSlash(name))
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*")
	if err != nil {
		return nil, err
	}
	return &Kept{f, path, fresh}, nil
}

// Stand puts the file in its place.
func (k *Kept) Stand() error {
	err := k.Chmod(0o644) // whoever else writes the guides may look
	if closed := k.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(k.Name(), k.path)
	}
	if err != nil {
		_ = os.Remove(k.Name())
	}
	return err
}

// Discard gives the file up, and the folder if that was made for it and holds
// nothing else.
func (k *Kept) Discard() {
	_ = k.Close()
	_ = os.Remove(k.Name())
	if k.dir != "" {
		_ = os.Remove(k.dir)
	}
}
