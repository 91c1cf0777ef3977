// Package content carries the demonstration copy: guides of an invented club,
// pressed when no other copy is named.
package content

import "embed"

// Files is the demonstration copy.
//
//go:embed *.md *.yaml
var Files embed.FS
