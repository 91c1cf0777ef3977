package folder

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"strings"

	"bindpost/calc/fault"
)

var (
	errOut  = errors.New("leads out of the copy")
	errLoop = errors.New("leads round in a circle")
)

// follow returns the path of the file that a link stands for, if it is one
// that may be read.
func (r *reader) follow(p string) (from string, ok bool) {
	from, err := r.resolve(p)
	switch {
	case errors.Is(err, errOut), errors.Is(err, errLoop):
		r.fault(p, "is a link that %s", err).Want("a file in the copy itself").
			Fix("put a copy of the file here in place of the link")
	case errors.Is(err, fs.ErrNotExist):
		r.fault(p, "is a link to a file that is not there").Want("a file in the copy itself").
			Fix("put the file here in place of the link, or delete the link")
	case err != nil:
		r.unread(p, err)
	case r.within(from):
		r.fault(p, "is a link into a folder that is not part of the copy").Want("a file in the copy itself").
			Fix("put a copy of the file here in place of the link")
	default:
		return from, true
	}
	return "", false
}

// within reports whether a path lies in a folder that is not entered.
func (r *reader) within(p string) bool {
	for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
		if r.closed(dir) {
			return true
		}
	}
	return false
}

// mostLinks is how many links may follow on one another.
const mostLinks = 40

// resolve walks a path name by name, through every link on the way, without
// ever asking the system to leave the copy.
func (r *reader) resolve(p string) (string, error) {
	at, rest := ".", strings.Split(p, "/")
	for links := 0; len(rest) > 0; {
		name := rest[0]
		rest = rest[1:]
		switch name {
		case "", ".":
			continue
		case "..":
			if at == "." {
				return "", errOut
			}
			at = path.Dir(at)
			continue
		}
		next := path.Join(at, name)
		info, err := fs.Lstat(r.fsys, next)
		if err != nil {
			return "", err
		}
		if info.Mode()&fs.ModeSymlink == 0 {
			at = next
			continue
		}
		if links++; links > mostLinks {
			return "", errLoop
		}
		target, err := fs.ReadLink(r.fsys, next)
		if err != nil {
			return "", err
		}
		target = filepath.ToSlash(target)
		if path.IsAbs(target) || filepath.VolumeName(target) != "" {
			return "", errOut
		}
		rest = append(strings.Split(target, "/"), rest...)
	}
	return at, nil
}

// remark notes a link to a folder, which is not entered: its guides would be
// missed without a word, or read twice.
func (r *reader) remark(p string) {
	info, err := fs.Stat(r.fsys, p)
	if err == nil && info.IsDir() {
		r.fault(p, "is a link to a folder, and what lies behind it is not read").Graded(fault.Note).
			Fix("if guides lie there, put the folder itself in the copy")
	}
}
