package main

import (
	"runtime/debug"
	"testing"
	"testing/fstest"
)

// TestMakeRoom holds the room of a press to its guides: what was kept in the copy
// or pressed into it makes it no larger.
func TestMakeRoom(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(-1))
	const size = 1000
	makeRoom(fstest.MapFS{
		"a.md": {Data: make([]byte, size)}, "wire/b.md": {Data: make([]byte, size)},
		"plug.svg": {Data: make([]byte, size)}, "manual/a.html": {Data: make([]byte, size)}, ".bindpost/pieces.kept": {Data: make([]byte, size)},
	})
	if got, want := debug.SetMemoryLimit(-1), int64(programMemory+2*timesText*size); got != want {
		t.Errorf("the room is %d bytes, want %d", got, want)
	}
}
