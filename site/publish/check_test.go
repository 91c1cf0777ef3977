package publish

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bindpost/site/folder"
)

const replaces = ", and a press replaces the folder it writes into"

// checkCases name folders below one that is laid by layForCheck; "" says
// nothing stands in the way.
var checkCases = []struct {
	into, root string
	want       string
}{
	{"absent", "copy", ""},
	{"absent/deep/down", "copy", ""},
	{"absent/", "copy", ""},
	{"empty", "copy", ""},
	{"manual", "copy", ""},
	{"manual", "", ""},
	{"by-link/absent", "copy", ""},
	{"copy/manual", "copy", ""},
	{"copy/absent", "copy", ""},
	{"by-link/manual", "copy", ""},
	{"copy", "copy", "is the copy itself" + replaces},
	{"copy/", "copy", "is the copy itself" + replaces},
	{"copy/sub/..", "copy", "is the copy itself" + replaces},
	{"copy", "by-link", "is the copy itself" + replaces},
	{"by-link", "copy", "is the copy itself" + replaces},
	{"holder", "holder/copy", "holds the copy" + replaces}, // though it carries our stamp
	{"holder", "holder/copy/sub", "holds the copy" + replaces},
	{"holder", "into-holder", "holds the copy" + replaces},
	{"holder-of-link", "holder-of-link/copy", "holds the copy" + replaces},
	{"home", "copy", "is or holds your home folder" + replaces},
	{"home", "", "is or holds your home folder" + replaces},
	{"above", "copy", "is or holds your home folder" + replaces},
	{"link-to-manual", "copy", "is a link to another place, and a press replaces only a true folder"},
	{"link-to-manual/", "copy", "is a link to another place, and a press replaces only a true folder"},
	{"link-to-absent", "copy", "is a link to another place, and a press replaces only a true folder"},
	{"dangling", "copy", "is a link to another place, and a press replaces only a true folder"},
	{"dangling/manual", "copy", `lies behind "TOP/dangling", a link that leads nowhere`},
	{"file", "copy", "is a file, and a manual is a folder"},
	{"file/manual", "copy", `lies behind "TOP/file", which is a file`},
	{"file/deep/manual", "copy", `lies behind "TOP/file", which is a file`},
	{"foreign", "copy", `holds what no press has made, such as "diary.txt"`},
	{"other-stamp", "copy", `holds what no press has made, such as "` + folder.StampName + `"`},
	{"linked-stamp", "copy", `holds what no press has made, such as "` + folder.StampName + `"`},
	{"copy/sub", "copy", `holds what no press has made, such as "a.md"`},
}

func layForCheck(t *testing.T) (top string) {
	t.Helper()
	top = t.TempDir()
	in := func(p string) string { return filepath.Join(top, p) }
	makeFolders(t, in("empty"), in("copy/sub"), in("holder/copy/sub"), in("holder-of-link"), in("home/of/mine"), in("above"), in("foreign"), in("other-stamp"), in("linked-stamp"))
	makeFile(t, in("copy/sub/a.md"), "")
	makeFile(t, in("file"), "")
	makeFile(t, in("foreign/diary.txt"), "")
	makeFile(t, in("other-stamp/"+folder.StampName), "of another program")
	mustPublish(t, in("manual"), "old", 1)
	mustPublish(t, in("copy/manual"), "old", 1)
	makeFile(t, in("holder/"+folder.StampName), folder.StampHead)
	makeLink(t, in("manual/"+folder.StampName), in("linked-stamp/"+folder.StampName))
	makeLink(t, in("copy"), in("by-link"))
	makeLink(t, in("holder/copy/sub"), in("into-holder"))
	makeLink(t, in("copy"), in("holder-of-link/copy"))
	makeLink(t, "manual", in("link-to-manual"))
	makeLink(t, "absent", in("link-to-absent"))
	makeLink(t, "dangling", in("dangling"))
	return top
}

func TestCheck(t *testing.T) {
	top := layForCheck(t)
	t.Setenv("HOME", filepath.Join(top, "home"))
	for _, c := range checkCases {
		t.Run(strings.ReplaceAll(c.into+" for "+c.root, "/", "|"), func(t *testing.T) {
			if c.into == "above" {
				makeFolders(t, filepath.Join(top, "above", "home"))
				t.Setenv("HOME", filepath.Join(top, "above", "home"))
			}
			root := c.root
			if root != "" {
				root = filepath.Join(top, root)
			}
			into := top + "/" + c.into
			f := Check(into, root)
			if c.want == "" {
				if f != nil {
					t.Errorf("told: %v", f)
				}
				return
			}
			want := into + ": stop: " + strings.ReplaceAll(c.want, "TOP", top)
			if c.into == "dangling/manual" { // it leads to itself, which the system does not call absent
				if f == nil || !errors.Is(f, ErrUnwritten) {
					t.Errorf("told: %v", f)
				}
				return
			}
			if f == nil || !strings.HasPrefix(f.Error(), want+"\n") || f.Try == "" {
				t.Errorf("told:\n%v\nwanted:\n%s", f, want)
			}
			if errors.Is(f, ErrUnwritten) {
				t.Error("the author's slip is taken for the system's")
			}
		})
	}
}

func TestCheckOfWhatNobodyMeant(t *testing.T) {
	for into, want := range map[string]string{
		"/":        "/: stop: is the whole disk" + replaces,
		"/../":     "/../: stop: is the whole disk" + replaces,
		"":         "the manual: stop: no folder is named for the manual",
		"a\x00b/c": "a\ufffdb/c: stop: ",
	} {
		f := Check(into, "")
		if f == nil || !strings.HasPrefix(f.Error(), want) {
			t.Errorf("%q: told %v", into, f)
		}
	}
	t.Chdir(t.TempDir())
	if f := Check(".", "."); f == nil || !strings.Contains(f.Error(), "is the copy itself") {
		t.Errorf("told %v", f)
	}
	if f := Check(".", ""); f != nil {
		t.Errorf("an empty folder named by a full stop: %v", f)
	}
	if f := Check("..", "."); f == nil || !strings.Contains(f.Error(), "holds the copy") {
		t.Errorf("told %v", f)
	}
}

// Publish does not take the word of an earlier check.
func TestPublishLooksAgain(t *testing.T) {
	top := layForCheck(t)
	for into, want := range map[string]string{
		"foreign":        `holds what no press has made, such as "diary.txt"`,
		"file":           "is a file, and a manual is a folder",
		"link-to-manual": "is a link to another place",
		"dangling":       "is a link to another place",
	} {
		t.Run(into, func(t *testing.T) {
			_, err := Publish(filepath.Join(top, into), nil, Stamp{})
			if err == nil || !strings.Contains(err.Error(), want) || errors.Is(err, ErrUnwritten) {
				t.Errorf("told: %v", err)
			}
		})
	}
	if _, err := os.Stat(filepath.Join(top, "foreign", "diary.txt")); err != nil {
		t.Error(err)
	}
	stands(t, filepath.Join(top, "manual"), "old", 1)
}
