package render

import (
	"fmt"
	"html/template"
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
