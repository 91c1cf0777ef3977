package main

import (
	"embed"
	"fmt"
	"runtime/debug"
	"strings"
)

//go:embed notices/*.txt
var noticeTexts embed.FS

// library is code of others inside the program, with its licence notice.
type library struct {
	module string // "" for Go itself
	name   string
	notice string // the file under notices/
}

// libraries are all of them, by name. A test holds the list to what is linked,
// and the texts to what their authors wrote.
var libraries = []library{
	{"github.com/alecthomas/chroma/v2", "chroma, which sets the blocks in the workings", "chroma.txt"},
	{"github.com/alecthomas/kong", "kong, which reads the command line", "kong.txt"},
	{"github.com/dlclark/regexp2/v2", "regexp2, which chroma leans on", "regexp2.txt"},
	{"github.com/fsnotify/fsnotify", "fsnotify, which hears what changes in folders", "fsnotify.txt"},
	{"github.com/goccy/go-yaml", "go-yaml, which reads imprints and methods", "go-yaml.txt"},
	{"github.com/yuin/goldmark", "goldmark, which reads Markdown", "goldmark.txt"},
	{"", "the Go library", "go.txt"},
	{"golang.org/x/sys", "sys, which speaks to the operating system", "x-sys.txt"},
}

// printNotices prints whose work is in the program, and its licences.
func printNotices(d desk) {
	fmt.Fprintln(d.out, wrapped("bindpost holds the work of others, named here with the licence that each "+
		"came under. None of it is in a manual that you press: what that holds is yours, and the style sheet "+
		"and page forms in it may be copied with it.", 76))
	versions := linkedVersions()
	for _, l := range libraries {
		heading := l.name
		if l.module != "" {
			heading += strings.TrimRight(" ("+l.module+" "+versions[l.module], " ") + ")"
		}
		fmt.Fprintf(d.out, "\n%s\n%s\n\n%s", heading, strings.Repeat("-", len(heading)), noticeText(l))
	}
}

// noticeText returns a licence as its authors wrote it.
func noticeText(l library) string {
	text, err := noticeTexts.ReadFile("notices/" + l.notice)
	if err != nil {
		panic("a licence notice is not in the program: " + err.Error())
	}
	return strings.TrimRight(string(text), "\n") + "\n"
}

// linkedVersions says which version of each module is inside.
func linkedVersions() map[string]string {
	versions := map[string]string{}
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, m := range info.Deps {
			versions[m.Path] = m.Version
		}
	}
	return versions
}
