package bind

import "unicode/utf8"

// A press writes the entries of all its guides, each of a hundred figures and
// more: they are written here field by field, as encoding/json would write them.

// appendEntry appends an entry of a ledger, and the end of its line.
func appendEntry(b []byte, e *LedgerEntry) []byte {
	b = appendField(append(b, '{'), "code", e.Code)
	b = appendField(append(b, ','), "file", e.File)
	b = appendField(append(b, ','), "hash", e.Hash)
	b = appendList(b, "figures", e.Figures, appendFigure)
	b = appendList(b, "verdicts", e.Verdicts, appendVerdict)
	b = appendList(b, "cautions", e.Cautions, appendName)
	b = appendList(b, "sentences", e.Sentences, appendSentence)
	return append(b, '}', '\n')
}

func appendFigure(b []byte, f *LedgerFigure) []byte {
	b = appendField(append(b, '{'), "address", f.Address)
	b = appendOptional(b, "value", f.Value)
	b = appendOptional(b, "unit", f.Unit)
	b = appendField(append(b, ','), "text", f.Text)
	b = appendOptional(b, "method", f.Method)
	b = appendOptional(b, "rule", f.Rule)
	return append(appendList(b, "used", f.Used, appendName), '}')
}

func appendVerdict(b []byte, v *LedgerVerdict) []byte {
	b = appendField(append(b, '{'), "table", v.Table)
	b = appendField(append(b, ','), "name", v.Name)
	b = appendField(append(b, ','), "grade", v.Grade)
	return append(appendField(append(b, ','), "words", v.Words), '}')
}

func appendSentence(b []byte, s *LedgerSentence) []byte {
	b = appendField(append(b, '{'), "where", s.Where)
	b = appendField(append(b, ','), "form", s.Form)
	return append(appendField(append(b, ','), "text", s.Text), '}')
}

func appendName(b []byte, id *string) []byte { return appendText(b, *id) }

// appendList appends a list behind other fields; nothing of one that is empty.
func appendList[T any](b []byte, name string, all []T, one func([]byte, *T) []byte) []byte {
	if len(all) == 0 {
		return b
	}
	b = append(appendText(append(b, ','), name), ':')
	for i := range all {
		sign := byte(',')
		if i == 0 {
			sign = '['
		}
		b = one(append(b, sign), &all[i])
	}
	return append(b, ']')
}

// appendOptional appends a field behind others, unless it is empty.
func appendOptional(b []byte, name, text string) []byte {
	if text == "" {
		return b
	}
	return appendField(append(b, ','), name, text)
}

func appendField(b []byte, name, text string) []byte {
	b = append(b, '"')
	b = append(b, name...)
	return appendText(append(b, '"', ':'), text)
}

func appendText(b []byte, text string) []byte {
	return append(AppendQuoted(append(b, '"'), text), '"')
}

// AppendQuoted appends a text as it stands between the quotes of a text in JSON,
// or in a script. What is no UTF-8 becomes the sign for that.
func AppendQuoted[T string | []byte](b []byte, text T) []byte {
	from := 0
	for i := 0; i < len(text); {
		if c := text[i]; c >= ' ' && c < utf8.RuneSelf && c != '"' && c != '\\' {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(string(text[i:min(i+utf8.UTFMax, len(text))]))
		if size > 1 && r != '\u2028' && r != '\u2029' {
			i += size
			continue
		}
		b = appendEscape(append(b, text[from:i]...), r)
		i += size
		from = i
	}
	return append(b, text[from:]...)
}

// appendEscape appends a sign that stands in no text as it is.
func appendEscape(b []byte, r rune) []byte {
	const digits = "0123456789abcdef"
	switch r {
	case '"', '\\':
		return append(b, '\\', byte(r))
	case '\b':
		return append(b, '\\', 'b')
	case '\f':
		return append(b, '\\', 'f')
	case '\n':
		return append(b, '\\', 'n')
	case '\r':
		return append(b, '\\', 'r')
	case '\t':
		return append(b, '\\', 't')
	}
	b = append(b, '\\', 'u')
	for shift := 12; shift >= 0; shift -= 4 {
		b = append(b, digits[r>>shift&0xf])
	}
	return b
}
