package render

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/phrase"
)

// firstLanguage is the language that the phrases were first written in. Every
// other one is made from it, and stands in where words of another are wanting.
const firstLanguage = "en"

// firstKind is the kind of the first language in which its phrases are written.
const firstKind = "en-GB"

// Languages returns the languages for which there are phrases, sorted.
func (r *Renderer) Languages() []string { return slices.Sorted(maps.Keys(r.languages)) }

// SpeaksAs returns the language in whose words a language is printed, by its
// usual name: itself where it has words of its own. false: there are none.
func (r *Renderer) SpeaksAs(language string) (as string, ok bool) {
	for tag := language; tag != ""; tag = tag[:max(strings.LastIndex(tag, "-"), 0)] {
		switch _, own := r.languages[tag]; {
		case !own:
		case tag == firstLanguage && language != firstLanguage:
			return firstKind, true
		default:
			return tag, true
		}
	}
	return "", false
}

// Editions returns the languages that have words of their own, as an imprint
// names them, sorted.
func (r *Renderer) Editions() []string {
	var all []string
	for _, l := range r.Languages() {
		if l == firstLanguage {
			l = firstKind
		}
		all = append(all, l)
	}
	slices.Sort(all)
	return all
}

// words returns the phrases for a language, or for the language that it is a
// kind of: "en" serves "en-GB".
func (r *Renderer) words(language string) (words, error) {
	for tag := language; tag != ""; {
		if w, ok := r.languages[tag]; ok {
			return w, nil
		}
		cut := max(strings.LastIndex(tag, "-"), 0)
		tag = tag[:cut]
	}
	known := slices.Sorted(maps.Keys(r.languages))
	return nil, fmt.Errorf("there are no phrases for the language %q, only for: %s", language, strings.Join(known, ", "))
}

// readLanguages reads every file of phrases. A phrase that a language lacks,
// or that is older than its original, stays as it was first written.
func readLanguages(templates fs.FS) (map[string]words, error) {
	files, err := fs.Glob(templates, "phrases/*.txt")
	if err != nil {
		return nil, fmt.Errorf("reading the phrases: %w", err)
	}
	first, originals, err := firstPhrases(templates)
	if err != nil {
		return nil, err
	}
	languages := map[string]words{firstLanguage: first}
	for _, file := range files {
		language := strings.TrimSuffix(path.Base(file), ".txt")
		if language == firstLanguage {
			continue
		}
		made, err := readPhrases(templates, file)
		if err != nil {
			return nil, err
		}
		said := map[string]string{unitKey: language}
		for _, o := range originals {
			said[o.Key] = made.Of(o.Key, o.Words)
		}
		languages[language] = newWords(said)
	}
	return languages, nil
}

// firstPhrases reads the phrases as they were first written.
func firstPhrases(templates fs.FS) (words, []phrase.Original, error) {
	read, err := readPhrases(templates, "phrases/"+firstLanguage+".txt")
	if err != nil {
		return nil, nil, err
	}
	said, originals := map[string]string{}, read.Originals()
	for _, o := range originals {
		said[o.Key] = o.Words
	}
	return newWords(said), originals, nil
}

func readPhrases(templates fs.FS, file string) (*phrase.Words, error) {
	text, err := fs.ReadFile(templates, file)
	if err != nil {
		return nil, fmt.Errorf("reading the phrases: %w", err)
	}
	w, faults := phrase.Read(fault.NewText(file, string(text)))
	if faults.Stopped() {
		return nil, errors.New(faults.String())
	}
	return w, nil
}
