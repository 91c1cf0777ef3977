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
	old, err := lastLedger(o.Copy)
	switch {
	case err != nil:
		r.Unread = err
	case old != nil:
		r.Moved, r.Compare = now.Since(old), true
		if !r.Moved.None() {
			files = append(files, publish.File{Path: movedName, Data: []byte(movedText(r.Moved, old.Head, now.Head))})
		}
	}
	r.Unkept = publish.Keep(o.Root, files)
}

// lastLedger reads the ledger of the press before; nil where there is none.
func lastLedger(copied fs.FS) (*bind.Ledger, error) {
	data, err := fs.ReadFile(copied, publish.KeptFolder+"/"+ledgerName)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return bind.ReadLedger(data)
}

// movedText tells what moved, for a file. It stays until something moves again.
func movedText(m bind.Moved, old, now bind.LedgerHead) string {
	return fmt.Sprintf("What moved at the last press that moved anything, from the edition of %s to the one of %s:\n%s\n",
		old.Date, now.Date, strings.Join(m.Lines(), "\n"))
}
