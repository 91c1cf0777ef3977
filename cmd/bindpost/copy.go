package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/content"
	"bindpost/site/folder"
)

// copyArgument is the copy that a command is about.
type copyArgument struct {
	Copy *string `arg:"" optional:"" help:"The folder of guides. Without one: this folder, if imprint.yaml is in it, else the demonstration."`
}

// imprintName is the file that makes a folder of guides a copy.
const imprintName = "imprint.yaml"

// open finds the copy, and where it lies on disk: the folder named, the
// current one if an imprint is there, else the demonstration that the program
// carries, which lies nowhere.
func (c copyArgument) open(d desk) (fs.FS, string, error) {
	if c.Copy != nil {
		return openFolder(d, *c.Copy)
	}
	if _, err := os.Stat(imprintName); err == nil {
		return openFolder(d, ".")
	}
	if holdsGuides(os.DirFS(".")) {
		d.sayTo("%v", ofFolder("this folder", "holds guides, and no file %s", imprintName).
			Fix("put %s beside the guides; for the demonstration, go to another folder", imprintName))
		return nil, "", exit(stopped)
	}
	d.sayTo("No copy is named and there is no %s here, so this is the demonstration.", imprintName)
	return content.Files, "", nil
}

func openFolder(d desk, name string) (fs.FS, string, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		d.sayTo("%v", ofFolder(name, "there is no such folder").Fix("name the folder that holds your guides"))
		return nil, "", exit(misused)
	case err != nil:
		d.sayTo("%v", ofFolder(name, "cannot be read: %v", err))
		return nil, "", exit(unwritten)
	case !info.IsDir():
		d.sayTo("%v", ofFolder(name, "is a file, and a copy is a folder").Fix("name the folder that holds it"))
		return nil, "", exit(misused)
	}
	root, err := filepath.Abs(name)
	if err != nil {
		return nil, "", err
	}
	return os.DirFS(root), root, nil
}

// ofFolder makes a fault of a folder as a whole.
func ofFolder(name, format string, args ...any) *fault.Fault {
	if name == "" {
		name = `""`
	}
	return fault.At(fault.Place{Text: fault.NewText(name, "")}, format, args...)
}

// holdsGuides reports whether a guide with a docket, or an imprint under a
// nearly right name, stands in a folder: its owner hardly means the
// demonstration. What cannot be read there is no guide.
func holdsGuides(dir fs.FS) bool {
	entries, err := fs.ReadDir(dir, ".")
	if err != nil {
		return false
	}
	return slices.ContainsFunc(entries, func(e fs.DirEntry) bool {
		name := strings.ToLower(e.Name())
		if strings.HasPrefix(name, "imprint.") {
			return true
		}
		text, err := fs.ReadFile(dir, e.Name())
		return err == nil && strings.HasSuffix(name, ".md") && strings.HasPrefix(string(text), "```docket")
	})
}

// holdsOther reports whether a folder holds a manual of another copy than the
// demonstration, by the title in its stamp.
func holdsOther(into string) bool {
	stamp, err := fs.ReadFile(os.DirFS(into), folder.StampName)
	if err != nil {
		return false
	}
	source, err := fs.ReadFile(content.Files, imprintName)
	if err != nil {
		panic("the demonstration has no imprint: " + err.Error())
	}
	imprint, _ := record.Parse(fault.NewText(imprintName, string(source)))
	return !slices.Contains(strings.Split(string(stamp), "\n"), "title: "+imprint.Get("title").Text)
}
