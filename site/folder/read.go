package folder

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// Read reads the copy that lies at the root of fsys. Paths in skip are not
// entered: the folder for the manual, when it lies inside the copy. The copy
// returned holds every text that could be read, whatever faults there are.
func Read(fsys fs.FS, skip ...string) (*Copy, *fault.List) {
	r := &reader{fsys: fsys, shut: map[string]bool{}, named: map[string]string{}, copy: &Copy{}, faults: &fault.List{}}
	for _, p := range skip {
		r.shut[path.Clean(p)] = true
	}
	if Stamped(fsys, ".") {
		r.fault(StampName, "this folder is a finished manual, not a copy to press").
			Want("a folder of guides").
			Fix("name the folder that holds your guides; if this is it, delete the file %s", StampName)
		r.copy.Lost = []string{"imprint.yaml"}
		return r.copy, r.faults
	}
	r.enter(".")
	byName := func(a, b *fault.Text) int { return cmp.Compare(a.Name(), b.Name()) }
	slices.SortFunc(r.copy.Guides, byName)
	slices.SortFunc(r.copy.Methods, byName)
	slices.SortFunc(r.copy.Phrases, byName)
	slices.SortFunc(r.copy.Drawings, func(a, b Drawing) int { return cmp.Compare(a.Path, b.Path) })
	return r.copy, r.faults
}

type reader struct {
	fsys   fs.FS
	shut   map[string]bool   // folders that are not entered
	named  map[string]string // path of each file read and each folder above it, by SameName
	copy   *Copy
	faults *fault.List
}

// fault puts a fault about a whole file or folder on the list.
func (r *reader) fault(p, format string, args ...any) *fault.Fault {
	if p == "." {
		p = "the copy"
	}
	f := fault.At(fault.NewText(Shown(p), "").All(), format, args...)
	r.faults.Add(f)
	return f
}

// unread puts a fault on the list that is the system's and not the author's.
func (r *reader) unread(p string, err error) {
	f := r.fault(p, "could not be read: %s", reason(err)).
		Fix("see whether you may open it, and whether the disk is still there")
	f.Err = fmt.Errorf("%w: %w", ErrUnread, err)
}

// gone tells that the copy is not there at all: nothing in it is missing by
// itself.
func (r *reader) gone(err error) {
	f := r.fault(".", "is not there any more").Want("the folder of the guides").Fix("put it back")
	f.Err = fmt.Errorf("%w: %w", ErrUnread, err)
	r.copy.Lost = append(r.copy.Lost, "imprint.yaml", "standing.yaml")
}

// closed reports whether a folder is not part of the copy.
func (r *reader) closed(dir string) bool {
	is, known := r.shut[dir]
	if !known {
		is = Aside(path.Base(dir)) || Stamped(r.fsys, dir)
		r.shut[dir] = is
	}
	return is
}

// Aside reports whether a file or folder of this name is not to be read.
func Aside(name string) bool {
	return name != "." && (strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_"))
}

func (r *reader) enter(dir string) {
	entries, err := fs.ReadDir(r.fsys, dir)
	switch {
	case err != nil && dir == "." && errors.Is(err, fs.ErrNotExist):
		r.gone(err)
	case err != nil:
		r.unread(dir, err)
	}
	for _, e := range entries {
		p := path.Join(dir, e.Name())
		switch {
		case Aside(e.Name()):
		case !e.IsDir():
			r.meet(p, e.Type())
		case !fs.ValidPath(p):
			r.fault(p, "%s", Misnamed(p)).Fix("rename the folder, with letters, digits and hyphens")
		case !r.closed(p):
			r.enter(p)
		}
	}
}

// meet takes a file in, if it is a part of the copy.
func (r *reader) meet(p string, mode fs.FileMode) {
	part := partOf(p)
	switch {
	case part == nothing && mode&fs.ModeSymlink != 0:
		r.remark(p)
		return
	case part == nothing:
		r.nearly(p)
		return
	}
	r.checkNames(p)
	taken := false
	defer func() {
		if !taken {
			r.copy.Lost = append(r.copy.Lost, p)
		}
	}()
	from, ok := p, fs.ValidPath(p)
	if ok && mode&fs.ModeSymlink != 0 {
		from, ok = r.follow(p)
	}
	if !ok {
		return
	}
	data, ok := r.load(p, from)
	switch {
	case !ok:
	case part == drawing && path.Ext(p) != ".svg":
		taken = true
		r.copy.Drawings = append(r.copy.Drawings, Drawing{Path: p, Data: data, Text: fault.NewText(Shown(p), "")})
	default:
		taken = r.take(part, p, data)
	}
}

// take takes a text in; false: it is none.
func (r *reader) take(part part, p string, data []byte) bool {
	text := r.text(p, data)
	switch {
	case text == nil:
	case part == drawing:
		r.copy.Drawings = append(r.copy.Drawings, Drawing{Path: p, Data: data, Text: text})
	default:
		r.copy.put(part, text)
	}
	return text != nil
}

// checkNames tells of a name on the way to a file that another system would
// not take. A folder is told of once, however many files it holds.
func (r *reader) checkNames(p string) {
	for i := 0; i <= len(p); i++ {
		if i < len(p) && p[i] != '/' {
			continue
		}
		sofar := p[:i]
		first, known := r.named[SameName(sofar)]
		if known && first == sofar {
			continue
		}
		if known {
			r.fault(sofar, "differs only in capital letters from %q, and many systems take the two for one", first).
				Fix("rename one of them")
			r.named[SameName(sofar)] = sofar
			continue
		}
		r.named[SameName(sofar)] = sofar
		if why := Misnamed(path.Base(sofar)); why != "" {
			r.fault(sofar, "%s", why).Fix("rename it, with letters, digits and hyphens")
		}
	}
}
