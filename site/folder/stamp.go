package folder

import (
	"io"
	"io/fs"
	"path"
	"strings"
)

// StampName is the name of the file that marks a folder as a finished manual.
const StampName = ".bindpost-stamp"

// StampHead is how the text of a stamp begins. A file of the right name that
// begins otherwise is no stamp.
const StampHead = "This folder is a manual made by bindpost"

// Stamped reports whether a folder carries the stamp of a finished manual. A
// stamp that is a link does not count: it may have been made for another
// folder.
func Stamped(fsys fs.FS, dir string) bool {
	name := path.Join(dir, StampName)
	info, err := fs.Lstat(fsys, name)
	if err != nil || !info.Mode().IsRegular() {
		return false
	}
	f, err := fsys.Open(name)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, int64(len(StampHead))))
	return err == nil && strings.HasPrefix(string(head), StampHead)
}
