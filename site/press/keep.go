package press

import (
	"errors"
	"fmt"
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

// keep compares the ledger with that of the press before and keeps both it and
// what moved. A copy that came with the program keeps nothing.
func (r *Result) keep(o Order, now *bind.Ledger) {
	if o.Root == "" {
		return
	}
	files := []publish.File{{Path: ledgerName, Data: now.Write()}}
	old, unread, err := lastLedger(o.Copy)
	switch {
	case err != nil:
		r.Unread = err
		if unread != nil {
			files = append(files, publish.File{Path: unreadName, Data: unread})
		}
	case old != nil:
		r.Moved, r.Compare = now.Since(old), true
		if !r.Moved.None() {
			files = append(files, publish.File{Path: movedName, Data: []byte(movedText(r.Moved, old.Head, now.Head))})
		}
	}
	r.Unkept = publish.Keep(o.Root, files)
}

// mostLedger is the largest ledger that is read, in bytes.
const mostLedger = 256 << 20

// lastLedger reads the ledger of the press before; nil where there is none. Of
// one that cannot be understood it returns the text, which is then put aside.
func lastLedger(copied fs.FS) (l *bind.Ledger, unread []byte, err error) {
	const name = publish.KeptFolder + "/" + ledgerName
	for _, step := range []string{publish.KeptFolder, name} {
		info, err := fs.Lstat(copied, step)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, nil, nil
		case err != nil:
			return nil, nil, err
		case step == publish.KeptFolder && !info.IsDir():
			return nil, nil, fmt.Errorf("%s is a link or a file, and should be a folder", step)
		case step == name && !info.Mode().IsRegular():
			return nil, nil, fmt.Errorf("%s is no plain file", step)
		case step == name && info.Size() > mostLedger:
			return nil, nil, fmt.Errorf("%s is larger than any ledger", step)
		}
	}
	data, err := fs.ReadFile(copied, name)
	if err != nil {
		return nil, nil, err
	}
	l, err = bind.ReadLedger(data)
	if err != nil {
		return nil, data, err
	}
	return l, nil, nil
}

// movedText tells what moved, for a file. It stays until something moves again.
func movedText(m bind.Moved, old, now bind.LedgerHead) string {
	return fmt.Sprintf("What moved at the last press that moved anything, from the edition of %s to the one of %s:\n%s\n",
		old.Date, now.Date, strings.Join(m.Lines(), "\n"))
}
