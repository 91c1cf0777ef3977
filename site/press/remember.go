package press

import (
	"bufio"
	"bytes"
	"encoding/gob"
	"errors"
	"hash/crc32"
	"io"
	"io/fs"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/publish"
)

// The kept results of a press: what was made of each guide, and the pieces that
// go into files made of the whole book. Both hold nothing that cannot be made
// again; whatever in them is not as it was written is made again.
const (
	guidesName = "guides.kept"
	piecesName = "pieces.kept"
)

// keptFormat goes up when what is kept changes its shape.
const keptFormat = 3

// keptHead opens the file of the guides. What was made by another program counts
// as not made.
type keptHead struct {
	Format int
	Build  string
}

// keptGuide is what was made of one guide in which nothing was told.
type keptGuide struct {
	File     string
	Outline  bind.Kept
	Key      string // of its leaf
	Page     pageSum
	Workings pageSum
	Pieces   pieces
}

// pageSum is by what a page in the manual is known to be the one that was made.
type pageSum struct {
	Size int
	Sum  uint32
}

func sumOf(page []byte) pageSum { return pageSum{len(page), publish.Sum(page)} }

// pieces of a guide lie in the spool.
type pieces struct {
	Find publish.Stretch // what is looked through for finding
	Set  publish.Stretch // what the pages of the book need of it
	Line publish.Stretch // its line of the ledger
	Uses publish.Stretch // the figures of other guides and its own that it prints
}

// memory is what the press before kept.
type memory struct {
	guides map[string]*keptGuide // by file
	pieces io.ReaderAt
	file   fs.File
}

// remember reads what the press before kept; what cannot be read counts as not
// kept.
func remember(o Order) *memory {
	none := &memory{}
	if o.Root == "" || o.Build == "" {
		return none
	}
	m, err := readMemory(o)
	if err != nil {
		return none
	}
	return m
}

var errOtherPress = errors.New("it was kept by another program")

func readMemory(o Order) (*memory, error) {
	if err := unspoilt(o.Copy); err != nil {
		return nil, err
	}
	f, err := openKept(o.Copy, guidesName)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	read := gob.NewDecoder(bufio.NewReaderSize(f, 1<<16))
	var head keptHead
	if err := read.Decode(&head); err != nil {
		return nil, err
	}
	if head != (keptHead{keptFormat, o.Build}) {
		return nil, errOtherPress
	}
	m := &memory{guides: map[string]*keptGuide{}}
	for {
		k := &keptGuide{}
		if err := read.Decode(k); err != nil {
			return nil, err
		}
		if k.File == "" {
			break // the sum follows
		}
		m.guides[k.File] = k
	}
	if m.file, err = openKept(o.Copy, piecesName); err != nil {
		return nil, err
	}
	var ok bool
	if m.pieces, ok = m.file.(io.ReaderAt); !ok {
		m.close()
		return nil, errors.New("its pieces cannot be read one by one")
	}
	return m, nil
}

// unspoilt holds the file of the guides to the sum at its end.
func unspoilt(copied fs.FS) error {
	f, err := openKept(copied, guidesName)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	sum, want := crc32.NewIEEE(), make([]byte, crc32.Size)
	if _, err := io.CopyN(sum, f, info.Size()-crc32.Size); err != nil {
		return err
	}
	if _, err := io.ReadFull(f, want); err != nil {
		return err
	}
	if !bytes.Equal(sum.Sum(nil), want) {
		return errors.New("somebody changed it")
	}
	return nil
}

// openKept opens a plain file of the kept folder.
func openKept(copied fs.FS, name string) (fs.File, error) {
	p := publish.KeptFolder + "/" + name
	info, err := fs.Lstat(copied, p)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no plain file")
	}
	return copied.Open(p)
}

func (m *memory) close() {
	if m.file != nil {
		m.file.Close()
	}
}

// outline returns the outline of a guide that was made of just this text, with
// all that it asked of the kit; nil where none was kept.
func (m *memory) outline(t *fault.Text, k guide.Kit) *bind.Outline {
	kept := m.guides[t.Name()]
	if kept == nil || guide.HashOf(t, k, kept.Outline.Asked) != kept.Outline.Hash {
		return nil
	}
	o, whole := kept.Outline.Outline(t, k)
	if !whole {
		return nil
	}
	kept.Outline = bind.Kept{} // nobody asks for it again
	return o
}

// keepGuides writes what was made of the guides of a book, for the next press; nil
// where nothing can be kept. It stands once [run.standKept] says so.
func (r *run) keepGuides() (*publish.Kept, error) {
	f := r.forme
	if r.spooled == nil || f.order.Build == "" {
		return nil, nil
	}
	out, err := publish.Keeping(f.order.Root, guidesName)
	if err != nil {
		return nil, err
	}
	buffered := bufio.NewWriterSize(out, 1<<16)
	sum := crc32.NewIEEE()
	if err = r.writeGuides(gob.NewEncoder(io.MultiWriter(buffered, sum))); err == nil {
		_, err = buffered.Write(sum.Sum(nil))
	}
	if flushed := buffered.Flush(); err == nil {
		err = flushed
	}
	if err != nil {
		out.Discard()
		return nil, err
	}
	return out, nil
}

// standKept puts what was kept of the guides in its place, the pieces first: a
// guide whose pieces are others is made again. Pieces can be had no more then.
func (r *run) standKept(guides *publish.Kept) error {
	if guides == nil {
		return nil
	}
	spooled := r.spooled
	r.spooled = nil
	if err := spooled.Stand(); err != nil {
		guides.Discard()
		return err
	}
	return guides.Stand()
}

func (r *run) writeGuides(w *gob.Encoder) error {
	if err := w.Encode(keptHead{keptFormat, r.forme.order.Build}); err != nil {
		return err
	}
	for _, l := range r.forme.book.Leaves {
		m, p := r.forme.guides[l.Guide.File], r.last(l)
		outline, whole := m.outline.Keep()
		if !whole || m.faults.Len() > 0 {
			continue
		}
		k := keptGuide{File: l.Guide.File, Outline: outline, Key: p.key, Page: p.page, Workings: p.workings, Pieces: p.pieces}
		if err := w.Encode(k); err != nil {
			return err
		}
	}
	return w.Encode(keptGuide{}) // nothing follows but the sum
}

// carry puts the pages of a leaf that the press before made into the manual, as
// they stand in the old one. It reports false where they are not these pages any
// more.
func (r *run) carry(l *bind.Leaf) bool {
	kept := r.memory.guides[l.Guide.File]
	if kept == nil || kept.Key != l.Key() {
		return false
	}
	p := &printed{key: kept.Key, page: kept.Page, workings: kept.Workings}
	if !r.carryPage(l.Path, kept.Page) || l.HasWorkings() && !r.carryPage(l.WorkingsPath(), kept.Workings) {
		return false
	}
	for _, piece := range []struct{ from, to *publish.Stretch }{
		{&kept.Pieces.Find, &p.pieces.Find}, {&kept.Pieces.Set, &p.pieces.Set}, {&kept.Pieces.Line, &p.pieces.Line},
		{&kept.Pieces.Uses, &p.pieces.Uses},
	} {
		data, err := piece.from.Read(r.memory.pieces)
		if err != nil {
			return false
		}
		if *piece.to, err = r.put.Add(data); err != nil {
			return false
		}
	}
	r.printedAs(l, p)
	return true
}

// carryPage puts a page of the old manual into the new one, if it is still the one
// that was made.
func (r *run) carryPage(path string, sum pageSum) bool {
	data, err := r.job.Standing(path)
	return err == nil && sumOf(data) == sum && r.job.Put(publish.File{Path: path, Data: data}) == nil
}
