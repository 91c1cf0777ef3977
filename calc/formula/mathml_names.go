package formula

import (
	"strings"

	"bindpost/calc/unit"
)

const thinSpace = "\u2009"

// shown puts a name as it is read: each _ as a space.
func shown(name string) string { return strings.ReplaceAll(name, "_", " ") }

// name typesets a name, or the text put in for it.
func (s setter) name(n *Name) string {
	if slot, ok := s.o.slot("n", n); ok {
		return slot
	}
	if p := s.put(n); p.element != "" {
		return p.element
	}
	return s.symbol(n.Text)
}

// symbol typesets a name by its symbol, if it has one.
func (s setter) symbol(name string) string {
	if name == "pi" {
		return identifier("π")
	}
	symbol := ""
	if s.o.Symbol != nil {
		symbol = s.o.Symbol(name)
	}
	if symbol == "" {
		return identifier(shown(name))
	}
	letter, low, ok := strings.Cut(symbol, "_")
	if !ok || letter == "" || low == "" {
		return identifier(shown(symbol))
	}
	return "<msub>" + identifier(letter) + identifier(shown(low)) + "</msub>"
}

// put is a text that is put in for a name. The zero put is none.
type put struct {
	element string
	loose   bool // needs brackets in a sum or a product: a negative number, several numbers
	bare    bool // needs none even below an exponent: a number that is not negative, without unit
}

func (s setter) put(n *Name) put {
	if s.o.Number == nil || n.Text == "pi" {
		return put{}
	}
	text, ok := s.o.Number(n.Text)
	if !ok {
		return put{}
	}
	return numberText(text)
}

// numberText typesets a printed value: a number with its unit, or words.
func numberText(printed string) put {
	printed = strings.TrimSpace(printed)
	sign, rest := cutMinus(printed)
	n := unit.ScanNumber(rest)
	tail := rest[n:]
	if n == 0 || strings.ContainsAny(tail, "0123456789") && !isUnit(tail) {
		return put{element: text(printed), loose: strings.Contains(printed, " and ")}
	}
	parts := numeral(rest[:n])
	if sign != "" {
		parts = append([]string{operator(sign)}, parts...)
	}
	if tail = strings.TrimSpace(tail); tail != "" {
		parts = append(parts, unitText(tail))
	}
	plain := sign == "" && tail == "" && len(parts) == 1
	return put{element: row(parts...), loose: sign != "", bare: plain}
}

// isUnit reports whether a text after a number is a unit and nothing else.
func isUnit(tail string) bool {
	_, n := unit.ScanUnit(strings.TrimSpace(tail))
	return n > 0 && n == len(strings.TrimSpace(tail))
}

// cutMinus cuts the minus, as typed or as printed, off a number.
func cutMinus(number string) (sign, rest string) {
	for _, minus := range []string{"-", "−"} {
		if rest, ok := strings.CutPrefix(number, minus); ok {
			return "−", strings.TrimSpace(rest)
		}
	}
	return "", number
}

// numeral typesets the digits of a number; a power of ten after an e is
// written out.
func numeral(digits string) []string {
	digits, power, ok := strings.Cut(strings.ToLower(digits), "e")
	mantissa := "<mn>" + escaped(digits) + "</mn>"
	if !ok {
		return []string{mantissa}
	}
	sign, power := cutMinus(strings.TrimPrefix(power, "+"))
	exponent := []string{"<mn>" + escaped(power) + "</mn>"}
	if sign != "" {
		exponent = append([]string{operator(sign)}, exponent...)
	}
	return []string{mantissa, operator("×"), "<msup><mn>10</mn>" + row(exponent...) + "</msup>"}
}

// unitText sets a unit upright, a thin space from its number; a degree sign
// and a stroke stand close.
func unitText(symbol string) string {
	if symbol == "°" || strings.HasPrefix(symbol, "/") {
		return text(symbol)
	}
	if per, ok := strings.CutPrefix(symbol, "1/"); ok {
		return text("/" + per)
	}
	return text(thinSpace + symbol)
}

// number typesets a number of the formula with the text its author wrote.
func (s setter) number(n *Number) string {
	if n.Typed {
		return numberText(n.Text).element
	}
	sign, digits := cutMinus(n.Text)
	parts := numeral(digits)
	if sign != "" {
		parts = append([]string{operator(sign)}, parts...)
	}
	if symbol := n.Unit.Symbol(); symbol != "" {
		parts = append(parts, unitText(symbol))
	}
	return row(parts...)
}
