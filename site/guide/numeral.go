package guide

import (
	"strings"
	"unicode/utf8"
)

// A number as people type it has a fraction or marks in it, or is a word for
// one. "One" is left out: it is an article as often as a number.

var numberWords = map[string]string{
	"two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10",
	"eleven": "11", "twelve": "12", "thirteen": "13", "fourteen": "14", "fifteen": "15", "sixteen": "16", "seventeen": "17",
	"eighteen": "18", "nineteen": "19", "twenty": "20", "thirty": "30", "forty": "40", "fifty": "50", "sixty": "60",
	"seventy": "70", "eighty": "80", "ninety": "90", "hundred": "100",
}

// longestNumberWord is the length of the longest of them, shortestNumberWord of the shortest.
const (
	longestNumberWord  = len("seventeen")
	shortestNumberWord = len("two")
)

// numberHeads are the first three letters of those words, by which most others
// are passed over.
var numberHeads = func() (heads [1 << 15]bool) {
	for word := range numberWords {
		heads[headOf(word)] = true
	}
	return heads
}()

func headOf(word string) int {
	const letter = 1<<5 - 1
	return int(word[0]&letter)<<10 | int(word[1]&letter)<<5 | int(word[2]&letter)
}

// nextNumeral returns where the next number in a text stands, looked for from a
// place on; both are the text's length where there is none.
func nextNumeral(s string, at int) (from, to int) {
	for at < len(s) {
		c := s[at]
		switch {
		case isDigit(c):
			return at, numeralEnd(s, at)
		case c >= utf8.RuneSelf:
			if n := vulgarAt(s[at:]); n > 0 {
				return at, at + n
			}
			at++
		case isWordByte(c):
			end := at + 1
			for end < len(s) && isWordByte(s[end]) && !isDigit(s[end]) {
				end++
			}
			if isNumberWord(s, at, end) {
				return at, end
			}
			at = end
		default:
			at++
		}
	}
	return len(s), len(s)
}

// numeralEnd returns where a number in digits ends: behind its marks and the
// digits behind these, and a fraction that may follow.
func numeralEnd(s string, at int) int {
	at += digits(s[at:])
	for at+1 < len(s) && (s[at] == '.' || s[at] == ',') && isDigit(s[at+1]) {
		at += 1 + digits(s[at+1:])
	}
	rest, gap := s[at:], 0
	switch {
	case strings.HasPrefix(rest, " "), strings.HasPrefix(rest, "-"):
		gap = 1
	case strings.HasPrefix(rest, "\u00a0"):
		gap = len("\u00a0")
	case strings.HasPrefix(rest, "/") && digits(rest[1:]) > 0:
		return at + 1 + digits(rest[1:])
	}
	behind := rest[gap:]
	if top := digits(behind); top > 0 && strings.HasPrefix(behind[top:], "/") {
		if under := digits(behind[top+1:]); under > 0 {
			return at + gap + top + 1 + under
		}
	}
	if n := vulgarAt(behind); n > 0 && !strings.HasPrefix(rest, "-") {
		return at + gap + n
	}
	return at
}

// digits counts the digits at the head of a text.
func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

// vulgarAt returns the length of a fraction in one sign at the head of a text,
// 0 for none.
func vulgarAt(s string) int {
	switch r, n := utf8.DecodeRuneInString(s); r {
	case '½', '⅓', '⅔', '¼', '¾', '⅛', '⅜', '⅝', '⅞':
		return n
	}
	return 0
}

// isNumberWord reports whether a run of letters is a whole word, and that of a
// number.
func isNumberWord(s string, from, to int) bool {
	if to-from < shortestNumberWord || to-from > longestNumberWord || !numberHeads[headOf(s[from:to])] ||
		from > 0 && isWordByte(s[from-1]) || to < len(s) && isWordByte(s[to]) {
		return false
	}
	_, ok := numberWords[strings.ToLower(s[from:to])]
	return ok
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isWordByte(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || isDigit(c) || c == '_'
}
