package formula

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"bindpost/calc/unit"
)

// tokenKind is what a stretch of text is.
type tokenKind uint8

const (
	endToken    tokenKind = iota // nothing is left
	numberToken                  // digits; a unit after it is read by the parser
	wordToken                    // a name or a word of the language
	textToken                    // words in double quotes
	signToken                    // an operation, a bracket, a comma, a relation
	openToken                    // a double quote that is not closed
	oddToken                     // a character that has no meaning here
)

// token is a stretch of the text, in bytes from its head.
type token struct {
	kind       tokenKind
	start, end int
	sign       string // of a signToken, in its plain form: "*" for ×
}

// signs are all signs that are read, longest first where one begins another,
// each with its plain form.
var signs = []struct{ written, plain string }{
	{"<=", "<="}, {"≤", "<="}, {">=", ">="}, {"≥", ">="},
	{"=", "="}, {"<", "<"}, {">", ">"},
	{"+", "+"}, {"-", "-"}, {"−", "-"}, {"*", "*"}, {"×", "*"}, {"·", "*"}, {"/", "/"},
	{"^", "^"}, {"²", "²"}, {"³", "³"},
	{"(", "("}, {")", ")"}, {"[", "["}, {"]", "]"}, {",", ","},
}

// scan reads the token at or after an offset.
func scan(src string, from int) token {
	from += blankLength(src[from:])
	rest := src[from:]
	t := token{start: from, end: from}
	if rest == "" {
		return t
	}
	if n := unit.ScanNumber(rest); n > 0 {
		t.kind, t.end = numberToken, from+n
		return t
	}
	if n := nameLength(rest); n > 0 {
		t.kind, t.end = wordToken, from+n
		return t
	}
	for _, s := range signs {
		if strings.HasPrefix(rest, s.written) {
			t.kind, t.end, t.sign = signToken, from+len(s.written), s.plain
			return t
		}
	}
	if rest[0] == '"' {
		return quoted(t, rest)
	}
	_, size := utf8.DecodeRuneInString(rest)
	t.kind, t.end = oddToken, from+size
	return t
}

// quoted reads words in double quotes; they hold no line break.
func quoted(t token, rest string) token {
	t.kind, t.end = openToken, t.start+1
	if n := strings.IndexAny(rest[1:], "\"\n"); n >= 0 && rest[1+n] == '"' {
		t.kind, t.end = textToken, t.start+n+2
	}
	return t
}

// blankLength returns how many bytes at the head of a text are white space,
// no-break spaces included.
func blankLength(s string) int {
	for i, r := range s {
		if !unicode.IsSpace(r) {
			return i
		}
	}
	return len(s)
}
