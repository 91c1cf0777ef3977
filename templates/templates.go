// Package templates carries what pages are made of: the page templates, the
// style sheet, the scripts and the phrases, one file a language.
package templates

import "embed"

// Files holds the templates (*.html), the style sheet, the scripts and the
// phrases.
//
//go:embed *.html *.css *.js phrases/*.txt
var Files embed.FS
