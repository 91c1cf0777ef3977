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

	small   bool // it may stand between any two of a wording
	denies  bool // a gap does not reach over it
	outline outline
}

// outline tells most words apart at a glance: it is made of the first and the
// last letter, and of the length.
type outline uint16

func outlineOf(word string) outline {
	const letter = 1<<5 - 1
	return outline(word[0]&letter) | outline(word[len(word)-1]&letter)<<5 | outline(len(word))<<10
}

// bit is one of sixty-four by which an outline stands among those of a few words.
func (o outline) bit() uint64 { return 1 << (o * 40503 >> 10) }

// byte is one of 256 under which an outline is kept.
func (o outline) byte() byte { return byte(o * 40503 >> 8) }

// usualWord is about how many bytes of a text stand to each of its words.
const usualWord = 5

// Split parts a text into its words.
func Split(s string) []Word { return AppendWords(make([]Word, 0, len(s)/usualWord+1), s) }

// AppendWords appends the words of a text to others.
func AppendWords(words []Word, s string) []Word {
	start, small, joined := -1, true, false // a word of small letters and digits stands as it is
	for i := 0; i <= len(s); {
		c, size := runeAt(s, i)
		switch {
		case isLetter(c):
			if start < 0 {
				start = i
			}
			small = small && c < utf8.RuneSelf && plain[c]
			for i += size; i < len(s) && plain[s[i]]; i++ {
			}
			continue
		case start >= 0 && isApostrophe(c) && i+size < len(s) && isLetterAt(s, i+size):
			small, joined = false, true
		default:
			if start >= 0 {
				word := s[start:i]
				if joined {
					word = apostrophes.Replace(word)
				}
				if !small {
					word = strings.ToLower(word)
				}
				words = append(words, Word{
					Text: word, Start: start, End: i, small: isSmall(word), denies: denies(word), outline: outlineOf(word),
				})
				start, small, joined = -1, true, false
			}
			if len(words) > 0 && endsSentence(s, c, i+size) {
				words[len(words)-1].Ends = true
			}
		}
		i += size
	}
	return words
}

// plain are the small letters and the digits, of which most of a text is made.
var plain = func() (p [1 << 8]bool) {
	for c := range p {
		p[c] = c >= 'a' && c <= 'z' || c >= '0' && c <= '9'
	}
	return p
}()

// runeAt returns the rune at a place of a text and its length; a space behind
// the end. Most are of one byte.
func runeAt(s string, at int) (c rune, size int) {
	switch {
	case at >= len(s):
		return ' ', 1
	case s[at] < utf8.RuneSelf:
		return rune(s[at]), 1
	}
	return utf8.DecodeRuneInString(s[at:])
}

// endsSentence reports whether a mark ends a sentence: nothing follows it, or a
// space.
func endsSentence(s string, mark rune, behind int) bool {
	if mark != '.' && mark != '!' && mark != '?' {
		return false
	}
	return behind == len(s) || behind < len(s) && (s[behind] == ' ' || s[behind] == '\n')
}

func isLetter(c rune) bool {
	if c < utf8.RuneSelf {
		return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9'
	}
	return unicode.IsLetter(c) || unicode.IsDigit(c)
}

func isApostrophe(c rune) bool { return c == '\'' || c == '’' }

func isLetterAt(s string, at int) bool { c, _ := runeAt(s, at); return isLetter(c) }

var apostrophes = strings.NewReplacer("'", "", "’", "")
