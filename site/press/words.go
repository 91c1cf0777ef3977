package press

import (
	"path"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/phrase"
	"bindpost/site/folder"
)

// inLanguage reads the methods of a copy on top of the shipped ones, all of
// them in the words of the edition's language where there are such words. What
// the copy brings for its own methods is held to what these say now, in every
// language.
func inLanguage(c *folder.Copy, language string, shipped *method.Library, faults *fault.List) *method.Library {
	brought, at := map[string]*phrase.Words{}, &fault.List{}
	for _, t := range c.Phrases {
		w, fs := phrase.Read(t)
		at.Join(fs)
		brought[strings.TrimSuffix(path.Base(t.Name()), ".txt")] = w
	}
	faults.Join(at)
	before := &fault.List{}
	library := withWorded(c.Methods, spoken(brought, language), shipped.In(language), before)
	faults.Join(before)
	if before.Stopped() || at.Stopped() {
		return library // what is printed cannot be told as long as a method is not whole
	}
	var originals []phrase.Original
	if len(c.Methods) > 0 {
		originals = library.Originals()
	}
	for _, t := range c.Phrases {
		w := brought[strings.TrimSuffix(path.Base(t.Name()), ".txt")]
		faults.Join(w.Check(originals))
		for _, p := range w.Places() {
			library.NeverSaid(p, faults)
		}
	}
	return library
}

// spoken returns the words of a language, or of the one that it is a kind of;
// nil where there are none.
func spoken(brought map[string]*phrase.Words, language string) *phrase.Words {
	for tag := language; tag != ""; tag = tag[:max(strings.LastIndexByte(tag, '-'), 0)] {
		if w, ok := brought[tag]; ok {
			return w
		}
	}
	return nil
}
