package formula

import (
	"strings"
	"unicode"

	"bindpost/calc/unit"
)

// words are the words of the language: they stand for themselves and name
// nothing.
var words = map[string]bool{
	"when": true, "else": true, "none": true, "unknown": true,
	"and": true, "or": true, "not": true, "is": true, "given": true,
	"at": true, "most": true, "least": true, "below": true, "above": true,
	"of": true, "with": true, "pi": true,
}

// lineWords head the lines of a block, and caseKeys the parts of a case that
// are no values; a value of the same name could not be told from them.
var (
	lineWords = map[string]bool{
		"name": true, "rows": true, "columns": true, "show": true, "limit": true, "claim": true,
		"most": true, "least": true, "figure": true, "chart": true, "work": true,
		"rises": true, "falls": true, "ratios": true,
	}
	caseKeys = map[string]bool{"within": true, "reference": true}
)

// ReservedName says why a name may not stand for an input, a constant or a
// result: "it is a unit". It returns "" for a name that may. Steps and own
// functions that are no result are free to use the words that head a line of
// a block; the parser itself refuses the rest.
func ReservedName(name string) (why string) {
	if why := refusedName(name); why != "" {
		return why
	}
	switch {
	case lineWords[name]:
		return "it heads a line of a block"
	case caseKeys[name]:
		return "it is a key of a case"
	}
	return ""
}

// refusedName says why a name may not stand in a formula at all.
func refusedName(name string) (why string) {
	switch {
	case nameLength(name) != len(name) || name == "":
		return "a name is a letter, then letters, digits and _"
	case words[name]:
		return "it is a word of the language"
	case builtin(name) != nil:
		return "it is a built-in function"
	case unit.IsWord(name):
		return "it is a unit"
	}
	return ""
}

// nameLength returns how many bytes at the head of a text make a name.
func nameLength(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '_') {
			return i
		}
	}
	return len(s)
}

// entryLength returns how many bytes at the head of a text make the name of a
// method, a reference or a choice: these may also hold `-`, and a reference
// `.`, but end in neither.
func entryLength(s string, dots bool) int {
	end := 0
	for i, r := range s {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			end = i + len(string(r))
		case (r == '-' || r == '_' || dots && r == '.') && i > 0:
		default:
			return end
		}
	}
	return end
}

// choiceLength returns how many bytes at the head of a text make one word of a
// choice: letters and digits, with `-`, `.` and `/` between them.
func choiceLength(s string) int {
	end := 0
	for i, r := range s {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			end = i + len(string(r))
		case strings.ContainsRune("-_./", r) && i > 0:
		default:
			return end
		}
	}
	return end
}
