package unit

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// A number longer than this, in bytes, is refused before it is looked at.
const longestNumber = 40

// ScanNumber returns the length of the number at the head of s: digits, a
// point with digits after it, "e" with a power of ten. A sign is not part of
// it. 0: there is none.
func ScanNumber(s string) int {
	n := digits(s)
	if n == 0 {
		return 0
	}
	if n < len(s) && s[n] == '.' {
		if m := digits(s[n+1:]); m > 0 {
			n += 1 + m
		}
	}
	if n+1 < len(s) && (s[n] == 'e' || s[n] == 'E') {
		sign := 0
		if s[n+1] == '+' || s[n+1] == '-' {
			sign = 1
		}
		if m := digits(s[n+1+sign:]); m > 0 {
			n += 1 + sign + m
		}
	}
	return n
}

// digits counts the digits at the head of s.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// scanTenPower reads the "× 10⁻⁹" or "x 10^-9" after a number, and returns
// the power as plain digits with their sign.
func scanTenPower(s string) (power string, n int) {
	n = spaces(s)
	sign := prefixOf(s[n:], "×", "x", "·", "*")
	if sign == 0 {
		return "", 0
	}
	n += sign
	n += spaces(s[n:])
	if !strings.HasPrefix(s[n:], "10") {
		return "", 0
	}
	n += len("10")
	power, m := scanExponent(s[n:], "")
	if m == 0 || len(power) > len("-400") {
		return "", 0
	}
	return power, n + m
}

// scanExponent reads a power in raised figures or after "^", as plain digits
// with their sign; after "^" one of the given tails may follow the digits.
func scanExponent(s, tail string) (power string, n int) {
	if strings.HasPrefix(s, "^") {
		n = 1
		if m := minus(s[n:]); m > 0 {
			power, n = "-", n+m
		}
		m := digits(s[n:])
		power, n = power+s[n:n+m], n+m
		if tail != "" && strings.HasPrefix(s[n:], tail) {
			power, n = power+tail, n+len(tail)
		}
	} else {
		for n < len(s) && len(power) < longestNumber {
			r, size := utf8.DecodeRuneInString(s[n:])
			low := lowered(string(r))
			if low == string(r) {
				break
			}
			power, n = power+low, n+size
		}
	}
	if power == "" {
		return "", 0
	}
	if _, err := strconv.ParseFloat(power, 64); err != nil {
		return "", 0
	}
	return power, n
}

// minus returns the length of the minus sign at the head of s, as typed or
// as a text program makes it; 0 when there is none.
func minus(s string) int { return prefixOf(s, "-", "−", "‐", "‑", "–") }

// prefixOf returns the length of the first of some marks that s begins with.
func prefixOf(s string, marks ...string) int {
	for _, m := range marks {
		if strings.HasPrefix(s, m) {
			return len(m)
		}
	}
	return 0
}
