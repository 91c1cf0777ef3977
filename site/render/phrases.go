package render

import (
	"fmt"
	"html/template"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// words are the phrases of one language, by key.
type words map[string]*saying

// saying is what is printed of one key: as text, and as HTML with slots.
type saying struct {
	said  string
	parts []string // HTML and the names of slots by turns
}

// newWords returns the phrases of a language, ready to be filled.
func newWords(said map[string]string) words {
	w := make(words, len(said))
	for key, text := range said {
		w[key] = newSaying(text)
	}
	return w
}

var slot = regexp.MustCompile(`\{\w+\}`)

func newSaying(said string) *saying {
	p, set := &saying{said: said}, escaped(said)
	end := 0
	for _, at := range slot.FindAllStringIndex(set, -1) {
		p.parts = append(p.parts, set[end:at[0]], set[at[0]+1:at[1]-1])
		end = at[1]
	}
	p.parts = append(p.parts, set[end:])
	return p
}

// Say returns a phrase. A key that no language has is a slip of ours.
func (w words) Say(key string) string { return w.saying(key).said }

func (w words) saying(key string) *saying {
	p, ok := w[key]
	if !ok {
		panic("a page asks for a phrase that no language has: " + key)
	}
	return p
}

// sayOr returns the phrase of a word that comes with a guide, and the word
// itself where the language has no other for it.
func (w words) sayOr(kind, word string) string {
	if p, ok := w[kind+word]; ok {
		return p.said
	}
	return word
}

// fill returns a phrase with its {names} filled in. The slots are names and
// values by turns; a value is text, or HTML that is ready.
func (w words) fill(key string, slots ...any) template.HTML {
	p := w.saying(key)
	length := 0
	for _, part := range p.parts {
		length += len(part)
	}
	for i := 1; i < len(slots); i += 2 {
		length += len(slotHTML(slots[i]))
	}
	var b strings.Builder
	b.Grow(length)
	for i, part := range p.parts {
		if i%2 == 0 {
			b.WriteString(part)
			continue
		}
		b.WriteString(slotNamed(part, slots))
	}
	return template.HTML(b.String())
}

// slotNamed returns what fills a slot; one that nothing fills stays as it is.
func slotNamed(name string, slots []any) string {
	for i := 0; i+1 < len(slots); i += 2 {
		if slots[i] == name {
			return slotHTML(slots[i+1])
		}
	}
	return "{" + name + "}"
}

// slotHTML returns the value of a slot as HTML.
func slotHTML(v any) string {
	switch v := v.(type) {
	case template.HTML:
		return string(v)
	case string:
		return escaped(v)
	}
	panic(fmt.Sprintf("a phrase is filled with %v, which is neither text nor HTML", v))
}

// escaped returns text as it stands in HTML. Most has nothing to escape.
func escaped(text string) string {
	for i := range len(text) {
		switch text[i] {
		case 0, '"', '&', '\'', '<', '>':
			return template.HTMLEscapeString(text)
		}
	}
	return text
}

// asHTML returns text as HTML.
func asHTML(text string) template.HTML { return template.HTML(escaped(text)) }

// joined puts things in a row as a sentence does: "a, b and c".
func (w words) joined(things []template.HTML) template.HTML {
	return joinPieces(w.joining(len(things), func(i int) template.HTML { return things[i] }))
}

// capital returns text with a capital at its head.
func capital(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	title := unicode.ToTitle(r)
	if size == 0 || title == r && r != utf8.RuneError {
		return s
	}
	return string(title) + s[size:]
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
