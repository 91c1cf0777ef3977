//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package publish

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lock holds a file beside the manual. Whoever lets go removes the file, so a
// holder makes sure that the file it holds is still the one with the name.
func lock(path string) (release func(), err error) {
	const tries = 100 // each is lost only to a press that ended in that instant
	for range tries {
		f, err := os.OpenFile(path, os.O_RDONLY|os.O_CREATE|unix.O_NOFOLLOW, 0o666)
		if err != nil {
			return nil, err
		}
		if err := flock(f); err != nil {
			f.Close()
			if errors.Is(err, errNoLock) {
				os.Remove(path)
			}
			return nil, err
		}
		if stillNamed(f, path) {
			return func() { os.Remove(path); f.Close() }, nil
		}
		f.Close()
	}
	return nil, errTaken
}

func flock(f *os.File) error {
	for {
		err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
		switch {
		case errors.Is(err, unix.EINTR):
		case errors.Is(err, unix.EWOULDBLOCK):
			return errTaken
		case isOneOf(err, unix.ENOLCK, unix.ENOSYS, unix.EOPNOTSUPP, unix.EINVAL):
			return errNoLock
		default:
			return err
		}
	}
}

func stillNamed(f *os.File, path string) bool {
	held, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := os.Lstat(path)
	return err == nil && os.SameFile(held, named)
}
