package unit

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// group is a run of digits in a number, with what stands before it.
type group struct {
	mark   string // as typed; "" before the first group
	at     int    // of the mark
	digits string
}

// separated returns the fault of a number at the reader's head that is
// written with a decimal comma or with marks between thousands, nil when it
// is not.
func (r *reader) separated() *fault.Fault {
	behind := r.rest()[digits(r.rest()):]
	if mark := markLength(behind); mark == 0 || digits(behind[mark:]) == 0 {
		return nil // digits alone
	} else if behind[:mark] == "." {
		behind = behind[mark:]
		behind = behind[digits(behind):]
		if mark := markLength(behind); mark == 0 || digits(behind[mark:]) == 0 {
			return nil // and decimals
		}
	}
	groups, n := scanGroups(r.rest())
	at := slices.IndexFunc(groups, func(g group) bool { return g.mark != "" && g.mark != "." })
	if at < 0 && len(groups) > 2 {
		at = 2
	}
	if at < 0 {
		return nil
	}
	text, tail := r.rest()[:n], shortened(r.rest()[n:])
	whole, last := join(groups), groups[len(groups)-1]
	place := r.markPlace(groups[at])
	decimal := join(groups[:len(groups)-1]) + "." + last.digits
	switch readingOf(groups) {
	case decimalComma:
		return fault.At(r.markPlace(last), "the decimal comma in %s is not read", quoted(text)).
			Want("a point before the decimals").Fix("%s%s", decimal, tail)
	case thousandsMark:
		if last.mark == "." && !allPoints(groups) {
			whole = decimal
		}
		return fault.At(place, "marks between the thousands of %s are not read", quoted(text)).
			Want("a number without marks between its thousands").Fix("%s%s", whole, tail)
	case eitherWay:
		return fault.At(place, "the comma in %s can be read two ways", quoted(text)).
			Want("a number without a comma").Fix("%s%s, or %s%s if decimals are meant", whole, tail, decimal, tail)
	case severalValues:
		return fault.At(place, "the commas in %s have no space after them", quoted(text)).
			Want("a comma and a space between values").Fix("%s%s", strings.ReplaceAll(text, ",", ", "), tail)
	}
	return fault.At(place, "the number %s has a mark too many", quoted(text)).Want("a number with at most one point")
}

func (r *reader) markPlace(g group) fault.Place {
	return r.place(r.at+g.at, r.at+g.at+len(g.mark))
}

// numberReading is what a number with marks in it must have meant.
type numberReading uint8

const (
	unclear numberReading = iota
	decimalComma
	thousandsMark
	eitherWay // a thousand, or a decimal comma
	severalValues
)

// readingOf judges a number that has other marks than one point.
func readingOf(groups []group) numberReading {
	last := groups[len(groups)-1]
	commas, points, threes := 0, 0, true
	for i, g := range groups {
		switch g.mark {
		case ",":
			commas++
		case ".":
			points++
		}
		if i > 0 && i < len(groups)-1 && len(g.digits) != 3 {
			threes = false
		}
	}
	lastThree := len(last.digits) == 3
	zero := strings.Trim(groups[0].digits, "0") == ""
	switch {
	case !threes && commas == len(groups)-1:
		return severalValues
	case !threes:
		return unclear
	case last.mark == "," && commas == 1:
		if len(groups) == 2 && lastThree && !zero {
			return eitherWay
		}
		return decimalComma
	case last.mark == "." && points == 1, lastThree && points == 0, lastThree && allPoints(groups):
		return thousandsMark
	case commas == len(groups)-1:
		return severalValues
	}
	return unclear
}

// allPoints reports whether every mark is a point, as in 1.000.000.
func allPoints(groups []group) bool {
	for _, g := range groups[1:] {
		if g.mark != "." {
			return false
		}
	}
	return true
}

// scanGroups splits the number at the head of s at the marks between its
// digits. Spaces and apostrophes count only before exactly three digits
// that are not the top of a fraction.
func scanGroups(s string) (groups []group, n int) {
	n = digits(s)
	groups = []group{{digits: s[:n]}}
	for len(groups) < 12 {
		m := markLength(s[n:])
		d := digits(s[n+m:])
		if m == 0 || d == 0 || d > longestNumber {
			break
		}
		mark, after := s[n:n+m], s[n+m+d:]
		if mark != "," && mark != "." && mark != "_" && (d != 3 || prefixOf(after, "/", "⁄") > 0) {
			break
		}
		groups = append(groups, group{mark: mark, at: n, digits: s[n+m : n+m+d]})
		n += m + d
	}
	return groups, n
}

// markLength returns the length of a mark at the head of s that may stand
// between digits.
func markLength(s string) int {
	if n := spaces(s); n > 0 {
		return n
	}
	return prefixOf(s, ",", ".", "_", "'", "’")
}

func join(groups []group) string {
	var b strings.Builder
	for _, g := range groups {
		b.WriteString(g.digits)
	}
	return b.String()
}
