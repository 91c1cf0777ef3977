// Package press runs the stages that make a manual of a copy: read, compute,
// bind, render, publish. It is the only place that knows them all.
package press

import (
	"cmp"
	"fmt"
	"io/fs"
	"runtime"
	"slices"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/record"
	"bindpost/site/bind"
	"bindpost/site/folder"
	"bindpost/site/guide"
	"bindpost/site/publish"
	"bindpost/site/render"
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

// Manual is a finished manual, not yet written.
type Manual struct {
	Title  string
	Entry  string // the file to open first
	Files  []publish.File
	Ledger *bind.Ledger

	pages []render.Page          // in the order of the book
	bound func() ([]byte, error) // prints the booklet; nil where none is wanted
}

// Result is what a press did.
type Result struct {
	publish.Report
	Entry   string // the file of the manual to open first
	Moved   bind.Moved
	Compare bool  // an older press was there to compare with
	Unread  error // why what the press before printed could not be read; nil where it was, or where there was none
	Unkept  error // why what was printed could not be kept for the next press; nil where it was
}

// Press makes the manual and writes it, then keeps in the copy what was
// printed and what of it moved. With a stop on the list nothing was written
// and the old manual stands as it was. The error is for what the system would
// not do; a fault of the guides is on the list.
func Press(o Order) (Result, *fault.List, error) {
	faults := &fault.List{}
	if f := publish.Check(o.Into, o.Root); f != nil {
		return Result{}, faults, f
	}
	m, fs := Make(o)
	faults.Join(fs)
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
	r.keep(o, m.Ledger)
	return r, faults, nil
}

// Make runs every stage but the last. The manual is nil where a stop stands.
func Make(o Order) (*Manual, *fault.List) {
	renderer, err := render.New(o.Templates)
	if err != nil {
		panic(fmt.Sprintf("press: the templates are not sound: %v", err))
	}
	book, faults := bound(o, renderer)
	if faults.Stopped() {
		return nil, faults
	}
	if o.Guide != "" {
		code := codeIn(book, o.Guide)
		if code == "" {
			faults.Add(noGuide(o.Guide, book))
			return nil, faults
		}
		o.Guide = code
	}
	m, err := renderAll(book, renderer, o.Templates)
	if err != nil {
		// The guides passed every check: this is the program's mistake, never the author's.
		panic(fmt.Sprintf("press: %v", err))
	}
	m.Ledger = book.Ledger(o.Program)
	if o.Print != nil {
		loose := *m // as it is before its pages are put together
		m.bound = func() ([]byte, error) { return loose.booklet(book, renderer, o.Print) }
	}
	if o.Single {
		m.single(book, o.Guide, renderer)
	}
	return m, faults
}

// Bound runs the stages up to the book, and makes no page of it. With a stop on
// the list the book holds what could be read.
func Bound(o Order) (*bind.Book, *fault.List) {
	renderer, err := render.New(o.Templates)
	if err != nil {
		panic(fmt.Sprintf("press: the templates are not sound: %v", err))
	}
	return bound(o, renderer)
}

func bound(o Order, renderer *render.Renderer) (*bind.Book, *fault.List) {
	var skip []string
	if inside, ok := publish.Within(o.Root, o.Into); ok && o.Into != "" {
		skip = append(skip, inside)
	}
	c, faults := folder.Read(o.Copy, skip...)
	edition := guide.Edition{}
	if !slices.Contains(c.Lost, "imprint.yaml") {
		edition = o.Setting.over(readImprint(c.Imprint, renderer, faults))
	}
	library := inLanguage(c, edition.Language, o.Library, faults)
	standing, fs := guide.ReadStanding(c.Standing, slices.Contains(c.Lost, "standing.yaml"), edition)
	faults.Join(fs)
	adviseNothing(library, faults, c.Imprint, c.Standing)
	guides := compute(c.Guides, guide.Kit{Library: library, Standing: standing, Edition: edition}, faults)
	if len(c.Guides) == 0 && !faults.Stopped() {
		faults.Add(fault.At(fault.Place{Text: fault.NewText("the copy", "")}, "holds no guide").
			Want("at least one file ending in .md"))
	}
	book, fs := bind.Bind(bind.Parts{
		Guides: guides, Edition: edition, Drawings: c.Drawings, Standing: standing.All(), Methods: own(library, o.Library),
		Lost: c.Lost, Library: library,
	})
	faults.Join(fs)
	return book, faults
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

// compute finishes the guides, several at a time. The order of the result,
// and of the faults, does not depend on which was ready first.
func compute(texts []*fault.Text, kit guide.Kit, faults *fault.List) []*guide.Guide {
	guides := make([]*guide.Guide, len(texts))
	lists := make([]*fault.List, len(texts))
	inParallel(len(texts), func(i int) { guides[i], lists[i] = read(texts[i], kit) })
	for _, l := range lists {
		faults.Join(l)
	}
	return slices.DeleteFunc(guides, func(g *guide.Guide) bool { return g == nil })
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
