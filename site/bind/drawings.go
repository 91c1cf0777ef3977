package bind

import (
	"net/url"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/folder"
	"bindpost/site/guide"
)

// gallery is the drawings of a copy, and which of them a guide shows.
type gallery struct {
	drawings []folder.Drawing
	shown    map[string]bool
	unread   []string // files that could not be read, and are told
	lost     bool     // a picture means a drawing that is not here: which one is not known
	faults   *fault.List
}

func newGallery(drawings []folder.Drawing, unread []string) *gallery {
	return &gallery{drawings: drawings, unread: unread, shown: map[string]bool{}}
}

const drawingWant = "a drawing of the copy: ![what it shows, in words](drawings/name.svg)"

// hang finds the drawing of every picture in a guide, by the picture's
// destination as the author wrote it.
func (g *gallery) hang(l *Leaf) map[string]string {
	found := map[string]string{}
	for _, p := range l.outline.pictures {
		g.faults.Add(noWords(l.Guide, p))
		file, f := g.find(l, p.mention)
		if f != nil {
			g.lost = true
			if !slices.Contains(g.unread, file) {
				g.faults.Add(f)
			}
			continue
		}
		g.shown[file] = true
		found[p.destination] = Relative(l.Path, file)
		l.Drawings = append(l.Drawings, file)
	}
	slices.Sort(l.Drawings)
	l.Drawings = slices.Compact(l.Drawings)
	return found
}

// foreseen finds the drawings of a guide as [gallery.hang] does, and tells
// nothing of those that are not there.
func (g *gallery) foreseen(l *Leaf) map[string]string {
	quiet := &gallery{drawings: g.drawings, unread: g.unread, shown: map[string]bool{}, faults: &fault.List{}}
	return quiet.hang(l)
}

// noWords is the fault of a picture for which no words stand.
func noWords(g *guide.Guide, p picture) *fault.Fault {
	if p.worded {
		return nil
	}
	return fault.At(destinationPlace(g, p.at, p.destination), "no words stand for this drawing, and some readers listen").
		Want("%s", drawingWant)
}

// find returns the file of the drawing that a picture means.
func (g *gallery) find(l *Leaf, m mention) (string, *fault.Fault) {
	destination := m.destination
	u, err := url.Parse(destination)
	file := destination
	if err == nil {
		file = u.Path
	}
	at := destinationPlace(l.Guide, m.at, file, destination)
	switch {
	case err != nil || file == "" && u.Scheme == "":
		return "", fault.At(at, "this picture has no file").Want("%s", drawingWant)
	case u.Scheme != "" || u.Host != "":
		return "", fault.At(destinationPlace(l.Guide, m.at, destination), "this picture lies outside the copy, and a manual fetches nothing").
			Want("%s", drawingWant).Fix("put the picture's file into the folder drawings")
	}
	file = path.Join(path.Dir(l.Guide.File), file)
	if slices.ContainsFunc(g.drawings, func(d folder.Drawing) bool { return d.Path == file }) {
		return file, nil
	}
	return file, g.noDrawing(l, file, at)
}

// noDrawing is the fault of a drawing that the copy does not hold.
func (g *gallery) noDrawing(l *Leaf, file string, at fault.Place) *fault.Fault {
	switch {
	case !strings.HasPrefix(file, folder.DrawingsFolder):
		return fault.At(at, "the drawing %q does not lie in the folder drawings", at).
			Want("%s", drawingWant).Fix("move its file there, and write %s", Relative(l.Guide.File, folder.DrawingsFolder+path.Base(file)))
	case !slices.Contains(folder.DrawingKinds, path.Ext(file)):
		return fault.At(at, "a drawing cannot be a file of the kind %q", path.Ext(file)).
			Want("a file ending in .svg, .png or .jpg").Fix("save the drawing as one of these")
	}
	f := fault.At(at, "the copy has no drawing %q", file).Want("%s", drawingWant)
	var all []string
	for _, d := range g.drawings {
		all = append(all, Relative(l.Guide.File, d.Path))
	}
	if near := fault.Near(Relative(l.Guide.File, file), all); near != "" {
		f.Fix("%s", near)
	}
	return f
}

// Heads of the files of pictures that are not written in letters.
var pictureHeads = map[string]string{".png": "\x89PNG\r\n\x1a\n", ".jpg": "\xff\xd8\xff", ".jpeg": "\xff\xd8\xff"}

// check looks into every drawing that a guide shows.
func (g *gallery) check(faults *fault.List) {
	for _, d := range g.drawings {
		if !g.shown[d.Path] {
			continue
		}
		head, picture := pictureHeads[path.Ext(d.Path)]
		switch {
		case !picture:
			faults.Join(checkSVG(d.Text))
		case !strings.HasPrefix(string(d.Data), head):
			faults.Add(fault.At(d.Text.All(), "is no picture of the kind that its name says").
				Want("a file saved as %s", strings.ToUpper(strings.TrimPrefix(path.Ext(d.Path), "."))).
				Fix("open it in a drawing program and save it anew"))
		}
	}
}

// kept returns the drawings that guides show.
func (g *gallery) kept() []folder.Drawing {
	var kept []folder.Drawing
	for _, d := range g.drawings {
		if g.shown[d.Path] {
			kept = append(kept, d)
		}
	}
	return kept
}
