package publish

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bindpost/site/folder"
)

// pathCases are the paths of one manual, with a bar between them, and what is
// told of them; "" where they may stand together.
var pathCases = map[string]string{
	"index.html":                       "",
	"a/b/c.html|a/b.html|a/d.html":     "",
	"a|b|c/a":                          "",
	"a.html|a.html":                    `a.html: stop: falls upon "a.html": many systems take the two for one file`,
	"K3.html|k3.html":                  `k3.html: stop: falls upon "K3.html": many systems take the two for one file`,
	"A/x.html|a/y.html":                `a/y.html: stop: lies in "a", which falls upon "A": many systems take the two for one folder`,
	"a|a/b":                            `a: stop: is to be a folder, and falls upon the file "a"`,
	"a/b/c|A":                          `a: stop: is to be a folder, and falls upon the file "A"`,
	folder.StampName:                   `.bindpost-stamp: stop: falls upon "the stamp": many systems take the two for one file`,
	strings.ToUpper(".bindpost-stamp"): `.BINDPOST-STAMP: stop: falls upon "the stamp": many systems take the two for one file`,
	folder.StampName + "/a":            `.bindpost-stamp: stop: is to be a folder, and falls upon the file "the stamp"`,
	"":                                 "the manual: stop: cannot be a file of the manual: its path leads elsewhere",
	".":                                `.: stop: cannot be a file of the manual: its path leads elsewhere`,
	"../a":                             `../a: stop: cannot be a file of the manual: its path leads elsewhere`,
	"a/../../b":                        `a/../../b: stop: cannot be a file of the manual: its path leads elsewhere`,
	"/etc/passwd":                      "/etc/passwd: stop: cannot be a file of the manual: its path leads elsewhere",
	"a//b":                             "a//b: stop: cannot be a file of the manual: its path leads elsewhere",
	"a/":                               "a/: stop: cannot be a file of the manual: its path leads elsewhere",
	`..\a`:                             `..\a: stop: cannot be a file of the manual: the name "..\\a" holds "\\", which Windows does not allow in a name`,
	"c:/a":                             `c:/a: stop: cannot be a file of the manual: the name "c:" holds ":", which Windows does not allow in a name`,
	"aux.html":                         `aux.html: stop: cannot be a file of the manual: Windows keeps the name "aux.html" for a device`,
	"a\xff":                            "a\ufffd: stop: cannot be a file of the manual: the name \"a\\xff\" is not written in UTF-8",
}

func filesOf(paths string) []File {
	var files []File
	for p := range strings.SplitSeq(paths, "|") {
		files = append(files, File{Path: p})
	}
	return files
}

func TestPaths(t *testing.T) {
	for paths, want := range pathCases {
		t.Run(strings.ReplaceAll(paths, "/", ":"), func(t *testing.T) {
			dir := t.TempDir()
			_, err := Publish(filepath.Join(dir, "manual"), filesOf(paths), Stamp{})
			if want == "" && err == nil {
				return
			}
			if err == nil || err.Error() != want {
				t.Errorf("told:\n%v\nwanted:\n%s", err, want)
			}
			alone(t, dir) // nothing at all
		})
	}
}

// Files may be handed over in any order, and the caller's list stays as it was.
func TestOrderOfFiles(t *testing.T) {
	files := filesOf("b|a/c|a/b/d|a")[:3]
	s, f := collate(files, Stamp{})
	if f != nil {
		t.Fatal(f)
	}
	if files[0].Path != "b" || s.files[0].Path != "a/b/d" || strings.Join(s.folders, " ") != "a a/b" {
		t.Errorf("%v, %v, %v", files, s.files, s.folders)
	}
}

// Whatever paths are let through, all files land inside the folder, each with
// its own bytes, and nothing lands elsewhere.
func FuzzPaths(f *testing.F) {
	for paths := range pathCases {
		f.Add(paths)
	}
	top := f.TempDir()
	f.Fuzz(func(t *testing.T, paths string) {
		files := filesOf(paths)
		for i := range files {
			files[i].Data = []byte(files[i].Path)
		}
		s, bad := collate(files, Stamp{})
		if bad != nil || len(paths) > 200 {
			return
		}
		dir := filepath.Join(top, "outer", "manual")
		if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(filepath.Dir(dir))
		if _, err := s.write(dir); err != nil {
			t.Fatalf("%q is let through and cannot be written: %v", paths, err)
		}
		found := 0
		filepath.WalkDir(top, func(p string, d fs.DirEntry, err error) error {
			rel, _ := filepath.Rel(dir, p)
			if err != nil || d.IsDir() || rel == folder.StampName {
				return err
			}
			found++
			if data, _ := os.ReadFile(p); string(data) != filepath.ToSlash(rel) {
				t.Errorf("%q holds %q", rel, data)
			}
			return nil
		})
		if found != len(files) {
			t.Errorf("%q: %d files were written", paths, found)
		}
	})
}
