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
	used := spokenIn(c.Phrases, language)
	for _, t := range c.Phrases {
		w, fs := phrase.Read(t)
		at.Join(inUse(fs, t == used))
		brought[t.Name()] = w
	}
	faults.Join(at)
	before := &fault.List{}
	library := withWorded(c.Methods, wordsOf(brought, used), shipped.In(language), before)
	faults.Join(before)
	if before.Stopped() || at.Stopped() {
		return library // what is printed cannot be told as long as a method is not whole
	}
	var originals []phrase.Original
	if len(c.Methods) > 0 {
		originals = library.Originals()
	}
	for _, t := range c.Phrases {
		w := brought[t.Name()]
		faults.Join(inUse(w.Check(originals), t == used))
		for _, p := range w.Places() {
			library.NeverSaid(p, faults)
		}
	}
	if used == nil && shipped.In(language) != shipped {
		faults.Add(unworded(originals, language))
	}
	return library
}

// spokenIn returns the file of words of a language, or of the one that it is a
// kind of; nil where there is none.
func spokenIn(files []*fault.Text, language string) *fault.Text {
	for tag := language; tag != ""; tag = tag[:max(strings.LastIndexByte(tag, '-'), 0)] {
		for _, t := range files {
			if phrase.Tag(strings.TrimSuffix(path.Base(t.Name()), ".txt")) == tag {
				return t
			}
		}
	}
	return nil
}

// wordsOf returns the words of a file; nil where there is none.
func wordsOf(brought map[string]*phrase.Words, file *fault.Text) *phrase.Words {
	if file == nil {
		return nil
	}
	return brought[file.Name()]
}

// inUse returns the faults of a file of words. Those of one that this edition
// does not use stop no press: its reader is another one.
func inUse(faults *fault.List, used bool) *fault.List {
	if used {
		return faults
	}
	told := &fault.List{}
	for _, f := range faults.All() {
		if f.Grade == fault.Stop {
			f.Graded(fault.Warn)
		}
		told.Add(f)
	}
	return told
}

// unworded warns that an edition's language has no words for methods of the
// copy; nil where the texts of all of them are said alike elsewhere.
func unworded(originals []phrase.Original, language string) *fault.Fault {
	texts := 0
	for _, o := range originals {
		if !o.Known {
			texts++
		}
	}
	if texts == 0 {
		return nil
	}
	file := "phrases/" + language + ".txt"
	return fault.At(fault.Place{Text: fault.NewText(file, "")},
		"is not there, so the methods of the copy are printed in the words they were written in").Graded(fault.Warn).
		Want("words for %d of their texts", texts).
		Fix("make the file %s, empty: the proof then lists the lines that are wanted", file)
}
