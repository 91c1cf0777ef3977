//go:build unix

package publish

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/sys/unix"
)

// cannotExchange tells a system, a disk or a fence around the program that
// does not know the call from one that refuses it for this folder. EPERM may
// be either: the two steps then meet the refusal themselves.
func cannotExchange(err error) bool {
	return isOneOf(err, errNoExchange, unix.ENOSYS, unix.EINVAL, unix.ENOTSUP, unix.EOPNOTSUPP, unix.EXDEV, unix.EPERM)
}

// cannotSyncFolder tells a disk that knows no such thing from one that failed.
func cannotSyncFolder(err error) bool {
	return isOneOf(err, unix.EINVAL, unix.ENOTSUP, unix.EOPNOTSUPP, unix.ENOSYS)
}

func isOneOf(err error, kinds ...error) bool {
	for _, k := range kinds {
		if errors.Is(err, k) {
			return true
		}
	}
	return false
}

// mounted reports whether a folder is the head of a disk of its own.
func mounted(dir string) bool {
	a, aok := device(dir)
	b, bok := device(filepath.Dir(dir))
	return aok && bok && a != b
}

func device(dir string) (uint64, bool) {
	info, err := os.Lstat(dir)
	if err != nil {
		return 0, false
	}
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, false
	}
	return uint64(stat.Dev), true
}
