// Package content carries two copies inside the program: the demonstration,
// pressed when no other copy is named, and the small worked one that a new
// copy starts from.
package content

import (
	"embed"
	"io/fs"
)

// Files is the demonstration copy.
//
//go:embed *.md *.yaml drawings
var Files embed.FS

// The folder's name begins with _, so that the demonstration never reads it.
//
//go:embed all:_blank
var blank embed.FS

// Blank returns the small worked copy.
func Blank() fs.FS {
	files, err := fs.Sub(blank, "_blank")
	if err != nil {
		panic("the small worked copy is not in the program: " + err.Error())
	}
	return files
}
