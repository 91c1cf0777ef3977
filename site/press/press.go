// Package press runs the stages that make a manual of a copy: read, compute,
// bind, render, publish. It is the only place that knows them all.
package press

import (
	"cmp"
	"io/fs"
	"runtime"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/record"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/publish"
)

// Order says what is to be pressed, with what, and where to.
type Order struct {
	Copy      fs.FS
	Root      string // the copy's folder on disk; "" where it comes with the program
	Into      string // the folder for the manual
	Single    bool   // all of it in one page that needs no file beside it
	Guide     string // then, the code of the only guide that is wanted; "" for all
	Library   *method.Library
	Templates fs.FS
	Program   string // name and version of the program, for the stamp
	Build     string // names the very program: what another one kept is made again; "" keeps nothing
	Setting   Setting
	Print     Print // what prints the booklet; nil where none is wanted
}

// Setting is what one press sets otherwise than the imprint says; what is ""
// stays as it is there. The paper and the size of the type go before the
// imprint, for it says what suits most readers and this press may be for one.
type Setting struct {
	Paper string // one of guide.Papers
	Type  string // one of guide.TypeSizes
}

// over returns an edition with what is set otherwise.
func (s Setting) over(e guide.Edition) guide.Edition {
	e.Paper, e.Type = cmp.Or(s.Paper, e.Paper), cmp.Or(s.Type, e.Type)
	return e
}

// Entry is the page of a manual to open first.
const Entry = bind.ContentsPath

// Result is what a press did.
type Result struct {
	publish.Report
	Entry   string // the file of the manual to open first
	Moved   bind.Moved
	Compare bool  // an older press was there to compare with
	Carried int   // of how many guides the pages are those of the press before
	Unread  error // why what the press before printed could not be read; nil where it was, or where there was none
	Unkept  error // why what was printed could not be kept for the next press; nil where it was
}

// Press makes the manual and writes it, then keeps in the copy what was
// printed and what of it moved. With a stop on the list nothing was written
// and the old manual stands as it was. The error is for what the system would
// not do; a fault of the guides is on the list.
func Press(o Order) (Result, *fault.List, error) {
	if f := publish.Check(o.Into, o.Root); f != nil {
		return Result{}, &fault.List{}, f
	}
	if o.Single || o.Print != nil {
		return pressWhole(o)
	}
	return pressRunning(o)
}

// pressWhole makes the whole manual before any of it is written: what is one
// page needs all of it at once.
func pressWhole(o Order) (Result, *fault.List, error) {
	m, faults := Make(o)
	if faults.Stopped() {
		return Result{}, faults, nil
	}
	if m.bound != nil {
		pdf, err := m.bound()
		if err != nil {
			return Result{}, faults, err
		}
		m.Files = append(m.Files, publish.File{Path: BookletName, Data: pdf})
	}
	report, err := publish.Publish(o.Into, m.Files, publish.Stamp{Title: m.Title, Program: o.Program})
	if err != nil {
		return Result{}, faults, err
	}
	r := Result{Report: report, Entry: m.Entry}
	r.keep(o, newLedger(o, m.ledger))
	return r, faults, nil
}

// Proof runs the stages up to the book, and makes no page of it.
func Proof(o Order) *fault.List { return NewForme(o).Press(Changes{Any: true}) }

// Bound runs the stages up to the book, with every guide whole. With a stop on
// the list the book holds what could be read.
func Bound(o Order) (*bind.Book, *fault.List) {
	f := NewForme(o)
	f.light = func(o *bind.Outline) *bind.Outline { return o }
	faults := f.Press(Changes{Any: true})
	return f.last, faults
}

// adviseNothing looks through what stands beside the guides and is printed with
// them for advice that no page prints. What cannot be read is told elsewhere.
func adviseNothing(library *method.Library, faults *fault.List, texts ...*fault.Text) {
	for _, t := range texts {
		if t == nil {
			continue
		}
		if n, fs := record.Parse(t); n != nil && !fs.Stopped() {
			library.NeverAdvised(n, faults)
		}
	}
}

// read finishes one guide. Should the program trip over it, the author hears
// which guide it was, and that the guide is not to blame.
func read(t *fault.Text, kit guide.Kit) (g *guide.Guide, faults *fault.List) {
	defer func() {
		if r := recover(); r != nil {
			g, faults = nil, &fault.List{}
			faults.Add(fault.At(t.Place(0, 0), "the program tripped over this guide: %v", r).
				Want("no guide to do that: this is a mistake of the program, not of the guide").
				Fix("tell its makers, with the guide; as a makeshift, take out what you last put in"))
		}
	}()
	return guide.Read(t, kit)
}

// together calls several functions at once, and returns when all have returned.
func together(all ...func()) {
	var wait sync.WaitGroup
	for _, one := range all {
		wait.Go(one)
	}
	wait.Wait()
}

// inParallel calls do for 0 to n-1 on as many goroutines as there are
// processors, and returns when all are done.
func inParallel(n int, do func(i int)) {
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}
