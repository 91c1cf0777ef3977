package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"bindpost/site/folder"
)

var errNotOurs = errors.New("no press has made it")

// sweep removes what an earlier publish left under one of its own names, and
// refuses to remove anything else. The stamp goes last, so that what a kill in
// the middle leaves is still known for what it is.
func sweep(path string) error {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if !ours(path) {
		return errNotOurs
	}
	entries, err := os.ReadDir(path)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == folder.StampName {
			continue
		}
		if err := os.RemoveAll(filepath.Join(path, e.Name())); err != nil {
			return err
		}
	}
	if err := os.Remove(filepath.Join(path, folder.StampName)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return os.Remove(path)
}

// ours reports whether a publish made what stands at a path: an empty folder,
// one with the stamp, or one that holds only a stamp cut short by a kill.
func ours(path string) bool {
	info, err := os.Lstat(path)
	if err != nil || !info.IsDir() {
		return false
	}
	if folder.Stamped(os.DirFS(path), ".") {
		return true
	}
	entries, err := os.ReadDir(path)
	switch {
	case err != nil || len(entries) > 1:
		return false
	case len(entries) == 0:
		return true
	}
	stamp := filepath.Join(path, folder.StampName)
	info, err = os.Lstat(stamp)
	if err != nil || !info.Mode().IsRegular() || info.Size() >= int64(len(folder.StampHead)) {
		return false
	}
	begun, err := os.ReadFile(stamp)
	return err == nil && strings.HasPrefix(folder.StampHead, string(begun))
}
