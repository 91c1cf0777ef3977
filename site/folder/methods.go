package folder

import (
	"cmp"
	"io/fs"
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// ReadMethods reads the author's own methods of the copy that lies at the root
// of fsys, and nothing else of it.
func ReadMethods(fsys fs.FS) ([]*fault.Text, *fault.List) {
	r := &reader{fsys: fsys, shut: map[string]bool{}, named: map[string]string{}, copy: &Copy{}, faults: &fault.List{}}
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		r.unread(".", err)
	}
	for _, e := range entries {
		if e.IsDir() && strings.EqualFold(e.Name(), methodsFolder) && !r.closed(e.Name()) {
			r.enter(e.Name())
		}
	}
	slices.SortFunc(r.copy.Methods, func(a, b *fault.Text) int { return cmp.Compare(a.Name(), b.Name()) })
	return r.copy.Methods, r.faults
}
