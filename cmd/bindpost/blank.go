package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"bindpost/calc/fault"
	"bindpost/content"
)

type blankCommand struct {
	Folder string `arg:"" help:"Where the new copy goes: a folder that is empty, or not there yet."`
}

func (*blankCommand) example() string { return "bindpost blank club-guides" }

// Run starts a new copy.
func (c *blankCommand) Run(d desk) error {
	if f, code := occupied(c.Folder); f != nil {
		d.sayTo("%v", f)
		return exit(code)
	}
	leaves, err := blankLeaves(content.Blank(), d.now())
	if err != nil {
		return err
	}
	if err := lay(c.Folder, leaves); err != nil {
		d.sayTo("%v", ofFolder(c.Folder, "cannot be written: %v", err).Fix("name a folder in a place where you may write"))
		return exit(unwritten)
	}
	d.say("A small worked copy stands in %s. It explains itself.", c.Folder)
	fmt.Fprintf(d.out, "Open this file first, in any text editor: %s\n", filepath.Join(c.Folder, leaves[0].name))
	fmt.Fprintf(d.out, "This command presses it: bindpost press %s\n", asTyped(c.Folder))
	return nil
}

// occupied says why a folder cannot take a new copy, with the exit code for
// it, or returns nil where it can.
func occupied(name string) (*fault.Fault, int) {
	if strings.TrimSpace(name) == "" {
		return ofFolder(name, "is no name for a folder").Fix("bindpost blank club-guides"), misused
	}
	info, err := os.Stat(name)
	switch {
	case err != nil:
		return unplaced(name, err)
	case !info.IsDir():
		return ofFolder(name, "is a file, and a copy is a folder").Fix("take another name"), stopped
	}
	entries, err := os.ReadDir(name)
	switch {
	case err != nil:
		return ofFolder(name, "cannot be read: %v", err), unwritten
	case len(entries) > 0:
		return ofFolder(name, "holds %q already, and a new copy needs a folder to itself", entries[0].Name()).
			Fix("name a folder that is empty, or one that is not there yet"), stopped
	}
	return nil, done
}

// unplaced says why a folder that is not there cannot be made. No folder is
// made for the folder: a name mistyped would then pass unseen.
func unplaced(name string, cause error) (*fault.Fault, int) {
	within := filepath.Dir(filepath.Clean(name))
	info, err := os.Stat(within)
	switch {
	case err == nil && !info.IsDir():
		return ofFolder(name, "cannot be made, for %q is a file", within).Fix("name a folder to put it in"), misused
	case errors.Is(err, fs.ErrNotExist):
		return ofFolder(name, "cannot be made, for there is no folder %q to put it in", within).
			Fix("make that folder first, or name one that is there"), misused
	case !errors.Is(cause, fs.ErrNotExist):
		return ofFolder(name, "cannot be read: %v", cause), unwritten
	}
	return nil, done
}

// leaf is a file of a new copy.
type leaf struct {
	name string
	text []byte
}

// blankLeaves reads the small worked copy and dates it. Its imprint comes
// last: a folder without one is no copy, so that half of one never passes for
// the whole.
func blankLeaves(files fs.FS, made time.Time) ([]leaf, error) {
	names, err := fs.Glob(files, "*")
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(name string) bool { return name == imprintName })
	var leaves []leaf
	for _, name := range append(names, imprintName) {
		text, err := fs.ReadFile(files, name)
		if err != nil {
			return nil, err
		}
		leaves = append(leaves, leaf{name, text})
	}
	imprint := &leaves[len(leaves)-1]
	imprint.text = dated(imprint.text, made)
	return leaves, nil
}

// dated puts a day into an imprint's line for it.
func dated(imprint []byte, day time.Time) []byte {
	line := regexp.MustCompile(`(?m)^date: .*$`)
	return line.ReplaceAll(imprint, fmt.Appendf(nil, "date: %q", day.Format(time.DateOnly)))
}

// lay writes files into a folder, which it makes where there is none. It
// writes over nothing, and takes back what it wrote if it cannot write all.
func lay(dir string, leaves []leaf) error {
	var laid []string
	switch err := os.Mkdir(dir, 0o777); {
	case err == nil:
		laid = append(laid, dir)
	case !errors.Is(err, fs.ErrExist):
		return err
	}
	for _, l := range leaves {
		path := filepath.Join(dir, l.name)
		f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err != nil {
			return takeBack(laid, err)
		}
		laid = append(laid, path)
		_, err = f.Write(l.text)
		if err = errors.Join(err, f.Close()); err != nil {
			return takeBack(laid, err)
		}
	}
	return nil
}

// takeBack removes what was laid, the last first, and says what it could not
// remove beside the error that led to it.
func takeBack(laid []string, cause error) error {
	var stand []string
	for i := len(laid) - 1; i >= 0; i-- {
		if os.Remove(laid[i]) != nil {
			stand = append(stand, laid[i])
		}
	}
	if len(stand) > 0 {
		return fmt.Errorf("%w; of the new copy, %s could not be taken away again", cause, strings.Join(stand, " and "))
	}
	return cause
}

// asTyped is a name as it has to be typed: quoted where it would fall apart.
func asTyped(name string) string {
	if strings.ContainsAny(name, " '&();<>|*?$!") {
		return `"` + name + `"`
	}
	return name
}
