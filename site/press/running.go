package press

import (
	"bufio"
	"cmp"
	"io"
	"slices"
	"sync"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/folder"
	"bindpost/site/guide"
	"bindpost/site/publish"
	"bindpost/site/render"
)

// pressRunning writes each page as soon as it is made, and lets go of it: of a
// book of thousands of guides no more is held than what they say to each other.
func pressRunning(o Order) (Result, *fault.List, error) {
	f := NewForme(o)
	run := &run{forme: f, memory: remember(o), printed: map[string]*printed{}}
	f.run, f.shelf.mostWhole = run, mostUnforeseen
	defer run.end()
	faults := f.Press(Changes{Any: true})
	if faults.Stopped() {
		return Result{}, faults, nil
	}
	r, err := run.finish()
	return r, faults, err
}

// run is a manual that is being written while its guides are made.
type run struct {
	forme  *Forme
	memory *memory
	ahead  *bind.Book // the book as far as its guides' dockets tell; nil before

	large bool // the copy is so large that texts are not held

	once    sync.Once
	job     *publish.Job // nil before the first page
	hand    *hand        // then; nil once it rests
	put     *publish.Spool
	spooled *publish.Kept // the spool's file, where it is kept for the next press
	err     error         // why nothing can be written

	mu      sync.Mutex
	printed map[string]*printed // what was written of each guide, by its file
	carried int                 // of how many guides the pages are those of the press before
}

// printed is what was written of one guide.
type printed struct {
	key            string // of the leaf that it was made of
	page, workings pageSum
	pieces         pieces
}

// mostUnforeseen is how many whole guides are held whose pages wait for the book.
// Further ones are read once more.
const mostUnforeseen = 100

// lookAhead reads the dockets of all guides, so that the pages of each can be
// made as soon as the guide is.
func (r *run) lookAhead(k kit, texts []*fault.Text) {
	size := 0
	for _, t := range texts {
		size += len(t.Source())
	}
	r.large = size > mostText
	ahead := make([]*guide.Guide, len(texts))
	inParallel(len(texts), func(i int) { ahead[i] = guide.ReadAhead(texts[i], k.Kit) })
	r.ahead, _ = bind.Bind(bind.Parts{Guides: ahead, Edition: k.Edition, Drawings: r.forme.copied.Drawings, Library: k.Library})
}

// looked lets go of what was read ahead.
func (r *run) looked() { r.ahead = nil }

// mostText is how many bytes of guides are held until the manual stands. What
// goes beyond is read again where it is wanted once more.
const mostText = 16 << 20

// letGo lets go of the text of a guide that was made, where the copy is large.
func (r *run) letGo(t *fault.Text) {
	if r.large {
		t.LetGo(func() (string, bool) {
			again, ok := folder.ReadGuide(r.forme.order.Copy, t.Name())
			if !ok {
				return "", false
			}
			return again.Source(), true
		})
	}
}

// guide writes the pages of a guide that was just made, as they will be if the
// book has no more to say of it than its dockets do.
func (r *run) guide(whole, light *bind.Outline) {
	r.ahead.Made(light.Guide)
	l, likely := r.ahead.Foresee(whole)
	if !likely {
		r.forme.shelf.hold(whole)
		return
	}
	r.note(r.print(r.ahead, l))
}

// note keeps the first error.
func (r *run) note(err error) {
	if err == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.err == nil {
		r.err = err
	}
}

// print sets a leaf whose guide is whole, and writes what is made of it.
func (r *run) print(b *bind.Book, l *bind.Leaf) error {
	r.once.Do(func() { r.begin(b) })
	if r.job == nil {
		return r.err
	}
	set, err := r.forme.renderer.Set(b, l)
	if err != nil {
		return err
	}
	p := &printed{key: l.Key(), page: sumOf(set.Page.HTML())}
	if set.Workings != nil {
		p.workings = sumOf(set.Workings.HTML())
	}
	if err := r.putPieces(p, l, set); err != nil {
		return err
	}
	r.hand.write(set)
	r.printedAs(l, p)
	return nil
}

// putPieces puts into the spool what of a guide goes into files that are made of
// the whole book.
func (r *run) putPieces(p *printed, l *bind.Leaf, set *render.Set) (err error) {
	if p.pieces.Find, err = r.put.Add(set.Find); err != nil {
		return err
	}
	room := rooms.Get().(*[]byte)
	defer rooms.Put(room)
	*room = setPiece((*room)[:0], set)
	if p.pieces.Set, err = r.put.Add(*room); err != nil || r.forme.order.Root == "" {
		return err
	}
	line := l.Line(*room)
	*room = line.Text
	if p.pieces.Line, err = r.put.Add(line.Text); err != nil {
		return err
	}
	*room = usesPiece((*room)[:0], line.Uses)
	p.pieces.Uses, err = r.put.Add(*room)
	return err
}

// rooms keeps the room in which pieces were written.
var rooms = sync.Pool{New: func() any { return new([]byte) }}

// printedAs notes what was written of a leaf.
func (r *run) printedAs(l *bind.Leaf, p *printed) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.printed[l.Guide.File] = p
}

func (r *run) begin(b *bind.Book) {
	o := r.forme.order
	job, err := publish.Begin(o.Into, publish.Stamp{Title: b.Edition.Title, Program: o.Program})
	if err != nil {
		r.note(err)
		return
	}
	if err := r.openSpool(job); err != nil {
		job.Discard()
		r.note(err)
		return
	}
	r.job, r.hand = job, newHand(job, r.note)
}

// settle returns when the pages of all guides are written, and what goes with
// them into the spool.
func (r *run) settle() error {
	r.hand.rest()
	r.hand = nil
	r.note(r.put.Settle())
	r.job.Hasten()
	return r.err
}

// openSpool opens the spool in the copy, where what is in it is kept for the next
// press; beside the manual where nothing can be kept.
func (r *run) openSpool(job *publish.Job) (err error) {
	o := r.forme.order
	if o.Root != "" && o.Build != "" {
		if r.spooled, err = publish.Keeping(o.Root, piecesName); err == nil {
			r.put = publish.NewSpool(r.spooled.File)
			return nil
		}
	}
	r.put, err = job.Spool()
	return err
}

// end gives up what was not finished.
func (r *run) end() {
	r.memory.close()
	if r.hand != nil {
		r.hand.rest()
	}
	if r.spooled != nil {
		r.spooled.Discard()
	}
	if r.job != nil {
		r.job.Discard()
	}
}

func (r *run) count() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.carried++
}

// of returns what was written of a leaf; nil where that was made of another.
func (r *run) of(l *bind.Leaf) *printed {
	r.mu.Lock()
	defer r.mu.Unlock()
	if p := r.printed[l.Guide.File]; p != nil && p.key == l.Key() {
		return p
	}
	return nil
}

// set hands over what the pages of the book need of a leaf that was printed.
func (r *run) set(l *bind.Leaf) (*render.Set, error) {
	piece, err := r.put.Get(r.last(l).pieces.Set)
	if err != nil {
		return nil, err
	}
	return setOfPiece(piece)
}

// last returns what was printed of a leaf last, once all are printed.
func (r *run) last(l *bind.Leaf) *printed {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.printed[l.Guide.File]
}

// finish writes what the book has to say otherwise than was foreseen, then the
// pages that are made of the whole of it, and puts the manual in its place.
func (r *run) finish() (Result, error) {
	f := r.forme
	r.once.Do(func() { r.begin(f.book) })
	if r.job == nil {
		return Result{}, r.err
	}
	leaves := slices.DeleteFunc(slices.Clone(f.book.Leaves), func(l *bind.Leaf) bool { return r.of(l) != nil })
	inParallel(len(leaves), func(i int) {
		// What was printed otherwise may not be written yet: a page that is carried
		// over would be written before it.
		if r.last(leaves[i]) == nil && r.carry(leaves[i]) {
			r.count()
			return
		}
		r.note(r.print(f.book, leaves[i].With(f.wholeOf(leaves[i]))))
	})
	if err := r.settle(); err != nil {
		return Result{}, err
	}
	if err := r.bookPages(); err != nil {
		return Result{}, err
	}
	return r.stand()
}

// stand puts the manual in its place. While the disk takes it in, the ledger is
// written, and what was made of the guides; they stand once the manual does.
func (r *run) stand() (Result, error) {
	o := r.forme.order
	var report publish.Report
	var guides *publish.Kept
	var ledgers ledgers
	var err, unkept error
	together(
		func() { report, err = r.job.Finish() },
		func() { ledgers = newLedger(o, r.writeLedger) },
		func() { guides, unkept = r.keepGuides() },
	)
	if err != nil {
		ledgers.discard()
		if guides != nil {
			guides.Discard()
		}
		return Result{}, err
	}
	result := Result{Report: report, Entry: bind.ContentsPath, Carried: r.carried}
	result.keep(o, ledgers)
	if unkept == nil {
		unkept = r.standKept(guides)
	}
	result.Unkept = cmp.Or(result.Unkept, unkept)
	return result, nil
}

// bookPages writes the pages and files that are made of the whole book, several at
// a time.
func (r *run) bookPages() error {
	f := r.forme
	front, back, rules, err := f.bookPages(r.set)
	if err != nil {
		return err
	}
	drafts := slices.Concat(front, back, rules)
	slices.Reverse(drafts) // the index takes longest, and was last
	all, errs := newWanted(), make([]error, len(drafts)+1)
	inParallel(len(errs), func(i int) {
		if i == len(drafts) {
			errs[i] = r.findIndex()
			return
		}
		var page render.Page
		page, errs[i] = r.writeDraft(drafts[i])
		all.by(page)
	})
	if err := cmp.Or(errs...); err != nil {
		return err
	}
	return r.filesBeside(all)
}

// writeDraft writes a page piece by piece as it is set.
func (r *run) writeDraft(d render.Draft) (page render.Page, err error) {
	err = r.write(d.Path(), func(w io.Writer) error {
		var err error
		page, err = d.Write(w)
		return err
	})
	return page, err
}

// filesBeside writes the files that stand beside the pages.
func (r *run) filesBeside(all *wanted) error {
	for _, l := range r.forme.book.Leaves {
		set, err := r.set(l)
		if err != nil {
			return err
		}
		all.by(set.Page)
	}
	files, err := r.forme.filesOf(all)
	if err != nil {
		return err
	}
	for _, file := range files {
		if err := r.job.Put(file); err != nil {
			return err
		}
	}
	return nil
}

// findIndex writes what is looked through for finding.
func (r *run) findIndex() error {
	f := r.forme
	return r.write(render.FindIndex, func(w io.Writer) error {
		buffered := bufio.NewWriterSize(w, 1<<16)
		err := f.renderer.WriteFind(buffered, f.book, func(l *bind.Leaf) ([]byte, error) { return r.put.Get(r.last(l).pieces.Find) })
		return cmp.Or(err, buffered.Flush())
	})
}

// write writes a file of the manual piece by piece.
func (r *run) write(path string, pieces func(io.Writer) error) error {
	file, err := r.job.Create(path)
	if err != nil {
		return err
	}
	return cmp.Or(pieces(file), file.Close())
}

// writeLedger writes the record of what was printed.
func (r *run) writeLedger(w io.Writer) error {
	uses := func(l *bind.Leaf) ([]bind.Use, error) {
		piece, err := r.put.Get(r.last(l).pieces.Uses)
		if err != nil {
			return nil, err
		}
		return usesOfPiece(piece)
	}
	return r.forme.book.WriteLedger(w, r.forme.order.Program, uses, func(l *bind.Leaf) ([]byte, error) {
		return r.put.Get(r.last(l).pieces.Line)
	})
}
