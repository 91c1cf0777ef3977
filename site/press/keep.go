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

// keep writes the ledger into the copy, and tells what moved against that of the
// press before. A copy that came with the program keeps nothing.
func (r *Result) keep(o Order, write func(io.Writer) error) {
	if o.Root == "" {
		return
	}
	then, unread := lastLedger(o.Copy)
	if r.Unread = unread; then != nil {
		defer then.Close()
	}
	now, err := publish.Keeping(o.Root, ledgerName)
	if err == nil {
		err = r.compare(o, then, now, write)
	}
	r.Unkept = err
}

// compare writes the ledger, compares it with the older one where there is one,
// and puts it in its place.
func (r *Result) compare(o Order, then fs.File, now *publish.Kept, write func(io.Writer) error) error {
	buffered := bufio.NewWriterSize(now, 1<<16)
	err := write(buffered)
	if err == nil {
		err = buffered.Flush()
	}
	if err == nil && then != nil {
		err = r.tellMoved(o, then, now)
	}
	if err != nil {
		now.Discard()
		return err
	}
	return now.Stand()
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
