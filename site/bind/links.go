package bind

import (
	"net/url"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// linker turns links between guides into links between pages.
type linker struct {
	leaves map[string]*Leaf // by the guide's file
	faults *fault.List
}

func newLinker(leaves []*Leaf) *linker {
	k := &linker{leaves: make(map[string]*Leaf, len(leaves))}
	for _, l := range leaves {
		k.leaves[l.Guide.File] = l
	}
	return k
}

// marks returns the ids of the leaf's page that a link may name.
func (l *Leaf) marks() []string {
	marks := append(make([]string, 0, 1+len(l.Heads)+len(l.Guide.Tables)), l.Guide.Docket.Code)
	for _, h := range l.Heads {
		marks = append(marks, h.Code)
	}
	for _, t := range l.Guide.Tables {
		marks = append(marks, t.Number)
	}
	return marks
}

// Link is a link that leads to a guide of the copy.
type Link struct {
	Typed string // its destination as the author wrote it
	Page  string // to which it leads
	Named string // what it leads to as paper names it: "E4", "E4-T2"
}

// Link returns the link of a destination; false where it leads to no guide.
func (l *Leaf) Link(typed string) (Link, bool) {
	i := slices.IndexFunc(l.Links, func(k Link) bool { return k.Typed == typed })
	if i < 0 {
		return Link{}, false
	}
	return l.Links[i], true
}

// links finds the page of every link of a guide that leads to a guide of the
// copy. A link to a guide, section or table that the copy does not hold is a
// fault.
func (k *linker) links(l *Leaf) []Link { return k.leading(l, k.resolve) }

// leading returns the links of a guide of which a page is found.
func (k *linker) leading(l *Leaf, find func(*Leaf, mention) (string, bool)) []Link {
	var found []Link
	for _, link := range l.outline.links {
		page, ok := find(l, link)
		if ok && !slices.ContainsFunc(found, func(k Link) bool { return k.Typed == link.destination }) {
			found = append(found, Link{link.destination, page, k.named(l, link)})
		}
	}
	return found
}

// foreseen finds the pages of a guide's links as [linker.links] does, and takes
// it that the sections and tables are there that they name.
func (k *linker) foreseen(l *Leaf) []Link {
	return k.leading(l, func(l *Leaf, link mention) (string, bool) {
		file, mark, inside := within(link.destination)
		target, known := l, true
		if file != "" || mark == "" {
			target, known = k.leaves[path.Join(path.Dir(l.Guide.File), file)]
		}
		if !inside || !known {
			return "", false
		}
		return way(l, target, mark), true
	})
}

// way returns the way from a leaf's page to a mark on the page of another, or to
// that page.
func way(from, to *Leaf, mark string) string {
	page := ""
	if to.Path != from.Path {
		page = Relative(from.Path, to.Path)
	}
	if mark != "" {
		page += "#" + mark
	}
	return page
}

// named returns the code of the guide, section or table to which a link leads.
func (k *linker) named(l *Leaf, link mention) string {
	file, mark, _ := within(link.destination)
	if mark != "" {
		return mark
	}
	return k.leaves[path.Join(path.Dir(l.Guide.File), file)].Guide.Docket.Code
}

func (k *linker) resolve(l *Leaf, link mention) (page string, ok bool) {
	file, mark, inside := within(link.destination)
	if !inside {
		return "", false
	}
	target, known := l, true
	if file != "" || mark == "" {
		target, known = k.leaves[path.Join(path.Dir(l.Guide.File), file)]
	}
	if !known {
		k.faults.Add(k.noGuide(l, link, file))
		return "", false
	}
	// A guide whose code could not be read has lost its marks with it.
	if mark != "" && target.Guide.Docket.Code != "" && !slices.Contains(target.marks(), mark) {
		if lostTable(target.Guide, mark) {
			return "", false
		}
		k.faults.Add(k.noMark(l, link, target, mark))
		return "", false
	}
	return way(l, target, mark), true
}

// lostTable reports whether a mark may name a table that is missing only because
// a fault stands in its block.
func lostTable(g *guide.Guide, mark string) bool {
	return (g.Lost || len(g.Broken) > 0) && strings.HasPrefix(mark, g.Docket.Code+"-T")
}

// within reports whether a link's destination lies in the copy, and parts the
// file from the mark in it: "amplifier.md#K1-2". A link inside its own guide
// has no file.
func within(destination string) (file, mark string, inside bool) {
	u, err := url.Parse(destination)
	if err != nil {
		return destination, "", true // no address can be read: it names no guide
	}
	return u.Path, u.Fragment, u.Scheme == "" && u.Host == ""
}

func (k *linker) noGuide(l *Leaf, link mention, file string) *fault.Fault {
	const want = "a guide's file, named from the folder of this guide"
	at := destinationPlace(l.Guide, link.at, file)
	switch {
	case file == "":
		return fault.At(at, "the link leads nowhere").Want(want)
	case !strings.EqualFold(path.Ext(file), ".md"):
		return fault.At(at, "the link leads to %q, which is no guide of the copy", file).Want(want)
	}
	f := fault.At(at, "the link leads to %q, and the copy has no such guide", file).Want(want)
	var files []string
	for name := range k.leaves {
		if name != l.Guide.File {
			files = append(files, Relative(l.Guide.File, name))
		}
	}
	slices.Sort(files)
	if near := fault.Near(file, files); near != "" {
		f.Fix("write %s", near)
	}
	return f
}

func (k *linker) noMark(l *Leaf, link mention, target *Leaf, mark string) *fault.Fault {
	f := fault.At(destinationPlace(l.Guide, link.at, mark), "the link leads to %q, and %s has no such section or table", mark, target.Guide.File).
		Want("the code that stands beside a heading or above a table of that guide")
	marks := target.marks()
	slices.Sort(marks)
	if near := fault.Near(mark, marks); near != "" {
		f.Fix("write #%s", near)
	}
	return f
}

// destinationPlace returns where a part of the destination of a link or
// picture stands, the first of those given that is found. It may stand
// elsewhere in the guide; then the node's own head is the place.
func destinationPlace(g *guide.Guide, at int, parts ...string) fault.Place {
	if at < 0 {
		return g.Text.All().Sub(0, 0)
	}
	rest := g.Text.Place(at, len(g.Text.Source()))
	paragraph, _, _ := strings.Cut(rest.String(), "\n\n")
	for _, part := range parts {
		if i := strings.Index(paragraph, part); part != "" && i >= 0 {
			return rest.Sub(i, i+len(part))
		}
	}
	return rest.Sub(0, 1)
}

// Relative returns the path of one page as another page names it. Both are
// paths with slashes from the head of the manual.
func Relative(from, to string) string {
	shared := 0 // the folders in which both lie
	for i := 0; i < len(from) && i < len(to) && from[i] == to[i]; i++ {
		if from[i] == '/' {
			shared = i + 1
		}
	}
	return strings.Repeat("../", strings.Count(from[shared:], "/")) + to[shared:]
}
