package publish

import (
	"os"
	"path"
	"path/filepath"
)

// Within returns the path, with slashes, at which a folder lies inside the
// copy, and whether it does. Reading the copy is to skip that path. Neither
// needs to be spelt as the other is, and the folder need not be there yet.
func Within(copyRoot, into string) (string, bool) {
	dir, err := filepath.Abs(into)
	if err != nil || copyRoot == "" {
		return "", false
	}
	dir = realPath(dir)
	rel := ""
	for !sameFolder(dir, copyRoot) {
		parent := filepath.Dir(dir)
		if parent == dir {
			return "", false
		}
		rel = path.Join(filepath.Base(dir), rel)
		dir = parent
	}
	return rel, rel != ""
}

// realPath follows the links of a path as far as it is there.
func realPath(p string) string {
	rest := ""
	for dir := p; ; dir = filepath.Dir(dir) {
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			return filepath.Join(real, rest)
		}
		if _, err := os.Lstat(dir); err == nil || dir == filepath.Dir(dir) {
			return p // a link that leads nowhere: there is nothing to be found
		}
		rest = filepath.Join(filepath.Base(dir), rest)
	}
}
