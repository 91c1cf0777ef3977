package render

import (
	"html/template"
	"strings"
	"unicode"
	"unicode/utf8"

	"bindpost/calc/unit"
)

// A reader who listens hears units and signs as words. Where the written form
// and the word differ, the page holds both: the written one is kept from
// listeners, the word from eyes, copies and print.

// noBreak keeps a number and its unit on one line.
const noBreak = "\u00a0"

// heard returns a written form beside the word that is heard for it.
func heard(written, word string) template.HTML {
	return seenPart + asHTML(written) + heardPart + asHTML(word) + heardEnd
}

// What stands before, between and behind a written form and its word.
const (
	seenPart  = `<span aria-hidden="true">`
	heardPart = `</span><span class="spoken">`
	heardEnd  = `</span>`
)

// spokenOnly returns a word that is heard and not seen.
func spokenOnly(word string) template.HTML {
	return template.HTML(`<span class="spoken">` + escaped(word) + `</span>`)
}

// unitHTML returns a unit as it is written, with its word for listeners where
// the two differ by more than an ending: "ohm" is heard as it stands.
func (w words) unitHTML(written string, u unit.Unit) template.HTML {
	spoken := w.Spoken(u)
	if sounds(written, spoken) {
		return asHTML(written)
	}
	return heard(written, spoken)
}

// sounds reports whether a unit reads aloud as it is written: a word of at
// least three letters, no abbreviation, that its spoken form only lengthens.
func sounds(written, spoken string) bool {
	if spoken == "" || spoken == written {
		return true
	}
	const shortestWord = 3
	return len(written) >= shortestWord && strings.HasPrefix(spoken, written) &&
		strings.IndexFunc(written, func(r rune) bool { return !unicode.IsLower(r) }) < 0
}

// quantity returns a number with its unit.
func (w words) quantity(number string, u unit.Unit) template.HTML {
	if u.Symbol() == "" {
		return w.signs(number)
	}
	written, spoken := u.Symbol(), w.Spoken(u)
	if sounds(written, spoken) {
		return w.signs(number) + noBreak + asHTML(written)
	}
	return w.signs(number) + noBreak + seenPart + asHTML(written) + heardPart + asHTML(spoken) + heardEnd
}

// signs returns text in which signs have their words for listeners.
func (w words) signs(text string) template.HTML {
	if isPlain(text) {
		return asHTML(text)
	}
	var b strings.Builder
	w.writeSigns(&b, text)
	return template.HTML(b.String())
}

// isPlain reports whether text has no letter beyond the plain ones, and so no
// sign either.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

func (w words) writeSigns(b *strings.Builder, text string) {
	from := 0
	for i, r := range text {
		if key := signKey(r); key != "" {
			b.WriteString(escaped(text[from:i]))
			from = i + utf8.RuneLen(r)
			b.WriteString(string(heard(text[i:from], w.Say(key)+" ")))
		}
	}
	b.WriteString(escaped(text[from:]))
}

// signKey returns the phrase of a sign, and "" for any other character.
func signKey(r rune) string {
	switch r {
	case '−':
		return "sign-minus"
	case '±':
		return "sign-plus-minus"
	case '≤':
		return "sign-at-most"
	case '≥':
		return "sign-at-least"
	case '×':
		return "sign-times"
	case '≈':
		return "sign-about"
	}
	return ""
}

// computed returns text that was made by computing, such as "16 AWG, 9 m" or
// "loss at most 0.5 dB", in which every unit after a number and every sign
// has its word.
func (w words) computed(text string) template.HTML {
	if strings.IndexFunc(text, unicode.IsDigit) < 0 {
		return w.signs(text)
	}
	var b strings.Builder
	inWord := false // letters run up to here, so that a digit is part of a name
	from := 0       // what stands before is written
	for at := 0; at < len(text); {
		if n := unit.ScanNumber(text[at:]); n > 0 && !inWord {
			w.writeSigns(&b, text[from:at+n])
			rest := w.scanUnit(&b, text[at+n:])
			at = len(text) - len(rest)
			from = at
			continue
		}
		r, size := utf8.DecodeRuneInString(text[at:])
		inWord = unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_'
		at += size
	}
	w.writeSigns(&b, text[from:])
	return template.HTML(b.String())
}

// scanUnit writes the unit at the head of what follows a number, bound to it,
// and returns what comes after.
func (w words) scanUnit(b *strings.Builder, text string) (rest string) {
	unitText := strings.TrimLeft(text, " "+noBreak)
	u, n := unit.ScanUnit(unitText)
	if n == 0 {
		return text
	}
	if len(unitText) < len(text) {
		b.WriteString(noBreak)
	}
	b.WriteString(string(w.unitHTML(unitText[:n], u)))
	return unitText[n:]
}
