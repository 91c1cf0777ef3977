//go:build !darwin && !dragonfly && !freebsd && !linux && !netbsd && !openbsd && !windows

package publish

func lock(string) (release func(), err error) { return nil, errNoLock }
