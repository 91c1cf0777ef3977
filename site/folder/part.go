package folder

import (
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// part says what a file is in a copy.
type part uint8

const (
	nothing part = iota
	guide
	method
	imprint
	standing
	drawing
	phrases
)

// DrawingsFolder is where a copy keeps its drawings.
const DrawingsFolder = "drawings/"

// methodsFolder is where a copy keeps methods of its own.
const methodsFolder = "methods"

// phrasesFolder is where a copy keeps the words of its own methods in other
// languages.
const phrasesFolder = "phrases"

// DrawingKinds are the ends of the names of files that a drawing may be.
var DrawingKinds = []string{".svg", ".png", ".jpg", ".jpeg"}

func partOf(p string) part {
	switch {
	case Aside(path.Base(p)):
		return nothing
	case p == "imprint.yaml":
		return imprint
	case p == "standing.yaml":
		return standing
	case path.Ext(p) == ".md" && path.Dir(p) != phrasesFolder: // words lie there, and notes on them
		return guide
	case path.Dir(p) == methodsFolder && path.Ext(p) == ".yaml":
		return method
	case path.Dir(p) == phrasesFolder && path.Ext(p) == ".txt":
		return phrases
	case strings.HasPrefix(p, DrawingsFolder) && slices.Contains(DrawingKinds, path.Ext(p)):
		return drawing
	}
	return nothing
}

// IsGuide reports whether a file at this path in a copy, with slashes, is read as
// a guide.
func IsGuide(p string) bool { return partOf(p) == guide }

func (c *Copy) put(p part, t *fault.Text) {
	switch p {
	case guide:
		c.Guides = append(c.Guides, t)
	case method:
		c.Methods = append(c.Methods, t)
	case phrases:
		c.Phrases = append(c.Phrases, t)
	case imprint:
		c.Imprint = t
	case standing:
		c.Standing = t
	}
}

// meant returns the path at which a file would be read if it were named as one
// expects, and as what; nothing where it would not be.
func meant(p string) (string, part) {
	want := strings.ToLower(p)
	ext := path.Ext(want)
	switch stem := strings.TrimSuffix(want, ext); ext {
	case ".yml":
		want = stem + ".yaml"
	case ".markdown":
		want = stem + ".md"
	}
	part := partOf(want)
	switch part {
	case guide: // where a guide lies does not matter, only how its name ends
		want = strings.TrimSuffix(p, path.Ext(p)) + ".md"
	case drawing:
		want = DrawingsFolder + strings.TrimSuffix(p[len(DrawingsFolder):], path.Ext(p)) + ext
	}
	return want, part
}

// Heeded reports whether a file at this path in a copy, with slashes, has a part
// in a press: what it holds is read, or what it is called is told of.
func Heeded(p string) bool {
	_, part := meant(p)
	return partOf(p) != nothing || part != nothing
}

// nearly warns of a file that would be read if it were named as one expects:
// an author who does not hear of it looks for the guide in vain.
func (r *reader) nearly(p string) {
	want, part := meant(p)
	if part == nothing {
		return
	}
	r.fault(p, "is not read, because of how it is named").Graded(fault.Warn).
		Want("%s", Shown(want)).Fix("rename it; or put _ before its name, if it is to be left aside")
}
