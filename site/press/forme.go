package press

import (
	"fmt"
	"io/fs"
	"slices"
	"sync"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/folder"
	"bindpost/site/guide"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// Forme is a copy set in type and kept standing: the next press of it makes
// anew only what has changed since the last, and its pages are made when they
// are asked for. A page is the same to the byte as in a manual pressed from
// nothing.
//
// Presses come one after another; pages may be asked for by several goroutines,
// also during a press.
type Forme struct {
	order    Order
	renderer *render.Renderer
	run      *run                              // nil but where a manual is written as it is made
	light    func(*bind.Outline) *bind.Outline // makes a guide light that is made

	copied *folder.Copy // as it was last read; nil before
	read   *fault.List  // what was told of reading it
	kit    kit
	guides map[string]*made // the guides as they were last made, by file
	faults *fault.List      // of the last press
	last   *bind.Book       // of the last press, whatever stood on the list

	mu    sync.Mutex // over what follows, of the last press in which no stop stood
	book  *bind.Book // nil before the first
	with  guide.Kit  // what its guides were made with
	stale bool       // the last press is not that one
	shelf *shelf     // what was set of its guides
	pages *pages     // of its book
}

// made is a guide as it was last made.
type made struct {
	outline *bind.Outline // light
	faults  *fault.List
}

// Changes says what of a copy may have changed since the last press: the paths
// in it, or that it may be anything.
type Changes struct {
	Any   bool
	Paths []string
}

// NewForme makes ready to press a copy.
func NewForme(o Order) *Forme {
	renderer, err := render.New(o.Templates)
	if err != nil {
		panic(fmt.Sprintf("press: the templates are not sound: %v", err))
	}
	return &Forme{order: o, renderer: renderer, light: (*bind.Outline).Light, guides: map[string]*made{}, shelf: newShelf()}
}

// Press runs the stages up to the book on what has changed, and returns what is
// to be told of the copy. With a stop on the list the pages stay those of the
// last press without one.
func (f *Forme) Press(c Changes) *fault.List {
	if texts, few := f.fewGuides(c); few && f.pressFew(texts) {
		return f.faults
	}
	f.pressAll()
	return f.faults
}

// pressAll reads the whole copy and binds it anew.
func (f *Forme) pressAll() {
	f.readCopy()
	f.faults = &fault.List{}
	f.faults.Join(f.read)
	f.faults.Join(f.kit.faults)
	guides := f.makeAll()
	for _, m := range guides {
		f.faults.Join(m.faults)
	}
	if len(f.copied.Guides) == 0 && !f.faults.Stopped() {
		f.faults.Add(fault.At(fault.Place{Text: fault.NewText("the copy", "")}, "holds no guide").
			Want("at least one file ending in .md"))
	}
	book, fs := bind.Bind(f.parts(guides))
	f.faults.Join(fs)
	f.last = book
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.stale = f.faults.Stopped(); f.stale {
		return
	}
	f.book, f.with, f.pages = book, f.kit.Kit, newPages(book)
	f.shelf.only(book)
}

// readCopy reads the copy, and what its guides are made with where that is other
// than before.
func (f *Forme) readCopy() {
	var skip []string
	if inside, ok := publish.Within(f.order.Root, f.order.Into); ok && f.order.Into != "" {
		skip = append(skip, inside)
	}
	f.copied, f.read = folder.Read(f.order.Copy, skip...)
	if f.kit.faults == nil || f.kit.from != kitTexts(f.copied) {
		f.kit = readKit(f.copied, f.order, f.renderer)
	}
}

// makeAll makes the guides that are not yet made of just these texts with just
// this kit, several at a time. The order of the result does not depend on which
// was ready first.
func (f *Forme) makeAll() []*made {
	texts := f.copied.Guides
	all, fresh := make([]*made, len(texts)), map[string]*made{}
	if f.run != nil {
		f.run.lookAhead(f.kit, texts)
	}
	inParallel(len(texts), func(i int) {
		if all[i] = f.guides[texts[i].Name()]; !f.stands(all[i], texts[i]) {
			all[i] = f.make(texts[i])
		}
	})
	if f.run != nil {
		f.run.looked()
	}
	for i, t := range texts {
		fresh[t.Name()] = all[i]
	}
	f.guides = fresh
	return slices.DeleteFunc(all, func(m *made) bool { return m.outline == nil })
}

// stands reports whether a guide is made of just this text, with all that it
// asked of the kit.
func (f *Forme) stands(m *made, t *fault.Text) bool {
	return m != nil && m.outline != nil && m.outline.Guide.Text.Source() == t.Source() &&
		m.outline.Guide.Hash == guide.HashOf(t, f.kit.Kit, m.outline.Guide.Asked)
}

// make makes one guide.
func (f *Forme) make(t *fault.Text) *made {
	if f.run != nil {
		if o := f.run.memory.outline(t, f.kit.Kit); o != nil {
			f.run.ahead.Made(o.Guide)
			f.run.letGo(t)
			return &made{outline: o, faults: &fault.List{}}
		}
	}
	g, faults := read(t, f.kit.Kit)
	m := &made{faults: faults}
	if g == nil {
		return m
	}
	whole := bind.NewOutline(g)
	m.outline = f.light(whole)
	switch {
	case faults.Stopped():
	case f.run != nil:
		f.run.guide(whole, m.outline)
	default:
		f.shelf.hold(whole)
	}
	if f.run != nil && faults.Len() == 0 {
		f.run.letGo(t)
	}
	return m
}

// parts are what the book is made of.
func (f *Forme) parts(guides []*made) bind.Parts {
	p := bind.Parts{
		Edition: f.kit.Edition, Drawings: f.copied.Drawings, Standing: f.kit.Standing.All(),
		Methods: own(f.kit.Library, f.order.Library), Lost: f.copied.Lost, Library: f.kit.Library,
	}
	for _, m := range guides {
		p.Guides, p.Outlines = append(p.Guides, m.outline.Guide), append(p.Outlines, m.outline)
	}
	return p
}

// templateFile reads a file of the templates.
func (f *Forme) templateFile(name string) ([]byte, error) {
	return fs.ReadFile(f.order.Templates, name)
}
