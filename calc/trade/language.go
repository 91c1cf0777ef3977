package trade

import (
	"errors"
	"io/fs"
	"strings"
	"sync"

	"bindpost/calc/method"
	"bindpost/calc/phrase"
)

// worded keeps the sets of other languages, each read once, by language.
var worded sync.Map

// In returns the shipped set in the words of a language, or of the one that it
// is a kind of; in its first words where there are no others. It is the same
// for all callers and does not change.
func In(language string) *method.Library { return Library().In(language) }

// inWords returns the set of a language that it was not first written in; nil
// where there are no words of it.
func inWords(language string) *method.Library {
	for tag := language; tag != ""; tag = tag[:max(strings.LastIndexByte(tag, '-'), 0)] {
		if _, err := fs.Stat(files, wordsOf(tag)); err == nil {
			read, _ := worded.LoadOrStore(tag, sync.OnceValue(func() *method.Library { return mustWord(tag) }))
			return read.(func() *method.Library)()
		}
	}
	return nil
}

// Languages returns the languages for which there are words of the trade
// beside those that it was first written in.
func Languages() []string {
	names, _ := fs.Glob(files, wordsOf("*"))
	for i, name := range names {
		names[i] = strings.TrimSuffix(strings.TrimPrefix(name, "words/"), ".txt")
	}
	return names
}

func wordsOf(language string) string { return "words/" + language + ".txt" }

// mustWord reads the shipped set in another language.
func mustWord(language string) *method.Library {
	words, err := Words(language)
	if err != nil {
		panic("trade: the words of " + language + " cannot be read: " + err.Error())
	}
	return load(words, nil)
}

// Words returns the words of the trade in another language.
func Words(language string) (*phrase.Words, error) {
	text, err := read(files, wordsOf(language))
	if err != nil {
		return nil, err
	}
	words, faults := phrase.Read(text)
	if faults.Len() > 0 {
		return nil, errors.New(faults.String())
	}
	return words, nil
}
