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
	dir := filepath.Join(root, KeptFolder)
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if err := os.Mkdir(dir, 0o777); err != nil {
			return err
		}
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s is no folder", dir)
	}
	for _, f := range files {
		if err := keepFile(filepath.Join(dir, filepath.FromSlash(f.Path)), f.Data); err != nil {
			return err
		}
	}
	return nil
}

func keepFile(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644) // whoever else writes the guides may look
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}
