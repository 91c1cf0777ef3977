package wording

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Word is a word of a text, in small letters and without its apostrophes.
type Word struct {
	Text       string
	Start, End int  // where it stands in the text
	Ends       bool // a sentence ends behind it
}

// Split parts a text into its words.
func Split(s string) []Word {
	var words []Word
	start := -1
	for i := 0; i <= len(s); {
		c, size := rune(' '), 1
		if i < len(s) {
			c, size = utf8.DecodeRuneInString(s[i:])
		}
		switch {
		case isLetter(c):
			if start < 0 {
				start = i
			}
		case start >= 0 && isApostrophe(c) && i+size < len(s) && isLetterAt(s[i+size:]):
		default:
			if start >= 0 {
				words = append(words, Word{Text: plain(s[start:i]), Start: start, End: i})
				start = -1
			}
			mark(words, c, i+size == len(s) || i+size < len(s) && strings.ContainsRune(" \n", rune(s[i+size])))
		}
		i += size
	}
	return words
}

// mark keeps that a mark behind the last word ends its sentence.
func mark(words []Word, c rune, last bool) {
	if len(words) == 0 {
		return
	}
	if strings.ContainsRune(".!?", c) && last {
		words[len(words)-1].Ends = true
	}
}

func isLetter(c rune) bool     { return unicode.IsLetter(c) || unicode.IsDigit(c) }
func isApostrophe(c rune) bool { return c == '\'' || c == '’' }
func isLetterAt(s string) bool { c, _ := utf8.DecodeRuneInString(s); return isLetter(c) }
func plain(s string) string {
	return strings.ToLower(strings.NewReplacer("'", "", "’", "").Replace(s))
}

// among reports whether a word is one of a list, whose words stand between
// spaces.
func among(list, word string) bool { return strings.Contains(list, " "+word+" ") }
