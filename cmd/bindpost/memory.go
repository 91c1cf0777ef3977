package main

import (
	"io/fs"
	"path"
	"runtime/debug"
)

// How much memory a press may take before it tidies up more often: some for the
// program itself, and so many times the text of the copy's guides.
const (
	programMemory = 72 << 20
	timesText     = 3
	leisure       = 1000 // percent of what is held that may lie about, as long as there is room
)

// makeRoom lets a press leave more lying about than a program usually does, which
// saves it time, up to what suits the size of its guides.
func makeRoom(copied fs.FS) {
	var size int64
	fs.WalkDir(copied, ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || path.Ext(p) != ".md" { // not its drawings, nor what was pressed of it
			return nil // what cannot be read is told by the press
		}
		if info, err := e.Info(); err == nil {
			size += info.Size()
		}
		return nil
	})
	debug.SetGCPercent(leisure)
	debug.SetMemoryLimit(programMemory + timesText*size)
}
