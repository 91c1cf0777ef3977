package press

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"bindpost/site/bind"
	"bindpost/site/publish"
)

// The files in which a press keeps what it printed.
const (
	ledgerName = "ledger.jsonl"
	movedName  = "moved.txt"
	unreadName = "ledger-not-read.jsonl" // a ledger that was not understood, put aside
)

// KeptMoved is the path in a copy of what moved at its last press.
const KeptMoved = publish.KeptFolder + "/" + movedName

// ledgers are the ledger of the press before and the one that is to stand in its
// place. A copy that came with the program keeps none.
type ledgers struct {
	then fs.File       // nil where there is none
	now  *publish.Kept // written beside it; nil where it could not be

	unread, unwritten error
}

// newLedger writes the ledger of a press beside the one of the press before.
func newLedger(o Order, write func(io.Writer) error) (l ledgers) {
	if o.Root == "" {
		return l
	}
	l.then, l.unread = lastLedger(o.Copy)
	now, err := publish.Keeping(o.Root, ledgerName)
	if err != nil {
		l.unwritten = err
		return l
	}
	buffered := bufio.NewWriterSize(now, 1<<16)
	err = write(buffered)
	if err == nil {
		err = buffered.Flush()
	}
	if err != nil {
		now.Discard()
		l.unwritten = err
		return l
	}
	l.now = now
	return l
}

// discard leaves the ledger of the press before as it stands.
func (l ledgers) discard() {
	if l.now != nil {
		l.now.Discard()
	}
	l.close()
}

func (l ledgers) close() {
	if l.then != nil {
		l.then.Close()
	}
}

// keep tells what moved against the ledger of the press before, and puts the one
// of this press in its place.
func (r *Result) keep(o Order, l ledgers) {
	defer l.close()
	r.Unread, r.Unkept = l.unread, l.unwritten
	if l.now == nil {
		return
	}
	if l.then != nil {
		if err := r.tellMoved(o, l.then, l.now); err != nil {
			l.now.Discard()
			r.Unkept = err
			return
		}
	}
	r.Unkept = l.now.Stand()
}

// tellMoved tells what moved since the ledger that stands in the copy. One that
// cannot be understood is put aside.
func (r *Result) tellMoved(o Order, then fs.File, now *publish.Kept) error {
	if _, err := now.Seek(0, io.SeekStart); err != nil {
		return err
	}
	old, new, err := bind.Differing(then, now)
	if err != nil {
		r.Unread = err
		return putAside(o)
	}
	r.Moved, r.Compare = new.Since(old), true
	if r.Moved.None() {
		return nil
	}
	return publish.Keep(o.Root, []publish.File{{Path: movedName, Data: []byte(movedText(r.Moved, old.Head, new.Head))}})
}

// putAside keeps a ledger that was not understood under another name.
func putAside(o Order) error {
	then, err := lastLedger(o.Copy)
	if err != nil {
		return err
	}
	defer then.Close()
	aside, err := publish.Keeping(o.Root, unreadName)
	if err != nil {
		return err
	}
	if _, err := io.Copy(aside, then); err != nil {
		aside.Discard()
		return err
	}
	return aside.Stand()
}

// mostLedger is the largest ledger that is read, in bytes.
const mostLedger = 1 << 30

// lastLedger opens the ledger of the press before; nil where there is none.
func lastLedger(copied fs.FS) (fs.File, error) {
	const name = publish.KeptFolder + "/" + ledgerName
	for _, step := range []string{publish.KeptFolder, name} {
		info, err := fs.Lstat(copied, step)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, nil
		case err != nil:
			return nil, err
		case step == publish.KeptFolder && !info.IsDir():
			return nil, fmt.Errorf("%s is a link or a file, and should be a folder", step)
		case step == name && !info.Mode().IsRegular():
			return nil, fmt.Errorf("%s is no plain file", step)
		case step == name && info.Size() > mostLedger:
			return nil, fmt.Errorf("%s is larger than any ledger", step)
		}
	}
	return copied.Open(name)
}

// movedText tells what moved, for a file. It stays until something moves again.
func movedText(m bind.Moved, old, now bind.LedgerHead) string {
	return fmt.Sprintf("What moved at the last press that moved anything, from the edition of %s to the one of %s:\n%s\n",
		old.Date, now.Date, strings.Join(m.Lines(), "\n"))
}
