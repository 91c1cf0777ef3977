package unit

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// The highest power that a unit is read with.
const maxPower = 12

// scanPower reads the power after a symbol, in halves: "²", "⁻¹", "^2",
// "^-1", "^0.5", and after a length also a bare "2" or "3". It returns the
// number of bytes read; 0 when there is no power that a unit can have.
func scanPower(s string, isLength bool) (halves, n int) {
	if isLength && (strings.HasPrefix(s, "2") || strings.HasPrefix(s, "3")) {
		return 2 * int(s[0]-'0'), 1
	}
	text := ""
	if rest, ok := strings.CutPrefix(s, "^"); ok {
		text, n = plainPower(rest)
		n++
	} else {
		for n < len(s) {
			r, size := utf8.DecodeRuneInString(s[n:])
			low := lowered(string(r))
			if low == string(r) {
				break
			}
			text += low
			n += size
		}
	}
	power, err := strconv.ParseFloat(text, 64)
	if err != nil || power == 0 || power > maxPower || power < -maxPower || power*2 != float64(int(power*2)) {
		return 0, 0
	}
	return int(power * 2), n
}

// plainPower reads digits with a sign before them and a half after them.
func plainPower(s string) (text string, n int) {
	if m := minus(s); m > 0 {
		text, n = "-", m
	}
	for n < len(s) && s[n] >= '0' && s[n] <= '9' && len(text) < 4 {
		text += s[n : n+1]
		n++
	}
	if strings.HasPrefix(s[n:], ".5") {
		text, n = text+".5", n+2
	}
	return text, n
}

// lowered writes raised figures as plain ones; everything else stays.
func lowered(s string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '⁻':
			return '-'
		case '¹':
			return '1'
		case '²', '³':
			return r - '²' + '2'
		case '⁰', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹':
			return r - '⁰' + '0'
		}
		return r
	}, s)
}

// minus returns the length of the minus sign at the head of s, as typed or
// as a text program makes it; 0 when there is none.
func minus(s string) int {
	for _, m := range []string{"-", "−", "‐", "‑", "–"} {
		if strings.HasPrefix(s, m) {
			return len(m)
		}
	}
	return 0
}
