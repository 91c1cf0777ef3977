package galley

import (
	"io/fs"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/folder"
	"bindpost/site/press"
)

// sheets are the files of the last good manual, by their paths in it.
type sheets interface {
	Page(path string) ([]byte, bool)
}

// made is what one press came to.
type made struct {
	sheets sheets // nil where a stop stands
	entry  string // the page to open first
	faults *fault.List
}

// maker makes the manual of a copy as it stands now. What changed since it was
// last called is told to it, so that it need not make again what did not.
type maker func(Changes) made

// incremental keeps the copy set in a forme, and makes anew only what changed.
func incremental(o press.Order) maker {
	forme := press.NewForme(o)
	return func(c Changes) made {
		faults := forme.Press(press.Changes{Any: c.Whole, Paths: c.Paths})
		if faults.Stopped() {
			return made{faults: faults}
		}
		return made{sheets: forme, entry: press.Entry, faults: faults}
	}
}

// proof is what is shown between one press and the next. It is not changed once
// it is shown.
type proof struct {
	number  int         // of the last press, from 1
	faults  *fault.List // of the last press
	sheets  sheets      // of the last good press; nil where there was none
	entry   string      // then, the page to open first
	writing string      // the page of the guide written last; "" where none was
}

// after returns the proof that follows one, with what the next press came to.
//
// Writing is the page of the guide that was written; a guide that is not in the
// copy any more is no longer written.
func (p proof) after(m made, writing string, copied fs.FS) *proof {
	p.number++
	p.faults = m.faults
	if m.sheets != nil {
		p.sheets, p.entry = m.sheets, m.entry
	}
	if writing != "" {
		p.writing = writing
	}
	if p.writing != "" {
		if _, err := fs.Stat(copied, strings.TrimSuffix(p.writing, ".html")+".md"); err != nil {
			p.writing = ""
		}
	}
	return &p
}

// stale reports whether what is shown is older than the last press.
func (p *proof) stale() bool { return p.faults.Stopped() }

// page returns a file of the last good manual.
func (p *proof) page(path string) ([]byte, bool) {
	if p.sheets == nil {
		return nil, false
	}
	return p.sheets.Page(path)
}

// writing returns the page of the guide that was written last, of those that are
// in the copy; "" where none of the changes was to one.
func (c Changes) writing(copied fs.FS) string {
	for _, p := range slices.Backward(c.Paths) {
		if folder.IsGuide(p) {
			if info, err := fs.Stat(copied, p); err == nil && info.Mode().IsRegular() {
				return press.PageOf(p)
			}
		}
	}
	return ""
}
