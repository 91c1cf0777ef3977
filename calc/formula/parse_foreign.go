package formula

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bindpost/calc/fault"
)

// mistaken are signs that people bring from elsewhere, with what is written
// here instead; of two signs of which one begins the other, the longer counts.
var mistaken = map[string]string{
	"÷": "/", "∕": "/", "⁄": "/", "–": "-", "—": "-", "∙": "*", "⋅": "*", "•": "*", "~": "-",
	":": "=", ":=": "=", "!": "not", "!=": "not a = b", "≠": "not a = b", "&": "and", "&&": "and", "||": "or",
	"|": "or; abs(…) takes a minus away", "“": `"`, "”": `"`, "„": `"`, "'": `"`, "’": `"`, "‘": `"`, ";": ",",
	"{": "(", "}": ")", "√": "sqrt(…)", "∑": "sum(…)", "∞": "a number", "≈": "=", "±": "+ or -",
	"⁴": "^4", "¹": "^1", "⁻": "^-",
}

// foreign are relations that people bring from elsewhere.
var foreign = map[string]string{"==": "=", "=<": "<=", "=>": ">=", "<>": "not a = b", "<==": "<=", ">==": ">="}

// spoken are words that people bring from speech. They may name a value, and
// so are only told where one cannot stand.
var spoken = map[string]string{
	"if": "when", "otherwise": "else", "less": "below", "fewer": "below", "more": "above", "greater": "above",
	"larger": "above", "higher": "above", "lower": "below", "equals": "=", "plus": "+", "minus": "-", "times": "*",
	"squared": "^2", "cubed": "^3", "from": "of",
}

// strange are functions that people bring from elsewhere.
var strange = map[string]string{
	"log": "log10, log2 or ln", "lg": "log10", "pow": "a^b", "power": "a^b", "square": "x^2", "root": "sqrt",
	"ceil": "roundup", "ceiling": "roundup", "floor": "rounddown", "average": "sum(x)/count(x)", "mean": "sum(x)/count(x)",
	"arcsin": "asin", "arccos": "acos", "arctan": "atan", "total": "sum", "if": "outcome when condition, else outcome",
}

// odd is the fault of a character that has no meaning in a formula. The parser
// is left on all of the sign that was meant.
func (p *parser) odd() *fault.Fault {
	rest := p.src[p.tok.start:]
	for _, pair := range []string{":=", "!=", "&&", "||"} {
		if strings.HasPrefix(rest, pair) {
			p.tok.end = p.tok.start + len(pair)
		}
	}
	at := p.here()
	c := at.String()
	r, size := utf8.DecodeRuneInString(c)
	switch {
	case r == utf8.RuneError && size < 2:
		return fault.At(at, "a character here cannot be read").Want("text in UTF-8").Fix("type it again")
	case c == ".":
		return p.point()
	case c == "#":
		return remark(at)
	case mistaken[c] != "":
		return fault.At(at, "%q has no meaning in a formula", c).Fix("%s", mistaken[c])
	}
	return fault.At(at, "%q has no meaning in a formula", c).
		Want("numbers, names, + - * / ^, brackets, and the words of the language")
}

// point is the fault of a point that belongs to no number.
func (p *parser) point() *fault.Fault {
	before, after := p.src[:p.tok.start], p.src[p.tok.end:]
	if p.tok.start == p.last && nameLength(after) > 0 && endsInName(before) {
		return fault.At(p.here(), "a name holds no point").Want("letters, digits and _").Fix("_")
	}
	f := fault.At(p.here(), "a decimal point needs a digit on both sides")
	if n := digits(after); n > 0 && !endsInName(before) {
		f.Fix("0.%s", clip(after[:n]))
	}
	return f
}

// endsInName reports whether a text ends in a letter, a digit or _.
func endsInName(s string) bool {
	r, size := utf8.DecodeLastRuneInString(s)
	return size > 0 && nameLength("x"+string(r)) > 1
}

// remark is the fault of words for the reader beside a formula.
func remark(at fault.Place) *fault.Fault {
	return fault.At(at, "a formula takes no remarks").Want("nothing beside the formula but its references")
}

// wordMeant returns the fault of a word that was brought from elsewhere or
// mistyped, beside a value with no sign between; nil where there is none.
func (p *parser) wordMeant(left Node) *fault.Fault {
	if f := p.letterTimes(left); f != nil {
		return f
	}
	name, ok := lastFactor(left).(*Name)
	if ok && spoken[name.Text] != "" {
		return fault.At(name.Place(), "%q is no word of the language", name.Text).Fix("%s", spoken[name.Text])
	}
	meant := spoken[p.word()]
	if meant == "" {
		meant = mistyped(p.word())
	}
	if meant == "" {
		return nil
	}
	at := p.here()
	if rest := p.src[p.tok.end:]; strings.HasPrefix(rest, " than ") { // less than
		at = p.place.Sub(p.tok.start, p.tok.end+len(" than"))
	}
	return fault.At(at, "%q is no word of the language", clip(at.String())).Fix("%s", meant)
}

// letterTimes returns the fault of a letter x between two values, which people
// type for times; nil where the word may be a name.
func (p *parser) letterTimes(left Node) *fault.Fault {
	next := strings.TrimLeft(p.src[p.tok.end:], " ")
	n := max(nameLength(next), digits(next))
	if !strings.EqualFold(p.word(), "x") || n == 0 {
		return nil
	}
	return fault.At(p.here(), "%q stands where a sign belongs", p.word()).Want("* for times").
		Fix("%s*%s", clip(lastFactor(left).Place().String()), clip(next[:n]))
}

// mistyped returns the word of the language that a word is nearly, from the
// same letter to the same letter; "" where there is none.
func mistyped(word string) string {
	var all []string
	for w := range words {
		if len(w) > 2 && word != "" && w[0] == word[0] && w[len(w)-1] == word[len(word)-1] {
			all = append(all, w)
		}
	}
	slices.Sort(all)
	return fault.Near(word, all)
}
