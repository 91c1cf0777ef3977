package unit

import (
	"strconv"
	"strings"
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
	text, n := scanExponent(s, ".5")
	if n == 0 {
		return 0, 0
	}
	power, err := strconv.ParseFloat(text, 64)
	if err != nil || power == 0 || power > maxPower || power < -maxPower {
		return 0, 0
	}
	return int(power * 2), n
}

// powerText prints an exponent given in halves: raised figures for a whole
// one, "^0.5" for a half.
func powerText(halves int) string {
	if halves == 2 {
		return ""
	}
	if halves%2 != 0 {
		return "^" + strconv.FormatFloat(float64(halves)/2, 'f', 1, 64)
	}
	return raised(halves / 2)
}

// raised writes a whole number in raised figures.
func raised(n int) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case '-':
			return '⁻'
		case '1':
			return '¹'
		case '2', '3':
			return r - '2' + '²'
		}
		return r - '0' + '⁰'
	}, strconv.Itoa(n))
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
