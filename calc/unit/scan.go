package unit

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// ScanUnit reads the longest unit at the head of s, as a formula writes it:
// symbols with powers, each with a stroke before it or not ("ohm/km", "mm2",
// "Pa^2 h", "/K", "dB/100 ft"). It returns the unit and the number of bytes
// read; 0 when s does not begin with a unit. A word that only starts like a
// unit ("metres", "m_1") is none.
func ScanUnit(s string) (u Unit, n int) { return scanUnit(s, false) }

// IsWord reports whether a name would be read as a unit after a number
// ("m", "mm2", "kohm", "day"), so that nothing else may bear it.
func IsWord(name string) bool {
	_, n := scanUnit(name, false)
	return n > 0 && n == len(name)
}

// scanUnit scans a compound unit. In a typed value, words like "ohms" and
// "per" are read beside the symbols.
func scanUnit(s string, typed bool) (Unit, int) {
	var room [3]part // more are rare
	parts, end := room[:0], 0
	for len(parts) < maxParts {
		joint, n := scanJoint(s[end:], typed, len(parts) == 0)
		p, m := scanPart(s[end+n:], typed)
		p.over, p.count = joint.over, joint.count
		if m == 0 || !p.fits(len(parts) == 0) {
			break
		}
		parts = append(parts, p)
		end += n + m
		if p.unit.Kind().IsPoint() {
			break
		}
	}
	switch {
	case len(parts) == 0:
		return Unit{}, 0
	case alone(parts):
		return parts[0].unit, end
	}
	u := compose(parts)
	if !u.sound() {
		return Unit{}, 0
	}
	return u.unit(), end
}

// More symbols than this are no unit of any trade.
const maxParts = 12

// fits reports whether a part can stand where it does: a point on a scale
// only alone, a count only before a length.
func (p part) fits(first bool) bool {
	if p.unit.Kind().IsPoint() {
		return first && p.power() == 2
	}
	return p.count == 0 || p.unit.Kind().isLength()
}

// scanJoint reads what stands before a symbol: a stroke, and between two
// symbols also space, "per" or a raised dot; after a stroke a count as in
// dB/100 ft. A star or dot is a unit's own in typed values only: in a formula
// it multiplies.
func scanJoint(s string, typed, first bool) (part, int) {
	n := 0
	if !first {
		n = spaces(s)
	}
	rest := s[n:]
	switch {
	case strings.HasPrefix(rest, "/"):
		n++
	case first && strings.HasPrefix(rest, "1/"):
		n += len("1/")
	case typed && !first && strings.HasPrefix(rest, "per "):
		n += len("per ")
	case typed && !first && strings.HasPrefix(rest, "*"):
		return part{}, n + 1 + spaces(rest[1:])
	case typed && !first && strings.HasPrefix(rest, "·"):
		return part{}, n + len("·") + spaces(rest[len("·"):])
	default:
		return part{}, n
	}
	n += spaces(s[n:])
	p := part{over: true}
	if !first {
		var m int
		p.count, m = scanCount(s[n:])
		n += m
	}
	return p, n
}

// scanCount reads the 100 of "dB/100 ft" with the space after it.
func scanCount(s string) (count float64, n int) {
	n = digits(s)
	switch s[:n] {
	case "100":
		count = 100
	case "1000":
		count = 1000
	default:
		return 0, 0
	}
	return count, n + spaces(s[n:])
}

// scanPart reads one symbol with its power.
func scanPart(s string, typed bool) (part, int) {
	e, n, ok := scanSymbol(s, typed)
	if !ok {
		return part{}, 0
	}
	p := part{unit: e.unit, halves: 2}
	halves, m := scanPower(s[n:], e.unit.Kind().isLength())
	if m > 0 {
		p.halves = halves
	}
	rest := s[n+m:]
	if isNameHead(rest) && (m > 0 || endsInLetter(s[:n])) {
		return part{}, 0
	}
	// In a formula, "min(" is the function, as in 5 dB/min(a, b).
	if !typed && strings.HasPrefix(rest[spaces(rest):], "(") {
		return part{}, 0
	}
	return p, n + m
}

func endsInLetter(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsLetter(r)
}

// isNameHead reports whether s goes on as a name would: with a letter, a
// digit or "_".
func isNameHead(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return r == '_' || unicode.IsLetter(r) || r >= '0' && r <= '9'
}

// tails are the symbols that hold more than letters, by what they begin with.
var tails = []struct {
	head, tail string
	spaced     bool // spaces may stand between
	symbol     string
}{
	{"%", "IACS", true, "%IACS"},
	{"°", "C", true, "°C"},
	{"°", "F", true, "°F"},
	{"deg", "C", true, "°C"},
	{"deg", "F", true, "°F"},
	{"dB", "SPL", true, "dB SPL"},
	{"dB", "(A)", false, "dB(A)"},
	{"dBuV", "/m", false, "dBuV/m"},
	{"dBµV", "/m", false, "dBuV/m"},
}

// scanSymbol reads one symbol, the longest that the index holds.
func scanSymbol(s string, typed bool) (entry, int, bool) {
	word, n := scanLetters(s)
	if n == 0 {
		return entry{}, 0, false
	}
	for _, t := range tails {
		if word != t.head {
			continue
		}
		at := n
		if t.spaced {
			at += spaces(s[n:])
		}
		if rest, ok := strings.CutPrefix(s[at:], t.tail); ok && !isNameHead(rest) {
			e := index()[t.symbol]
			return e, at + len(t.tail), !e.typed || typed
		}
	}
	e, ok := index()[word]
	return e, n, ok && (typed || !e.typed)
}

// scanLetters reads the letters or the sign that a symbol begins with, and
// returns it with the signs that look alike made one.
func scanLetters(s string) (word string, n int) {
	r, size := utf8.DecodeRuneInString(s)
	switch r {
	case '%', '\'', '"', '′', '″':
		return string(r), size
	case '°', 'º', '˚':
		return "°", size
	case '℃':
		return "°C", size
	case '℉':
		return "°F", size
	}
	for n < len(s) {
		r, size := utf8.DecodeRuneInString(s[n:])
		if !unicode.IsLetter(r) || n > longestWord {
			break
		}
		n += size
	}
	return alike(s[:n]), n
}

// Longer runs of letters are no unit; the scan stops looking.
const longestWord = 64

// alike makes one of the two micro signs and of the two ohm signs.
func alike(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case 'μ':
			return 'µ'
		case '\u2126':
			return 'Ω'
		}
		return r
	}, s)
}

// spaces counts the bytes of white space, no-break and invisible ones
// included, at the head of s. A newline is none.
func spaces(s string) int {
	n := 0
	for n < len(s) {
		r, size := utf8.DecodeRuneInString(s[n:])
		if !isSpace(r) {
			break
		}
		n += size
	}
	return n
}

func isSpace(r rune) bool {
	switch r {
	case '\n', '\r':
		return false
	case '\u200b', '\u2060', '\ufeff':
		return true
	}
	return unicode.IsSpace(r)
}
