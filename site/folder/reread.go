package folder

import (
	"io/fs"

	"bindpost/calc/fault"
)

// ReadGuide reads one guide of a copy that was read before, and nothing else; p
// is its path in the copy. It reports false where the guide is not there any
// more, or anything is to be told of it: the whole copy is to be read then.
func ReadGuide(fsys fs.FS, p string) (*fault.Text, bool) {
	info, err := fs.Lstat(fsys, p)
	if err != nil || partOf(p) != guide || !info.Mode().IsRegular() {
		return nil, false
	}
	r := &reader{fsys: fsys, copy: &Copy{}, faults: &fault.List{}}
	data, ok := r.load(p, p)
	if !ok {
		return nil, false
	}
	t := r.text(p, data)
	return t, t != nil && r.faults.Len() == 0
}
