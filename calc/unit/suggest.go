package unit

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// Unknown returns the fault of a word that stands where a unit should and is
// none, with the units that it may have meant.
func Unknown(p fault.Place) *fault.Fault {
	r := newReader(p)
	if r.s == "" {
		return fault.At(r.p, "a unit is missing").Want(wantedUnit)
	}
	return r.unknown()
}

// slang are ways of writing a unit that are not read, because they can mean
// something else or are long out of use, with the unit to write instead.
var slang = []struct{ word, symbol string }{
	{"C", "°C"}, {"c", "°C"}, {"k", "kohm"}, {"M", "Mohm"}, {"R", "ohm"}, {"kR", "kohm"},
	{"mfd", "uF"}, {"MFD", "uF"}, {"mmfd", "pF"}, {"mmf", "pF"}, {"cps", "Hz"}, {"kc", "kHz"}, {"Mc", "MHz"},
	{"msec", "ms"}, {"usec", "us"}, {"sqmm", "mm2"}, {"sq", "mm2"}, {"ips", "in/s"}, {"mic", "uF"},
	{"spl", "dB SPL"}, {"SPL", "dB SPL"}, {"dbspl", "dB SPL"}, {"s2", "s^2"},
	{"$", "money"}, {"€", "money"}, {"£", "money"},
}

// near returns up to three units that a word that is none may stand for, the
// likeliest first, and whether they differ from it in capitals only.
func (r *reader) near(word string) (symbols []string, sameLetters bool) {
	for _, s := range slang {
		if s.word == word {
			return []string{s.symbol}, false
		}
	}
	if e, ok := index()[alike(word)]; ok {
		return []string{e.symbol}, false
	}
	if utf8.RuneCountInString(word) > longestWord {
		return nil, false
	}
	closest := r.closest(word, func(spelling string) bool { return strings.EqualFold(alike(word), spelling) })
	if len(closest) > 0 {
		return closest, true
	}
	if n := utf8.RuneCountInString(word); n < 2 || n == 2 && !r.wants {
		return nil, false // anything is close to so short a word
	}
	return r.closest(word, func(spelling string) bool {
		return oneChange([]rune(word), []rune(spelling)) && !prefixed(word, spelling)
	}), false
}

// prefixed reports whether a word is a unit with a metric prefix before it that
// it never has: the unit alone would be another power of ten.
func prefixed(word, spelling string) bool {
	prefix, found := strings.CutSuffix(word, spelling)
	return found && slices.Contains([]string{"p", "n", "u", "µ", "m", "c", "d", "k", "M", "G"}, prefix)
}

// closest returns up to three symbols whose spelling is close, of the wanted
// kind where one is wanted: a length is never mended into a force.
func (r *reader) closest(word string, close func(spelling string) bool) []string {
	var all, wanted []string
	for spelling, e := range index() {
		if !close(spelling) {
			continue
		}
		all = append(all, e.symbol)
		if r.wants && e.unit.Kind() == r.want.Kind() {
			wanted = append(wanted, e.symbol)
		}
	}
	if r.wants {
		all = wanted
	}
	slices.Sort(all)
	all = slices.Compact(all)
	return all[:min(3, len(all))]
}

// oneChange reports whether two words differ by one letter put in, left out,
// changed, or changed places with its neighbour.
func oneChange(a, b []rune) bool {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if len(a) == 2 && len(b) == 2 {
		return a[0] == b[1] && a[1] == b[0]
	}
	return len(a) <= 1 && len(b) <= 1
}
