package publish

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"bindpost/calc/fault"
	"bindpost/site/folder"
)

// Check says whether a manual may be put into a folder. It is asked before
// anything is computed, and returns nil when the folder is absent, empty or an
// earlier manual, and is not the copy, the disk or the home folder nor holds
// one of them. The copy's folder is "" where the copy comes with the program.
// When the system would not let it look, the fault's cause is [ErrUnwritten].
func Check(into, copyRoot string) *fault.Fault {
	b, f := newBench(system, into)
	if f != nil {
		return f
	}
	if f := b.precious(copyRoot); f != nil {
		return f
	}
	if f := b.reachable(); f != nil {
		return f
	}
	_, f = look(b.typed, b.into)
	return f
}

// precious refuses the folders whose loss would be a disaster, whatever they
// hold and however they are spelt.
func (b *bench) precious(copyRoot string) *fault.Fault {
	const another = "name a folder of its own for the manual, such as --into manual"
	if b.parent == b.into {
		return about(b.typed, "is the whole disk, and a press replaces the folder it writes into").Fix(another)
	}
	if copyRoot != "" && holds(b.into, copyRoot) {
		if sameFolder(b.into, copyRoot) {
			return about(b.typed, "is the copy itself, and a press replaces the folder it writes into").Fix(another)
		}
		return about(b.typed, "holds the copy, and a press replaces the folder it writes into").Fix(another)
	}
	// Where the home folder lies changes nothing that is printed, only what is refused.
	if home, err := os.UserHomeDir(); err == nil && filepath.IsAbs(home) && holds(b.into, home) {
		return about(b.typed, "is or holds your home folder, and a press replaces the folder it writes into").Fix(another)
	}
	return nil
}

// holds reports whether outer is inner or lies above it, both as inner is
// spelt and where it really lies. The system compares the folders, so that
// links, capital letters and disks mounted twice do not deceive it.
func holds(outer, inner string) bool {
	abs, err := filepath.Abs(inner)
	if err != nil {
		return false
	}
	ways := []string{abs}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		ways = append(ways, real)
	}
	return slices.ContainsFunc(ways, func(dir string) bool {
		for ; ; dir = filepath.Dir(dir) {
			if sameFolder(outer, dir) {
				return true
			}
			if dir == filepath.Dir(dir) {
				return false
			}
		}
	})
}

func sameFolder(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// reachable sees that what lies above the folder is a folder, as far as it is
// there: the rest is made when the manual is written.
func (b *bench) reachable() *fault.Fault {
	for dir := b.parent; ; dir = filepath.Dir(dir) {
		_, err := os.Lstat(dir)
		if missing(err) && dir != filepath.Dir(dir) {
			continue
		}
		info, err := os.Stat(dir)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return about(b.typed, "lies behind %q, a link that leads nowhere", dir).Fix("name another folder with --into")
		case err == nil && !info.IsDir():
			return about(b.typed, "lies behind %q, which is a file", dir).Fix("name another folder with --into")
		case err != nil:
			return b.refused("the folder above it could not be looked at", err)
		}
		return nil
	}
}

// missing reports whether there is nothing at a path; below a file there is
// nothing either.
func missing(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

// state is what stands where the manual is to be.
type state uint8

const (
	absent state = iota
	empty
	manual
)

// look says what stands at a path, or why it may not be replaced.
func look(typed, path string) (state, *fault.Fault) {
	const another = "name another folder with --into"
	info, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return absent, nil
	case err != nil:
		return absent, unwritten(about(typed, "could not be looked at: %s", reason(err)), err).Fix(another)
	case info.Mode()&fs.ModeSymlink != 0:
		return absent, about(typed, "is a link to another place, and a press replaces only a true folder").Fix(another)
	case !info.IsDir():
		return absent, about(typed, "is a file, and a manual is a folder").Fix(another)
	}
	if folder.Stamped(os.DirFS(path), ".") {
		return manual, nil
	}
	first, err := firstName(path)
	switch {
	case err != nil:
		return absent, unwritten(about(typed, "could not be looked into: %s", reason(err)), err).Fix(another)
	case first != "":
		return absent, about(typed, "holds what no press has made, such as %q", first).
			Want("a folder that is not there yet, or is empty, or is an earlier manual").
			Fix("name another folder with --into, or move what is in this one elsewhere")
	}
	return empty, nil
}

// firstName returns the first name in a folder, "" when it is empty.
func firstName(dir string) (string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) == 0 {
		return "", err
	}
	return entries[0].Name(), nil
}
