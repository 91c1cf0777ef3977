package publish

import (
	"cmp"
	"io/fs"
	"path"
	"slices"
	"unicode/utf8"

	"bindpost/calc/fault"
	"bindpost/site/folder"
)

// sheets is a manual laid ready for writing.
type sheets struct {
	stamp   string
	folders []string // each after the one that holds it
	files   []File   // sorted by path
}

// collate sorts the files and refuses paths that would leave the folder, fall
// upon one another, or break where the manual is carried to.
func collate(files []File, stamp Stamp) (sheets, *fault.Fault) {
	s := sheets{stamp: stamp.text(), files: slices.Clone(files)}
	slices.SortFunc(s.files, func(a, b File) int { return cmp.Compare(a.Path, b.Path) })
	taken := map[string]string{folder.SameName(folder.StampName): "the stamp"}
	folders := map[string]string{}
	for _, file := range s.files {
		p := file.Path
		if f := checkPath(p); f != nil {
			return sheets{}, f
		}
		key := folder.SameName(p)
		if other, is := taken[key]; is {
			return sheets{}, fallsUpon(p, other)
		}
		taken[key] = p
		for dir := path.Dir(p); dir != "."; dir = path.Dir(dir) {
			key := folder.SameName(dir)
			if other, is := folders[key]; is && other != dir {
				return sheets{}, liesIn(p, dir, other)
			}
			folders[key] = dir
		}
	}
	for key, dir := range folders {
		if other, is := taken[key]; is {
			return sheets{}, onFile(dir, other)
		}
		s.folders = append(s.folders, dir)
	}
	slices.Sort(s.folders)
	return s, nil
}

func fallsUpon(p, other string) *fault.Fault {
	if other == "" {
		other = "the stamp"
	}
	return about(p, "falls upon %q: many systems take the two for one file", other)
}

func liesIn(p, dir, other string) *fault.Fault {
	return about(p, "lies in %q, which falls upon %q: many systems take the two for one folder", dir, other)
}

func onFile(dir, other string) *fault.Fault {
	return about(dir, "is to be a folder, and falls upon the file %q", other)
}

func checkPath(p string) *fault.Fault {
	if utf8.ValidString(p) && (!fs.ValidPath(p) || p == ".") {
		return about(p, "cannot be a file of the manual: its path leads elsewhere")
	}
	if why := folder.Misnamed(p); why != "" {
		return about(p, "cannot be a file of the manual: %s", why)
	}
	return nil
}
