package press

import (
	"io/fs"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/phrase"
	"bindpost/site/folder"
)

// Methods returns the shipped methods with those of a copy, for work that needs
// nothing else of the copy. The faults are those that a press would tell of
// them.
func Methods(copied fs.FS, shipped *method.Library) (*method.Library, *fault.List) {
	texts, faults := folder.ReadMethods(copied)
	return withOwn(texts, shipped, faults), faults
}

// withOwn reads the methods of a copy on top of the shipped ones.
func withOwn(texts []*fault.Text, shipped *method.Library, faults *fault.List) *method.Library {
	return withWorded(texts, nil, shipped, faults)
}

// withWorded reads the methods of a copy on top of the shipped ones, in the
// words of a language that the copy brings; nil leaves them as they are written.
func withWorded(texts []*fault.Text, words *phrase.Words, shipped *method.Library, faults *fault.List) *method.Library {
	if len(texts) == 0 {
		return shipped
	}
	library, fs := method.Load(method.Sources{Methods: texts, Words: words}, shipped)
	faults.Join(fs)
	return library
}

// own returns the methods that a library has beyond those that come with
// the program.
func own(library, shipped *method.Library) []*method.Sheet {
	var sheets []*method.Sheet
	for _, name := range library.Names() {
		if _, known := shipped.Method(name); !known {
			m, _ := library.Method(name)
			sheets = append(sheets, m.Sheet())
		}
	}
	return sheets
}
