package guide

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// found is a number with a unit in a line of words.
type found struct {
	start, end int    // bytes of the line
	symbol     string // of the unit, as a value line has it
	shares     bool   // the unit stands behind a later number
	q          unit.Quantity
	places     int  // digits behind the point, as typed
	known      bool // the value could be read
}

var vulgar = strings.NewReplacer("½", " 1/2", "⅓", " 1/3", "⅔", " 2/3", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

// findFigures returns every number with a unit in a line of words, in order.
// It looks at each byte a bounded number of times.
func findFigures(s string) []found {
	var all []found
	end := 0
	for from, to := nextNumeral(s, 0); from < len(s); from, to = nextNumeral(s, to) {
		told := end > 0 && from == end+1 && s[end] == '/' // 15.2 m/50 ft
		if from < end || joined(s, from) && !told {
			continue
		}
		if f, ok := figureAt(s, from, to); ok {
			all = append(all, f.sharing(s, end)...)
			end = f.end
		}
	}
	return all
}

// A number that shares the unit of the one behind it: 8 and 4 ohm, 3 to 15 m.
var sharedUnit = regexp.MustCompile(`([0-9]+(?:\.[0-9]+)?)(?:,? (?:and|or|to|by) |, |–| – |-)$`)

// A sharing number and its joint are no longer than this, in bytes.
const longestShared = 24

// sharing returns a figure with those before it that share its unit, in order.
func (f found) sharing(s string, from int) []found {
	all := []found{f}
	for start := f.start; ; {
		from := max(from, start-longestShared)
		at := sharedUnit.FindStringSubmatchIndex(s[from:start])
		if at == nil || joined(s, from+at[2]) {
			return all
		}
		shared := found{start: from + at[2], end: from + at[3], symbol: f.symbol, shares: true}
		shared.read(s[shared.start:shared.end], f.symbol)
		all = append([]found{shared}, all...)
		start = shared.start
	}
}

// typed is the figure as it stands, in one line, without the marks of emphasis
// and with the unit that it shares.
func (f found) typed(p fault.Place) string {
	s := p.String()
	bare := strings.TrimLeft(s, "−-")
	if f.shares || unit.ScanNumber(bare) == len(bare) { // behind a later number, or in the head of the column
		s += " " + f.symbol
	}
	return strings.Join(strings.Fields(strings.NewReplacer("*", "", "_", "").Replace(s)), " ")
}

// joined reports whether a number goes on from a word or number before it, as
// in W1-T1 and IEC 60268-5.
func joined(s string, at int) bool {
	r, n := utf8.DecodeLastRuneInString(s[:at])
	if r == '-' || r == '/' || r == '.' || r == ',' {
		r, _ = utf8.DecodeLastRuneInString(s[:at-n])
		return unicode.IsLetter(r) || r != utf8.RuneError && unicode.IsDigit(r)
	}
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

// figureAt reads the unit behind a number, and with it the value.
func figureAt(s string, start, end int) (found, bool) {
	rest := s[end:]
	gap := len(rest) - len(strings.TrimLeft(rest, " \n\u00a0\u2009\u202f"))
	if gap == 0 && strings.HasPrefix(rest, "-") {
		gap = 1
	}
	n := unitAt(rest[gap:])
	number := s[start:end]
	words := numberWords[strings.ToLower(number)]
	if n == 0 || gap > 8 || words != "" && clockUnit(rest[gap:gap+n]) {
		return found{}, false
	}
	f := found{start: start, end: end + gap + n, symbol: unitText(rest[gap : gap+n])}
	if words != "" {
		number = words
	}
	number = plainNumber(number)
	if sign := minusBefore(s[:start]); sign > 0 {
		f.start, number = start-sign, "-"+number
	}
	f.read(number, f.symbol)
	f.inches(s)
	return f, true
}

// inches takes the inches behind feet to the figure: 5 ft 6 in.
func (f *found) inches(s string) {
	n := unit.ScanValue(s[f.start:])
	if f.start+n <= f.end || strings.Contains(s[f.end:f.start+n], "/") || !strings.ContainsAny(s[f.end:f.start+n], "0123456789") {
		return
	}
	if q, fail := unit.Read(fault.NewText("", s[f.start:f.start+n]).All()); fail == nil {
		f.q, f.end = q, f.start+n
	}
}

// minusBefore returns the length of a minus at the end of a text; a dash
// behind a number or a word is none.
func minusBefore(s string) int {
	for _, sign := range []string{"-", "−"} {
		if head, ok := strings.CutSuffix(s, sign); ok {
			r, _ := utf8.DecodeLastRuneInString(head)
			if head == "" || unicode.IsSpace(r) || r == '(' {
				return len(sign)
			}
		}
	}
	return 0
}

// read reads the value.
func (f *found) read(number, symbol string) {
	text := number + " " + symbol
	q, fail := unit.Read(fault.NewText("", text).All())
	if fail != nil {
		return
	}
	f.q, f.known = q, true
	if _, decimals, ok := strings.Cut(number, "."); ok {
		f.places = len(decimals)
	}
}

// plainNumber writes a number as a value line has it: fractions with a
// stroke, no marks between thousands, a point before the decimals.
func plainNumber(s string) string {
	s = strings.TrimSpace(vulgar.Replace(strings.ReplaceAll(s, "\u00a0", " ")))
	if whole, fraction, ok := strings.Cut(s, "-"); ok {
		s = whole + " " + fraction
	}
	head, tail, ok := strings.Cut(s, ",")
	switch {
	case !ok:
	case len(tail) == 3 || strings.Contains(tail, ",") || strings.Contains(tail, "."):
		s = strings.ReplaceAll(s, ",", "")
	default:
		s = head + "." + tail
	}
	return s
}

// unitWords are unit words that people type in prose and no value line reads.
var unitWords = map[string]string{"per cent": "%", "gauge": "AWG", "percent": "%", "degrees C": "°C", "degrees F": "°F"}

func unitText(s string) string {
	if symbol, ok := unitWords[s]; ok {
		return symbol
	}
	return s
}

// unitAt returns the length of the unit at the head of a text, 0 for none.
func unitAt(s string) int {
	for _, words := range []string{"per cent", "percent", "degrees C", "degrees F", "gauge"} {
		if strings.HasPrefix(s, words) && !letterAt(s, len(words)) {
			return len(words)
		}
	}
	head := s[:min(len(s), 40)]
	_, n := unit.ScanUnit(head)
	if i := strings.IndexAny(head[:n], "/"); i > 0 && i+1 < n && head[i+1] >= '0' && head[i+1] <= '9' && !strings.HasPrefix(head, "dB") {
		n = i // "15.2 m/50 ft" is one length told twice
	}
	if i := strings.IndexByte(head[:n], ' '); i > 0 && !spaced(head[:n]) {
		n = i // "60 Hz in a list"
	}
	if n > 0 {
		if letterAt(s, n) || ordinary(s[:n], s[n:]) {
			return 0
		}
		return n
	}
	w := wordLength(head)
	if w < 2 || w > 20 {
		return 0
	}
	if typed := "2 " + head[:w]; unit.ScanValue(typed) != len(typed) { // reading it would look for what was meant
		return 0
	}
	return w
}

// spaced reports whether a unit is one that is typed with a space in it.
func spaced(symbol string) bool {
	return symbol == "dB SPL" || symbol == "% IACS" || strings.HasPrefix(symbol, "dB/100 ")
}

func letterAt(s string, at int) bool {
	r, _ := utf8.DecodeRuneInString(s[at:])
	return unicode.IsLetter(r) || unicode.IsDigit(r)
}

func wordLength(s string) int {
	if i := strings.IndexFunc(s, func(r rune) bool { return !unicode.IsLetter(r) }); i >= 0 {
		return i
	}
	return len(s)
}

// ordinary reports whether what looks like a unit is a word or a letter of the
// sentence: "2 in the kitchen", "3 F plugs", "pairs 1 A and B".
func ordinary(symbol, rest string) bool {
	next := strings.TrimLeft(rest, " \n\u00a0")
	word := next[:wordLength(next)]
	if symbol == "in" {
		switch word {
		case "the", "a", "an", "each", "all", "both", "one", "this", "that", "which", "my", "your", "its", "their", "our", "use", "order", "series", "parallel", "total", "front", "turn", "every", "any":
			return true
		}
	}
	if len(symbol) != 1 || symbol == "%" || symbol == "°" || len(rest) == len(next) {
		return false
	}
	switch word {
	case "plug", "plugs", "socket", "sockets", "lead", "leads", "pair", "pairs", "speaker", "speakers":
		return true
	case "and", "or":
		after := strings.TrimLeft(next[len(word):], " ")
		return wordLength(after) == 1 && after[0] >= 'A' && after[0] <= 'Z'
	}
	return false
}

// clockUnit reports whether a unit counts time, money or pitch: "two minutes"
// and "ten cents" are how one speaks, and no figures.
func clockUnit(symbol string) bool {
	q, fail := unit.Read(fault.NewText("", "2 "+unitText(symbol)).All())
	if fail != nil {
		return false
	}
	k := q.Unit.Kind()
	return k == unit.Must("s").Kind() || k == unit.Must("octave").Kind() || k == unit.Must("money").Kind() || k == unit.Must("bit").Kind()
}
