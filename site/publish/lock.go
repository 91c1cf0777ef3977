package publish

import (
	"errors"
	"io/fs"
	"os"
)

var (
	errTaken  = errors.New("another press holds it")
	errNoLock = errors.New("nobody can hold a file here")
)

// takeLock keeps every other publish away from the folder until release is
// called. A lock that the system keeps ends with the press that holds it, even
// if that is killed; only where a disk knows none, the file itself is the lock.
func takeLock(w ways, path, busy string) (release func(), err error) {
	release, err = w.lock(path)
	if errors.Is(err, errNoLock) {
		return lockByMaking(busy)
	}
	return release, err
}

// lockByMaking takes a lock by making a file that must not be there yet.
func lockByMaking(path string) (release func(), err error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return nil, errTaken
	}
	if err != nil {
		return nil, err
	}
	f.Close()
	return func() { os.Remove(path) }, nil
}
