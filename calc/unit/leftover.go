package unit

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"bindpost/calc/fault"
)

const wantedUnit = "a unit, such as m, ohm, W, dB or AWG"

// leftOver returns the fault of text that stands behind a value, which ends
// at a byte of the reader's text. The reader stands at the left-over text.
func (r *reader) leftOver(t typed, end int) *fault.Fault {
	rest := r.rest()
	if digits(rest) > 0 || minus(rest) > 0 && digits(rest[minus(rest):]) > 0 {
		return r.secondValue(t, end)
	}
	if prefixOf(rest, ".", ",", ";") == len(rest) {
		return fault.At(r.place(r.at, len(r.s)), "the %s after the value is too much", quoted(rest)).
			Fix("%s", shortened(r.s[:end]))
	}
	if t.Unit.Symbol() != "" {
		return r.afterUnit(t.Unit)
	}
	if strings.HasPrefix(rest, "/") && digits(rest[1:]) > 0 {
		return fault.At(r.place(0, r.at+1+digits(rest[1:])), "%s is not a fraction of whole numbers", quoted(r.s[:r.at+1+digits(rest[1:])])).
			Want("a decimal number, or a fraction such as 1 7/8")
	}
	if strings.HasPrefix(rest, ".") {
		return fault.At(r.place(r.at, r.at+1), "no figure stands after the point of %s", quoted(r.s)).
			Fix("%s%s", r.s[:end], shortened(rest[1:]))
	}
	return r.unknown()
}

// secondValue returns the fault of a number behind a whole value.
func (r *reader) secondValue(t typed, end int) *fault.Fault {
	rest := r.rest()
	f := fault.At(r.place(r.at, len(r.s)), "%s stands behind %s", quoted(rest), quoted(r.s[:end])).
		Want("one value")
	for _, pair := range parted {
		if t.Unit != index()[pair.large].unit {
			continue
		}
		f.Want("one value, or two parts such as 5 %s 6 %s", pair.large, pair.small)
		if ScanNumber(rest) == len(rest) {
			f.Fix("%s %s", shortened(r.s), pair.small)
		}
	}
	if n := minus(rest); n > 0 && t.unitAt.Text == nil {
		if _, m := scanFraction(rest[n:]); m > 0 {
			f.Fix("%s %s", r.s[:end], shortened(rest[n:]))
		}
	}
	return f
}

// afterUnit returns the fault of text behind a unit.
func (r *reader) afterUnit(u Unit) *fault.Fault {
	r.skip()
	rest := r.rest()
	if strings.HasPrefix(rest, "^") {
		return fault.At(r.place(r.at, len(r.s)), "%s is not a power that a unit can have", quoted(rest)).
			Want("a power from -%d to %d, such as m^2", maxPower, maxPower)
	}
	joint := prefixOf(rest, "/", "*", "·")
	if joint == len(rest) {
		return fault.At(r.place(r.at, len(r.s)), "nothing stands after the %s", quoted(rest)).Want(wantedUnit)
	}
	if _, n := scanUnit(rest[joint+spaces(rest[joint:]):], true); n > 0 && u.Kind().IsPoint() {
		return fault.At(r.place(r.at, len(r.s)), "%s counts points on a scale and cannot be part of another unit", u.Symbol()).
			Want("%s, such as %s", u.Kind(), u.Kind().Example())
	}
	head := strings.TrimSpace(r.s[:r.at])
	r.at += joint
	r.skip()
	if _, n := scanUnit(r.rest(), true); n > 0 {
		return fault.At(r.place(r.at, len(r.s)), "the unit has more symbols than are read").
			Want("a unit of at most %d symbols", maxParts)
	}
	f := r.unknown()
	if joint == 0 && f.Try == "" {
		f = fault.At(r.place(r.at, len(r.s)), "%s stands behind %s", quoted(rest), quoted(head))
	}
	return f
}

// unknown returns the fault of the word at the reader's head, which is no
// unit.
func (r *reader) unknown() *fault.Fault {
	n := strings.IndexFunc(r.rest(), func(c rune) bool { return isSpace(c) || strings.ContainsRune("/*·,;()", c) })
	if n < 0 {
		n = len(r.rest())
	}
	if n == 0 {
		_, n = utf8.DecodeRuneInString(r.rest())
	}
	word := r.rest()[:n]
	head, tail := r.s[:r.at], r.s[r.at+n:]
	f := fault.At(r.place(r.at, r.at+n), "%s is not a unit", quoted(word))
	if !r.wants {
		f.Want(wantedUnit)
	}
	if word == "rms" || word == "RMS" {
		f.Message = fmt.Sprintf("%s is not part of a unit", quoted(word))
		return f.Want("a value with nothing behind its unit").Fix("%s", shortened(strings.TrimSpace(head)))
	}
	near, sameLetters := r.near(word)
	if sameLetters {
		f.Message += "; capitals count"
	}
	return f.Fix("%s", strings.Join(completed(near, head, tail), " or "))
}

// completed puts the units that may have been meant into the value, unless
// it is long.
func completed(units []string, head, tail string) []string {
	if len(head)+len(tail) > longestNumber {
		return units
	}
	if head != "" && digits(head[len(head)-1:]) == 1 {
		head += " "
	}
	values := make([]string, len(units))
	for i, u := range units {
		values[i] = head + u + tail
	}
	return values
}

// noNumber returns the fault of a value that begins with no number.
func (r *reader) noNumber() *fault.Fault {
	rest := r.rest()
	if rest == "" {
		return fault.At(r.place(r.at, r.at), "a value is missing")
	}
	if n := prefixOf(rest, ".", ","); n > 0 && digits(rest[n:]) > 0 {
		return fault.At(r.place(r.at, r.at+n), "no figure stands before the %s of %s", quoted(rest[:n]), quoted(rest)).
			Want("a figure and a point before the decimals").Fix("%s0.%s", r.s[:r.at], shortened(rest[n:]))
	}
	f := fault.At(r.place(r.at, len(r.s)), "%s is not a number", quoted(rest))
	if _, n := scanUnit(rest, true); n > 0 {
		number := rest[n+spaces(rest[n:]):]
		if m := ScanNumber(number); m > 0 && m == len(number) {
			f.Message = fmt.Sprintf("%s has its unit before the number", quoted(rest))
			f.Fix("%s %s", number, rest[:n])
		}
	}
	return f
}

// quoted quotes what an author wrote, cut to a length that fits a sentence.
func quoted(s string) string {
	return "\"" + strings.Map(func(c rune) rune {
		switch {
		case isSpace(c):
			return ' '
		case unicode.Is(unicode.C, c):
			return utf8.RuneError // would not show, or turn the sentence round
		}
		return c
	}, shortened(s)) + "\""
}

// shortened keeps what an author wrote short enough for a sentence.
func shortened(s string) string {
	n := 0
	for i := range s {
		if n == longestNumber {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
