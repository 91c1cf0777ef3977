package publish

import (
	"os"
	"path/filepath"
	"slices"

	"bindpost/site/folder"
)

// write makes the manual in a folder that must not be there yet, and returns
// when the disk has taken it all. The stamp comes first, and is on the disk
// before anything else: without it nobody could tell what a power cut left.
func (s sheets) write(dir string) error {
	if err := os.Mkdir(dir, 0o777); err != nil {
		return err
	}
	if err := writeFile(filepath.Join(dir, folder.StampName), []byte(s.stamp)); err != nil {
		return err
	}
	if err := syncFolder(dir); err != nil {
		return err
	}
	for _, sub := range s.folders {
		if err := os.Mkdir(filepath.Join(dir, filepath.FromSlash(sub)), 0o777); err != nil {
			return err
		}
	}
	for _, f := range s.files {
		if err := writeFile(filepath.Join(dir, filepath.FromSlash(f.Path)), f.Data); err != nil {
			return err
		}
	}
	for _, sub := range slices.Backward(s.folders) {
		if err := syncFolder(filepath.Join(dir, filepath.FromSlash(sub))); err != nil {
			return err
		}
	}
	return syncFolder(dir)
}

func writeFile(path string, data []byte) (err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	if _, err = f.Write(data); err == nil {
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
