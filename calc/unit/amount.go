package unit

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// amount is the number of a typed value. A wire gauge has two forms of its
// own, 1/0 to 4/0 and 00 to 0000; what they are worth elsewhere differs.
type amount struct {
	value  float64
	zero   bool // written with no figure above 0
	whole  bool // written with digits only
	place  fault.Place
	hollow bool    // a fraction over nothing
	gauged bool    // one of the forms of a gauge
	gauge  float64 // its gauge number
}

// amount reads the number at the reader's head.
func (r *reader) amount() (amount, *fault.Fault) {
	start, rest := r.at, r.rest()
	n := ScanNumber(rest)
	if n > longestNumber {
		return amount{}, fault.At(r.place(start, start+n), "a number of %d characters is too long", n).
			Want("a number of at most %d characters", longestNumber)
	}
	if f, m := scanFraction(rest); m > 0 {
		r.at += m
		return f.amount(r.place(start, r.at)), nil
	}
	if n == 0 {
		return amount{}, r.noNumber()
	}
	if f := r.separated(); f != nil {
		return amount{}, f
	}
	r.at += n
	return r.decimal(start)
}

// decimal reads what the number from start to the reader's head is worth,
// with the power of ten that may follow it.
func (r *reader) decimal(start int) (amount, *fault.Fault) {
	literal := r.s[start:r.at]
	mantissa, _, _ := strings.Cut(strings.ToLower(literal), "e")
	a := amount{whole: digits(literal) == len(literal), zero: strings.Trim(mantissa, "0.") == ""}
	if n := len(literal); n > 1 && n <= 4 && strings.Trim(literal, "0") == "" {
		a.gauged, a.gauge = true, float64(1-n)
	}
	if power, n := scanTenPower(r.rest()); n > 0 && !strings.ContainsAny(literal, "eE") {
		literal += "e" + power
		r.at += n
	}
	a.place = r.place(start, r.at)
	x, err := strconv.ParseFloat(literal, 64)
	if err != nil {
		return a, tooLarge(a.place)
	}
	a.value = x
	return a, nil
}

func tooLarge(p fault.Place) *fault.Fault {
	return fault.At(p, "%s is too large", quoted(p.String())).Want("a number that a calculator can hold")
}

// fraction is a typed fraction: whole and top over under.
type fraction struct {
	whole, top, under float64
	mixed             bool // a whole number is written before it
}

func (f fraction) amount(p fault.Place) amount {
	a := amount{place: p, hollow: f.under == 0}
	if a.hollow {
		a.gauged = !f.mixed && f.top >= 1 && f.top <= 4
		a.gauge = 1 - f.top
		return a
	}
	a.value = (f.whole*f.under + f.top) / f.under
	a.zero = a.value == 0
	return a
}

// scanFraction reads "1/3", "33 1/3", "½", "33⅓" or "33 ⅓" at the head of s.
func scanFraction(s string) (f fraction, n int) {
	if f, n = scanSimple(s); n > 0 {
		return f, n
	}
	first := digits(s)
	if first == 0 || first > longestNumber {
		return f, 0
	}
	gap := spaces(s[first:])
	rest := s[first+gap:]
	if f, n = scanSimple(rest); n == 0 || gap == 0 && digits(rest) > 0 {
		return f, 0
	}
	f.whole, _ = strconv.ParseFloat(s[:first], 64)
	f.mixed = true
	return f, first + gap + n
}

// scanSimple reads a fraction without a whole number before it.
func scanSimple(s string) (f fraction, n int) {
	if top, under, m := vulgar(s); m > 0 {
		return fraction{top: top, under: under}, m
	}
	top := digits(s)
	stroke := prefixOf(s[top:], "/", "⁄")
	under := digits(s[top+stroke:])
	if top == 0 || stroke == 0 || under == 0 || top+under > longestNumber {
		return f, 0
	}
	n = top + stroke + under
	f.top, _ = strconv.ParseFloat(s[:top], 64)
	f.under, _ = strconv.ParseFloat(s[n-under:n], 64)
	return f, n
}

// vulgar reads a fraction that is one character.
func vulgar(s string) (top, under float64, n int) {
	r, n := utf8.DecodeRuneInString(s)
	switch r {
	case '½':
		return 1, 2, n
	case '⅓', '⅔':
		return float64(r-'⅓') + 1, 3, n
	case '¼':
		return 1, 4, n
	case '¾':
		return 3, 4, n
	case '⅛', '⅜', '⅝', '⅞':
		return float64(r-'⅛')*2 + 1, 8, n
	}
	return 0, 0, 0
}
