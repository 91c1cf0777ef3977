package publish

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"bindpost/calc/fault"
)

// File is one file of a manual. Path is relative to the manual's folder, with
// slashes, and holds no "..".
type File struct {
	Path string
	Data []byte
}

// Report says what a publish did.
type Report struct {
	Into  string   // the manual's folder, from the root
	Files int      // how many files it holds, the stamp not counted
	Whole bool     // it was set in place at one stroke
	Says  []string // plain sentences on what the author should know; often none
}

// ErrUnwritten is the cause of a fault where the system, or another press at
// work, would not let the manual be written. The guides are not to blame.
var ErrUnwritten = errors.New("could not be written")

// Publish writes a manual into a folder, in place of the one that stood there.
// Whatever goes wrong, the old manual stays as it was and the error is a
// [fault.Fault]; its cause is [ErrUnwritten] when the system is the reason.
//
// Publish looks again at the folder itself, but not where the copy lies:
// [Check] is to be asked first.
func Publish(into string, files []File, stamp Stamp) (Report, error) {
	report, f := publish(system, into, files, stamp)
	if f != nil {
		return Report{}, f
	}
	return report, nil
}

func publish(w ways, into string, files []File, stamp Stamp) (Report, *fault.Fault) {
	b, f := newBench(w, into)
	if f != nil {
		return Report{}, f
	}
	s, f := collate(files, stamp)
	if f != nil {
		return Report{}, f
	}
	release, f := b.open()
	if f != nil {
		return Report{}, f
	}
	defer release()
	report := Report{Into: b.into, Files: len(files)}
	if f := b.replace(s, &report); f != nil {
		return Report{}, f
	}
	return report, nil
}

// open takes the lock of the folder and makes ready to write beside it.
func (b *bench) open() (release func(), f *fault.Fault) {
	if err := os.MkdirAll(b.parent, 0o777); err != nil {
		return nil, b.refused("no folder could be made at %q", err, b.parent)
	}
	release, err := takeLock(b.ways, b.lock, b.busy)
	if errors.Is(err, errTaken) {
		return nil, b.taken()
	}
	if err != nil {
		return nil, b.refused("nothing may be written beside it", err)
	}
	if f := b.prepare(); f != nil {
		release()
		return nil, f
	}
	return release, nil
}

// bench knows the places that one publish works at.
type bench struct {
	ways
	typed  string // the folder as it was named to us, for messages
	into   string
	parent string
	fresh  string
	aside  string
	lock   string
	busy   string // the lock where the system has no better one
	spool  string
}

func newBench(w ways, into string) (*bench, *fault.Fault) {
	abs, err := filepath.Abs(into)
	if err != nil || into == "" {
		return nil, about(into, "no folder is named for the manual").Fix("name one after --into")
	}
	parent, name := filepath.Dir(abs), filepath.Base(abs)
	beside := func(what string) string { return filepath.Join(parent, "."+name+"."+what+"-bindpost") }
	return &bench{ways: w, typed: into, into: abs, parent: parent,
		fresh: beside("new"), aside: beside("old"), lock: beside("lock"), busy: beside("busy"), spool: beside("spool")}, nil
}

// prepare sets right what a killed press left, and sees that the folder may
// be replaced now that nobody else is at work on it.
func (b *bench) prepare() *fault.Fault {
	if _, err := os.Lstat(b.into); errors.Is(err, fs.ErrNotExist) && ours(b.aside) {
		// It was killed between its two steps: the old manual goes back first.
		if err := b.rename(b.aside, b.into); err != nil {
			return b.refused("the old manual, kept at %q, could not be put back", err, b.aside)
		}
	}
	if _, f := look(b.typed, b.into); f != nil {
		return f
	}
	for _, left := range []string{b.fresh, b.aside} {
		if err := sweep(left); err != nil {
			return b.refused("what stands at %q is in the way and could not be removed", err, left).
				Fix("see what it is, and move it elsewhere")
		}
	}
	return nil
}

// replace writes the new manual and puts it in the place of the old one.
func (b *bench) replace(s sheets, report *Report) *fault.Fault {
	t, err := s.write(b.fresh)
	if err != nil {
		sweep(b.fresh)
		return b.refused("the manual could not be written", err)
	}
	return b.put(t, report)
}

// put sees what is in a tray onto the disk, and puts it in the place of the old
// manual.
func (b *bench) put(t *tray, report *Report) *fault.Fault {
	err := t.settle()
	t.close()
	if err != nil {
		sweep(b.fresh)
		return b.refused("the manual could not be written", err)
	}
	was, f := look(b.typed, b.into) // somebody may have changed it meanwhile
	if f != nil {
		sweep(b.fresh)
		return f
	}
	left, whole, err := b.swap(was)
	if err != nil {
		return b.unswapped(err)
	}
	report.Whole = whole
	if !whole {
		report.Says = append(report.Says, "this disk cannot exchange two folders at one stroke: "+
			"the old manual was moved aside and the new one put in its place, so that for a moment there was none")
	}
	syncFolder(b.parent) // the new manual stands; a disk that cannot promise more cannot be helped
	if err := sweep(left); err != nil {
		report.Says = append(report.Says, fmt.Sprintf("the new manual is in place, but the old one could not be removed "+
			"and lies at %q: %s", left, reason(err)))
	}
	return nil
}
