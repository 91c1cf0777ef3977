package folder

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bindpost/calc/fault"
)

func file(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
func link(to string) *fstest.MapFile {
	return &fstest.MapFile{Data: []byte(to), Mode: fs.ModeSymlink | 0o777}
}

func names(texts []*fault.Text) string {
	var all []string
	for _, t := range texts {
		all = append(all, t.Name())
	}
	return strings.Join(all, " ")
}

func TestReadTakesWhatBelongs(t *testing.T) {
	copy, faults := Read(fstest.MapFS{
		"wire.md":                 file("wire"),
		"wire/gauge.md":           file("gauge"),
		"wire/_later.md":          file("later"),
		"wire/.swap.md":           file("swap"),
		"_drafts/a.md":            file("draft"),
		".git/b.md":               file("git"),
		"imprint.yaml":            file("title: Wires"),
		"standing.yaml":           file("standing"),
		"methods/loss.yaml":       file("method: loss"),
		"methods/more/deep.yaml":  file("method: deep"),
		"methods/about.md":        file("about"),
		"phrases/readme.md":       file("on the words"),
		"notes/imprint.yaml":      file("not ours"),
		"photo.jpg":               file("\xff\xd8"),
		"old/" + StampName:        file(StampHead + "\n"),
		"old/kept.md":             file("own output"),
		"into/half.md":            file("own output"),
		"nearly/" + StampName:     file("not a stamp"),
		"nearly/read.md":          file("read"),
		"drawings/sketch/note.md": file("note"),
		"drawings/back.svg":       file("<svg/>"),
		"drawings/old/front.png":  file("\x89PNG"),
		"drawings/plan.pdf":       file("%PDF"),
		"back.svg":                file("<svg/>"),
	}, "into/")
	if faults.Len() != 0 {
		t.Errorf("faults: %s", faults)
	}
	// '.' sorts before '/': wire.md before wire/gauge.md
	if got, want := names(copy.Guides), "drawings/sketch/note.md methods/about.md nearly/read.md wire.md wire/gauge.md"; got != want {
		t.Errorf("guides:\ngot  %s\nwant %s", got, want)
	}
	if got := names(copy.Methods); got != "methods/loss.yaml" {
		t.Errorf("methods: %s", got)
	}
	var drawings []string
	for _, d := range copy.Drawings {
		drawings = append(drawings, fmt.Sprintf("%s %q %q", d.Path, d.Data, d.Text.Source()))
	}
	if want := []string{`drawings/back.svg "<svg/>" "<svg/>"`, `drawings/old/front.png "\x89PNG" ""`}; !slices.Equal(drawings, want) {
		t.Errorf("drawings: %q", drawings)
	}
	if copy.Imprint == nil || copy.Imprint.Source() != "title: Wires" || copy.Imprint.Name() != "imprint.yaml" {
		t.Errorf("imprint: %+v", copy.Imprint)
	}
	if copy.Standing == nil || copy.Standing.Source() != "standing" {
		t.Errorf("standing: %+v", copy.Standing)
	}
}

func TestReadOfAnEmptyCopy(t *testing.T) {
	copy, faults := Read(fstest.MapFS{})
	if faults.Len() != 0 || copy.Imprint != nil || copy.Standing != nil || len(copy.Guides)+len(copy.Methods) != 0 {
		t.Errorf("got %+v, %s", copy, faults)
	}
}

// Each case is a copy and the whole of what the author is told.
func TestReadFaults(t *testing.T) {
	cases := map[string]struct {
		files fstest.MapFS
		want  string
		read  string // guides read all the same
	}{
		"a bad byte is shown in its line": {
			fstest.MapFS{"a.md": file("# Wires\r\n8 \xa0ohm")},
			"a.md:2:3: stop: here is a byte that is no part of a text\n  8 \ufffdohm\n    ^\n  wanted: a text saved as UTF-8\n" +
				"  try: open the file in your editor, mend this character and save it with the encoding UTF-8", ""},
		"a cut rune at the end": {
			fstest.MapFS{"a.md": file("µ\xc2")},
			"a.md:1:2: stop: here is a byte that is no part of a text\n  µ\ufffd\n   ^\n  wanted: a text saved as UTF-8\n" +
				"  try: open the file in your editor, mend this character and save it with the encoding UTF-8", ""},
		"a zero byte": {
			fstest.MapFS{"a.md": file("ab\x00")},
			"a.md:1:3: stop: here is a byte that is no part of a text\n  ab\ufffd\n    ^\n  wanted: a text saved as UTF-8\n" +
				"  try: open the file in your editor, mend this character and save it with the encoding UTF-8", ""},
		"UTF-16": {
			fstest.MapFS{"imprint.yaml": file("\xff\xfet\x00")},
			"imprint.yaml: stop: is saved as UTF-16\n  wanted: a text saved as UTF-8\n" +
				"  try: open it in your editor and save it again with the encoding UTF-8", ""},
		"a replacement character that is really there": {fstest.MapFS{"a.md": file("\ufffd")}, "", "a.md"},
		"a byte order mark":                            {fstest.MapFS{"a.md": file("\ufeffa")}, "", "a.md"},
		"too large": {
			fstest.MapFS{"a.md": file(strings.Repeat("a", MaxSize+1)), "b.md": file(strings.Repeat("a", MaxSize))},
			"a.md: stop: is larger than 4 MB, which no guide is\n" +
				"  try: split the guide; or move the file out of the copy, if it is something else", "b.md"},
		"a folder named as a guide is entered": {fstest.MapFS{"a.md/b.md": file("")}, "", "a.md/b.md"},
		"a pipe": {
			fstest.MapFS{"a.md": &fstest.MapFile{Mode: fs.ModeNamedPipe}},
			"a.md: stop: is not a file that can be read\n  try: rename it or move it out of the copy", ""},
		"the copy is a manual": {
			fstest.MapFS{StampName: file(StampHead + "\nformat: 1"), "a.md": file("")},
			".bindpost-stamp: stop: this folder is a finished manual, not a copy to press\n  wanted: a folder of guides\n" +
				"  try: name the folder that holds your guides; if this is it, delete the file .bindpost-stamp", ""},
		"a device of Windows, told of once": {
			fstest.MapFS{"aux/a.md": file(""), "aux/b.md": file("")},
			"aux: stop: Windows keeps the name \"aux\" for a device\n  try: rename it, with letters, digits and hyphens", "aux/a.md aux/b.md"},
		"a name in the way of nobody": {fstest.MapFS{"aux/a.txt": file("")}, "", ""},
		"capital letters": {
			fstest.MapFS{"Wire.md": file(""), "wire.md": file("")},
			"wire.md: stop: differs only in capital letters from \"Wire.md\", and many systems take the two for one\n  try: rename one of them", "Wire.md wire.md"},
		"capital letters of folders": {
			fstest.MapFS{"Hum/a.md": file(""), "hum/b.md": file("")},
			"hum: stop: differs only in capital letters from \"Hum\", and many systems take the two for one\n  try: rename one of them", "Hum/a.md hum/b.md"},
		"a name that moves the cursor": {
			fstest.MapFS{"a\x1b[2J.md": file("")},
			"a\ufffd[2J.md: stop: the name \"a\\x1b[2J.md\" holds a control character\n  try: rename it, with letters, digits and hyphens", "a\ufffd[2J.md"},
		"names that miss by a little": {
			fstest.MapFS{"Guide.MD": file(""), "b.markdown": file(""), "Imprint.yml": file(""), "Methods/Loss.YML": file(""), "c.txt": file("")},
			"Guide.MD: warn: is not read, because of how it is named\n  wanted: Guide.md\n  try: rename it; or put _ before its name, if it is to be left aside\n" +
				"Imprint.yml: warn: is not read, because of how it is named\n  wanted: imprint.yaml\n  try: rename it; or put _ before its name, if it is to be left aside\n" +
				"Methods/Loss.YML: warn: is not read, because of how it is named\n  wanted: methods/loss.yaml\n  try: rename it; or put _ before its name, if it is to be left aside\n" +
				"b.markdown: warn: is not read, because of how it is named\n  wanted: b.md\n  try: rename it; or put _ before its name, if it is to be left aside", ""},
		"a drawing that misses by a little": {
			fstest.MapFS{"drawings/Back.SVG": file(""), "Drawings/a.png": file("")},
			"Drawings/a.png: warn: is not read, because of how it is named\n  wanted: drawings/a.png\n  try: rename it; or put _ before its name, if it is to be left aside\n" +
				"drawings/Back.SVG: warn: is not read, because of how it is named\n  wanted: drawings/Back.svg\n  try: rename it; or put _ before its name, if it is to be left aside", ""},
		"drawings that another system would take for one, and one that is too large": {
			fstest.MapFS{"drawings/A.png": file(""), "drawings/a.png": file(""), "drawings/b.svg": file(strings.Repeat("a", MaxSize+1)), "drawings/c.svg": file("\xff")},
			"drawings/a.png: stop: differs only in capital letters from \"drawings/A.png\", and many systems take the two for one\n  try: rename one of them\n" +
				"drawings/b.svg: stop: is larger than 4 MB, and readers carry the manual on a stick\n  try: save the drawing smaller\n" +
				"drawings/c.svg:1:1: stop: here is a byte that is no part of a text\n  \ufffd\n  ^\n  wanted: a text saved as UTF-8\n" +
				"  try: open the file in your editor, mend this character and save it with the encoding UTF-8", ""},
		"a link within the copy": {
			fstest.MapFS{"sub/a.md": link("../b/./c.md"), "b": link("d"), "d/c.md": file("")},
			"b: note: is a link to a folder, and what lies behind it is not read\n  try: if guides lie there, put the folder itself in the copy", "d/c.md sub/a.md"},
		"a link out of the copy": {
			fstest.MapFS{"a.md": link("../b.md"), "photo.jpg": link("/etc/photo.jpg")},
			"a.md: stop: is a link that leads out of the copy\n  wanted: a file in the copy itself\n  try: put a copy of the file here in place of the link", ""},
		"a link by a full address": {
			fstest.MapFS{"a.md": link("/etc/passwd")},
			"a.md: stop: is a link that leads out of the copy\n  wanted: a file in the copy itself\n  try: put a copy of the file here in place of the link", ""},
		"a link to nothing": {
			fstest.MapFS{"a.md": link("b.txt")},
			"a.md: stop: is a link to a file that is not there\n  wanted: a file in the copy itself\n  try: put the file here in place of the link, or delete the link", ""},
		"a link into a manual": {
			fstest.MapFS{"a.md": link("manual/in/a.txt"), "manual/in/a.txt": file(""), "manual/" + StampName: file(StampHead)},
			"a.md: stop: is a link into a folder that is not part of the copy\n  wanted: a file in the copy itself\n  try: put a copy of the file here in place of the link", ""},
		"a link to a folder, named as a guide": {
			fstest.MapFS{"a.md": link("b"), "b/c.md": file("")},
			"a.md: stop: is not a file that can be read\n  try: rename it or move it out of the copy", "b/c.md"},
		"a stamp that is a link": {
			fstest.MapFS{"sub/" + StampName: link("../x"), "x": file(StampHead), "sub/a.md": file("")}, "", "sub/a.md"},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			copy, faults := Read(c.files)
			if got := faults.String(); got != c.want {
				t.Errorf("told:\n%s\nwanted:\n%s", got, c.want)
			}
			if got := names(copy.Guides); got != c.read {
				t.Errorf("guides read: %q, wanted %q", got, c.read)
			}
			if Unread(faults) {
				t.Error("an author's fault is taken for the system's")
			}
		})
	}
}

// On a real disk, a link must not be followed out of the copy even by way of
// a folder, and what the system refuses is told as such.
func TestReadFromDisk(t *testing.T) {
	top := t.TempDir()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.MkdirAll(filepath.Join(top, "copy", "sub"), 0o755))
	must(os.WriteFile(filepath.Join(top, "secret.md"), []byte("secret"), 0o644))
	must(os.WriteFile(filepath.Join(top, "copy", "sub", "in.md"), []byte("in"), 0o644))
	must(os.Symlink("..", filepath.Join(top, "copy", "up")))
	must(os.Symlink(filepath.Join("up", "secret.md"), filepath.Join(top, "copy", "a.md")))
	must(os.Symlink(filepath.Join("sub", "in.md"), filepath.Join(top, "copy", "b.md")))
	must(os.Symlink("d.txt", filepath.Join(top, "copy", "c.md"))) // a circle
	must(os.Symlink("c.md", filepath.Join(top, "copy", "d.txt")))
	must(os.WriteFile(filepath.Join(top, "copy", "bad\xff.md"), []byte("in"), 0o644))
	must(os.MkdirAll(filepath.Join(top, "copy", "bad\xfe"), 0o755))
	want := "a.md: stop: is a link that leads out of the copy\n  wanted: a file in the copy itself\n  try: put a copy of the file here in place of the link\n" +
		"bad\ufffd: stop: the name \"bad\\xfe\" is not written in UTF-8\n  try: rename the folder, with letters, digits and hyphens\n" +
		"bad\ufffd.md: stop: the name \"bad\\xff.md\" is not written in UTF-8\n  try: rename it, with letters, digits and hyphens\n" +
		"c.md: stop: is a link that leads round in a circle\n  wanted: a file in the copy itself\n  try: put a copy of the file here in place of the link\n" +
		"up: note: is a link to a folder, and what lies behind it is not read\n  try: if guides lie there, put the folder itself in the copy"
	root, err := os.OpenRoot(filepath.Join(top, "copy"))
	must(err)
	defer root.Close()
	for name, fsys := range map[string]fs.FS{"a folder": os.DirFS(filepath.Join(top, "copy")), "a closed root": root.FS()} {
		t.Run(name, func(t *testing.T) {
			copy, faults := Read(fsys)
			told := faults.String()
			if name == "a closed root" { // it will not even say whether a folder lies behind the link
				told += want[strings.LastIndex(want, "\nup:"):]
			}
			if told != want {
				t.Errorf("told:\n%s\nwanted:\n%s", told, want)
			}
			if got := names(copy.Guides); got != "b.md sub/in.md" {
				t.Errorf("guides read: %q", got)
			}
		})
	}
}

func TestReadOfNoFolder(t *testing.T) {
	_, faults := Read(os.DirFS(filepath.Join(t.TempDir(), "none")))
	if !Unread(faults) || !strings.HasPrefix(faults.String(), "the copy: stop: is not there any more") {
		t.Errorf("told: %s", faults)
	}
}

// refusing is a disk that lists its files and will not hand some of them out.
type refusing struct{ fstest.MapFS }

func (r refusing) Open(name string) (fs.File, error) {
	if strings.HasPrefix(filepath.Base(name), "shut") {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
	}
	return r.MapFS.Open(name)
}

// These keep the methods of the map from answering in place of Open.
func (r refusing) Stat(name string) (fs.FileInfo, error)      { return fs.Stat(r.MapFS, name) }
func (r refusing) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(r.MapFS, name) }

func TestReadWhatTheSystemRefuses(t *testing.T) {
	copy, faults := Read(refusing{fstest.MapFS{"shut.md": file("a"), "open.md": file("b")}})
	want := "shut.md: stop: could not be read: permission denied\n  try: see whether you may open it, and whether the disk is still there"
	if faults.String() != strings.ReplaceAll(want, "permission denied", fs.ErrPermission.Error()) {
		t.Errorf("told:\n%s\nwanted:\n%s", faults, want)
	}
	if !Unread(faults) || names(copy.Guides) != "open.md" {
		t.Errorf("unread %v, guides %s", Unread(faults), names(copy.Guides))
	}
}

// A stamp that cannot be read proves nothing.
func TestStampThatIsShut(t *testing.T) {
	fsys := shutStamp{fstest.MapFS{"a/" + StampName: file(StampHead)}}
	if Stamped(fsys, "a") {
		t.Error("a stamp that nobody read is believed")
	}
	if !Stamped(fsys.MapFS, "a") {
		t.Error("a stamp is not seen")
	}
}

type shutStamp struct{ fstest.MapFS }

func (s shutStamp) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}

func TestHash(t *testing.T) {
	// sha256sum of "abc", FIPS 180-4 example
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := Hash(fault.NewText("a", "abc")); got != abc {
		t.Errorf("got %s", got)
	}
	if Hash(fault.NewText("a", "a\r\nb")) != Hash(fault.NewText("b", "\ufeffa\nb")) {
		t.Error("line ends count")
	}
}
