package folder

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"
)

// The device names are those of the page "Naming Files, Paths, and
// Namespaces" of the Windows documentation (memory).
var nameCases = map[string]bool{ // path: survives
	"wire.md": true, "a/b/c.html": true, "console.md": true, "com.md": true, "com10.md": true, "lpt.md": true,
	"auxiliary": true, "nullo.md": true, "résumé.md": true, "家.md": true, "a b.md": true, ".hidden": true, "...a": true,
	"con": false, "CON": false, "Con.md": false, "con.tar.gz": false, "con .md": false, "prn": false, "aux/x.md": false, "x/nul": false,
	"COM1": false, "com0.md": false, "com¹": false, "LPT9.md": false, "lpt³": false, "conin$": false, "CONOUT$": false,
	"a.": false, "a ": false, "a./b": false, "..": false, "a:b": false, "a?": false, "a*": false, "a|b": false, "<a>": false, `a"b`: false,
	`a\b`: false, "a#b": false, "a%20b": false, "a\nb": false, "a\x00b": false, "a\x7fb": false, "a\u0085b": false, "a\u202eb": false, "a\xffb": false,
}

func TestMisnamed(t *testing.T) {
	for name, fine := range nameCases {
		t.Run(name, func(t *testing.T) {
			why := Misnamed(name)
			if (why == "") != fine {
				t.Errorf("%q: %q", name, why)
			}
			if fine && Shown(name) != name {
				t.Errorf("%q is shown as %q", name, Shown(name))
			}
		})
	}
}

func TestSameName(t *testing.T) {
	cases := []struct {
		a, b string
		same bool
	}{
		{"Wire.md", "wIRE.MD", true}, {"É/a", "é/A", true}, {"ſ", "S", true}, {"K", "\u212a", true}, {"σ", "ς", true}, // Kelvin sign
		{"wire", "wires", false}, {"a/b", "a.b", false}, {"e", "é", false},
	}
	for _, c := range cases {
		if (SameName(c.a) == SameName(c.b)) != c.same {
			t.Errorf("%q and %q: same is not %v", c.a, c.b, c.same)
		}
		if c.same != strings.EqualFold(c.a, c.b) { // the library's own view of it
			t.Errorf("%q and %q: the library does not say %v", c.a, c.b, c.same)
		}
	}
}

// A name that is let through can be made, and read back, on this disk.
func FuzzMisnamed(f *testing.F) {
	for name := range nameCases {
		f.Add(name)
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, name string) {
		if why := Misnamed(name); why != "" {
			if !utf8.ValidString(why) || strings.ContainsFunc(why, control) {
				t.Errorf("%q: what is told is not fit for a terminal: %q", name, why)
			}
			return
		}
		if Shown(name) != name || strings.ContainsFunc(name, control) {
			t.Errorf("%q is let through, and shown as %q", name, Shown(name))
		}
		if len(name) > 200 || !fs.ValidPath(name) || strings.Contains(name, "/") || name == "." {
			return
		}
		p := filepath.Join(dir, name)
		if err := os.WriteFile(p, nil, 0o644); err != nil {
			t.Errorf("%q is let through and cannot be made: %v", name, err)
		}
		os.Remove(p)
	})
}

// Whatever a file is called and holds, reading ends in a text or in a fault
// inside it.
func FuzzRead(f *testing.F) {
	for name := range nameCases {
		f.Add(name+".md", []byte("# one\r\n"))
	}
	f.Add("a.md", []byte("\xef\xbb\xbfa\r\xff"))
	f.Add("a.md", []byte("\xff\xfea\x00"))
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		if !fs.ValidPath(name) || name == "." {
			return
		}
		copy, faults := Read(fstest.MapFS{name: &fstest.MapFile{Data: data}})
		for _, g := range copy.Guides {
			if !utf8.ValidString(g.Source()) {
				t.Errorf("%q: a guide is not UTF-8", name)
			}
		}
		for _, one := range faults.All() {
			if p := one.Place; p.Start > p.End || p.End > len(p.Text.Source()) {
				t.Errorf("%q: a fault lies outside its text: %+v", name, p)
			}
		}
		if partOf(name) == guide && len(copy.Guides) == 0 && !faults.Stopped() && !inAside(name) {
			t.Errorf("%q is neither read nor told of", name)
		}
	})
}

func inAside(name string) bool {
	for part := range strings.SplitSeq(name, "/") {
		if Aside(part) {
			return true
		}
	}
	return false
}
