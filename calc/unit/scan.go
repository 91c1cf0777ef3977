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
	var parts []part
	end := 0
	for at := 0; ; {
		p, n := scanJoint(s[at:], typed, len(parts) == 0)
		q, m := scanPart(s[at+n:], typed)
		if m == 0 || (q.unit.kind.IsPoint() && (len(parts) > 0 || p.over || q.halves != 2)) {
			break
		}
		q.over, q.count = p.over, p.count
		if q.count != 0 && !q.unit.kind.isLength() {
			break
		}
		parts = append(parts, q)
		at += n + m
		end = at
		if q.unit.kind.IsPoint() || len(parts) == maxParts {
			break
		}
	}
	if len(parts) == 0 {
		return Unit{}, 0
	}
	return compose(parts), end
}

// More symbols than this are no unit of any trade.
const maxParts = 12

// scanJoint reads what stands between two symbols: space, a stroke, "per", a
// raised dot; after a stroke a count as in dB/100 ft.
func scanJoint(s string, typed, first bool) (part, int) {
	n := spaces(s)
	if first && n > 0 {
		return part{}, 0
	}
	rest := s[n:]
	switch {
	case strings.HasPrefix(rest, "/"):
		n++
	case first && strings.HasPrefix(rest, "1/"):
		n += 2
	case typed && strings.HasPrefix(rest, "per ") && !first:
		n += 4
	case !first && (strings.HasPrefix(rest, "·") || strings.HasPrefix(rest, "*")):
		_, size := utf8.DecodeRuneInString(rest)
		n += size
		return part{}, n + spaces(s[n:])
	default:
		return part{}, n
	}
	n += spaces(s[n:])
	p := part{over: true}
	for _, count := range []struct {
		text  string
		value float64
	}{{"1000", 1000}, {"100", 100}} {
		if after, ok := strings.CutPrefix(s[n:], count.text); ok && !first && (after == "" || after[0] < '0' || after[0] > '9') {
			p.count = count.value
			n += len(count.text)
			n += spaces(s[n:])
			break
		}
	}
	return p, n
}

// scanPart reads one symbol with its power.
func scanPart(s string, typed bool) (part, int) {
	e, n, ok := scanSymbol(s, typed)
	if !ok {
		return part{}, 0
	}
	p := part{unit: e.unit, halves: 2}
	rest := s[n:]
	if halves, m := scanPower(rest, e.unit.kind.isLength()); m > 0 {
		p.halves = halves
		n += m
		rest = s[n:]
		if isNameHead(rest) {
			return part{}, 0
		}
	} else if isNameHead(rest) && endsInLetter(s[:n]) {
		return part{}, 0
	}
	return p, n
}

func endsInLetter(s string) bool {
	r, _ := utf8.DecodeLastRuneInString(s)
	return unicode.IsLetter(r)
}

// isNameHead reports whether s goes on as a name would: with a letter, a
// digit or "_".
func isNameHead(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return r == '_' || r != utf8.RuneError && (unicode.IsLetter(r) || r >= '0' && r <= '9')
}

// tails are the symbols that hold more than letters, longest first for each
// head.
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
