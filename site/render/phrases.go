package render

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// words are the phrases of one language, by key.
type words map[string]string

// Say returns a phrase. A key that no language has is a slip of ours.
func (w words) Say(key string) string {
	phrase, ok := w[key]
	if !ok {
		panic("a page asks for a phrase that no language has: " + key)
	}
	return phrase
}

// sayOr returns the phrase of a word that comes with a guide, and the word
// itself where the language has no other for it.
func (w words) sayOr(kind, word string) string {
	if phrase, ok := w[kind+word]; ok {
		return phrase
	}
	return word
}

// fill returns a phrase with its {names} filled in. The slots are names and
// values by turns; a value is text, or HTML that is ready.
func (w words) fill(key string, slots ...any) template.HTML {
	var pairs []string
	for i := 0; i+1 < len(slots); i += 2 {
		pairs = append(pairs, "{"+slots[i].(string)+"}", string(asHTML(slots[i+1])))
	}
	return template.HTML(strings.NewReplacer(pairs...).Replace(template.HTMLEscapeString(w.Say(key))))
}

// asHTML returns text as HTML, and HTML as it is.
func asHTML(v any) template.HTML {
	switch v := v.(type) {
	case template.HTML:
		return v
	case string:
		return template.HTML(template.HTMLEscapeString(v))
	}
	return template.HTML(template.HTMLEscapeString(fmt.Sprint(v)))
}

// joined puts things in a row as a sentence does: "a, b and c".
func (w words) joined(things []template.HTML) template.HTML {
	if len(things) == 0 {
		return ""
	}
	row := things[0]
	for i, t := range things[1:] {
		key := "table-join"
		if i == len(things)-2 {
			key = "table-join-last"
		}
		row = w.fill(key, "first", row, "second", t)
	}
	return row
}

// capital returns text with a capital at its head.
func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToTitle(r)) + s[size:]
}

// capitalHTML returns HTML that begins with text, with a capital at its head.
func capitalHTML(text template.HTML) template.HTML {
	return template.HTML(capital(string(text)))
}

// sentence returns text with a capital at its head and a stop at its end.
func sentence(s string) string {
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".!?:") {
		return capital(s)
	}
	return capital(s) + "."
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

// readLanguages reads every file of phrases, and holds each to have the same
// keys as the others.
func readLanguages(templates fs.FS) (map[string]words, error) {
	files, err := fs.Glob(templates, "phrases/*.txt")
	if err != nil {
		return nil, fmt.Errorf("reading the phrases: %w", err)
	}
	if len(files) == 0 {
		return nil, errors.New("there are no phrases among the templates")
	}
	languages := map[string]words{}
	var first words
	for _, file := range files {
		text, err := fs.ReadFile(templates, file)
		if err != nil {
			return nil, fmt.Errorf("reading the phrases: %w", err)
		}
		w, err := readPhrases(file, text)
		if err != nil {
			return nil, err
		}
		if first == nil {
			first = w
		}
		if err := sameKeys(file, w, files[0], first); err != nil {
			return nil, err
		}
		languages[strings.TrimSuffix(path.Base(file), ".txt")] = w
	}
	return languages, nil
}

// readPhrases reads lines of "key: words"; "#" opens a remark.
func readPhrases(file string, text []byte) (words, error) {
	w := words{}
	lines := bufio.NewScanner(bytes.NewReader(text))
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(lines.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		key, phrase, ok := strings.Cut(line, ": ")
		if !ok {
			return nil, fmt.Errorf("%s:%d: want a key, a colon and the words, got %q", file, n, line)
		}
		if _, twice := w[key]; twice {
			return nil, fmt.Errorf("%s:%d: the key %q stands twice", file, n, key)
		}
		w[key] = strings.TrimSpace(phrase)
	}
	return w, lines.Err()
}

func sameKeys(file string, w words, otherFile string, other words) error {
	for _, key := range slices.Sorted(maps.Keys(other)) {
		if _, ok := w[key]; !ok {
			return fmt.Errorf("%s: the key %q is missing, and %s has it", file, key, otherFile)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(w)) {
		if _, ok := other[key]; !ok {
			return fmt.Errorf("%s: the key %q stands here, and %s does not have it", file, key, otherFile)
		}
	}
	return nil
}
