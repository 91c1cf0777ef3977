package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/folder"
	"bindpost/site/press"
	"bindpost/templates"
)

type pressCommand struct {
	Copy string `arg:"" optional:"" help:"The folder of guides. Without one: this folder, if imprint.yaml is in it, else the demonstration."`
	Into string `default:"manual" placeholder:"folder" help:"Where the manual goes. It is replaced only if a press made it."`
}

func (*pressCommand) example() string {
	return "bindpost press club-guides --into manual"
}

// Run presses a copy.
func (c *pressCommand) Run(d desk) error {
	copied, root, err := openCopy(d, c.Copy)
	if err != nil {
		return err
	}
	if root == "" && othersManual(c.Into) {
		d.sayTo("%v", fault.At(fault.Place{Text: fault.NewText(c.Into, "")}, "holds a manual of your own, and no copy is named: the demonstration would take its place").
			Fix("name the folder of your guides, or another folder with --into"))
		return exit(stopped)
	}
	r, faults, err := press.Press(order(copied, root, c.Into))
	if e := report(d, faults); e != nil {
		if _, gone := os.Stat(c.Into); gone == nil {
			d.sayTo("Nothing was written; %s stands as it was.", c.Into)
		} else {
			d.sayTo("Nothing was written.")
		}
		return e
	}
	if err != nil {
		return failed(d, err)
	}
	for _, s := range r.Says {
		fmt.Fprintln(d.err, s)
	}
	d.say("The manual is pressed: %d files in %s. Open this page to read it:", r.Files, c.Into)
	fmt.Fprintln(d.out, filepath.Join(r.Into, press.Entry))
	return nil
}

// othersManual reports whether a folder holds a manual of another copy than
// the demonstration.
func othersManual(into string) bool {
	dir := os.DirFS(into)
	stamp, err := fs.ReadFile(dir, folder.StampName)
	if err != nil {
		return false
	}
	imprint, err := fs.ReadFile(content.Files, "imprint.yaml")
	if err != nil {
		panic("press: the demonstration has no imprint: " + err.Error())
	}
	title, _, _ := strings.Cut(string(imprint), "\n")
	return !strings.Contains(string(stamp), title+"\n")
}

// looksLikeCopy reports whether guides or an imprint under a nearly right name
// stand in the current folder: its owner hardly means the demonstration.
func looksLikeCopy() bool {
	for _, pattern := range []string{"*.md", "imprint.*", "[Ii][Mm][Pp][Rr][Ii][Nn][Tt].*"} {
		found, err := filepath.Glob(pattern)
		if err != nil {
			panic("press: a pattern is not sound: " + err.Error())
		}
		for _, name := range found {
			if name != "README.md" && name != "DEVELOPERS.md" {
				return true
			}
		}
	}
	return false
}

// sayTo prints a sentence beside faults.
func (d desk) sayTo(format string, args ...any) {
	fmt.Fprintf(d.err, format+"\n", args...)
}

type proofCommand struct {
	Copy string `arg:"" optional:"" help:"The folder of guides. Without one: this folder, if imprint.yaml is in it, else the demonstration."`
}

func (*proofCommand) example() string { return "bindpost proof club-guides" }

// Run finds the faults of a copy.
func (c *proofCommand) Run(d desk) error {
	copied, root, err := openCopy(d, c.Copy)
	if err != nil {
		return err
	}
	_, faults := press.Make(order(copied, root, ""))
	if e := report(d, faults); e != nil {
		return e
	}
	d.say("No stop was found.")
	return nil
}

func order(copied fs.FS, root, into string) press.Order {
	return press.Order{
		Copy: copied, Root: root, Into: into, Library: trade.Library(), Templates: templates.Files, Program: version(),
	}
}

// openCopy finds the copy that a command is about, and where it lies on disk:
// the folder named, the current one if an imprint is there, else the
// demonstration that the program carries.
func openCopy(d desk, name string) (fs.FS, string, error) {
	if name == "" {
		if _, err := os.Stat("imprint.yaml"); err != nil {
			if looksLikeCopy() {
				d.sayTo("%v", fault.At(fault.Place{Text: fault.NewText("this folder", "")}, "holds guides, and no file imprint.yaml").
					Fix("put imprint.yaml beside the guides; for the demonstration, go to another folder"))
				return nil, "", exit(stopped)
			}
			d.sayTo("No copy is named and there is no imprint.yaml here, so this is the demonstration.")
			return content.Files, "", nil
		}
		name = "."
	}
	info, err := os.Stat(name)
	place := fault.Place{Text: fault.NewText(name, "")}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		d.sayTo("%v", fault.At(place, "there is no such folder").Fix("name the folder that holds your guides"))
		return nil, "", exit(misused)
	case err != nil:
		d.sayTo("%v", fault.At(place, "cannot be read: %v", err))
		return nil, "", exit(unwritten)
	case !info.IsDir():
		d.sayTo("%v", fault.At(place, "is a file, and a copy is a folder").Fix("name the folder that holds it"))
		return nil, "", exit(misused)
	}
	root, err := filepath.Abs(name)
	if err != nil {
		return nil, "", err
	}
	return os.DirFS(root), root, nil
}
