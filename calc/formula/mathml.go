package formula

import (
	"html"
	"strings"
	"unicode/utf8"
)

// MathOptions says how a formula is typeset. Its zero value prints the
// formula as it is, names and all. Neither function is asked for pi, for the
// names of functions or, Number, for the names before `is`.
type MathOptions struct {
	// Symbol gives the symbol to print for a name, such as R_w, where what
	// follows the first _ is set low. Where it is nil or gives "", the name
	// itself is printed, each _ as a space.
	Symbol func(name string) string
	// Number gives the text to put in for a name, a number with its unit or
	// a choice's word: "9 m", "−20 °C", "33 1/3 rpm", "copper". Where it is
	// nil or gives false, the name stands.
	Number func(name string) (text string, ok bool)

	slots bool // names are slots of a template
}

// MathML writes the formula as one display formula in presentation MathML: a
// math element whose aria-label says it in words. Division is set as a
// fraction, names in words, units upright after their numbers, cases behind a
// brace. Brackets stand where the author wrote them, but for those that a
// fraction bar, a root or an exponent makes idle, and where a number that is
// put in needs them.
//
// The text is well formed as HTML and as XML. It holds no style attribute, no
// link and no script; two classes, "formula" on the math element and "cases"
// on the table behind a brace, are there for a style sheet.
func (f *Formula) MathML(o MathOptions) string { return MathML(f.node, o) }

// MathML writes a piece of a formula as [Formula.MathML] writes the whole: an
// outcome that was chosen, say.
func MathML(n Node, o MathOptions) string {
	return `<math class="formula" display="block" aria-label="` + escaped(speaker{o}.node(n)) + `">` +
		setter{o}.node(n) + `</math>`
}

// A setter typesets nodes; each comes out as exactly one element, so that a
// fraction or a power always has two children.
type setter struct{ o MathOptions }

func (s setter) node(n Node) string {
	switch n := n.(type) {
	case *Number:
		return s.number(n)
	case *Word:
		return text(shown(n.Text))
	case *Name:
		return s.name(n)
	case *Call:
		return s.call(n)
	case *Binary:
		return s.binary(n)
	case *Negate:
		return row(operator("−"), s.operand(n.Operand))
	case *Group:
		return s.group(n)
	case *Cases:
		return s.cases(n)
	case *NoneOutcome:
		return text("none: " + n.Why)
	case *UnknownOutcome:
		return text("cannot tell: " + n.Why)
	}
	return s.condition(n)
}

func (s setter) binary(n *Binary) string {
	switch n.Op {
	case Div:
		return "<mfrac>" + s.bare(n.Left) + s.bare(n.Right) + "</mfrac>"
	case PowerOf:
		return "<msup>" + s.base(n.Left) + s.bare(n.Right) + "</msup>"
	}
	left := s.node(n.Left)
	if n.Op == Mul {
		left = s.factor(n.Left)
	}
	return row(left, operator(signOf[n.Op]), s.operand(n.Right))
}

var signOf = map[Op]string{Add: "+", Sub: "−", Mul: "×"}

// group keeps the author's brackets, but not round a lone fraction, root or
// name, whose own shape holds it together.
func (s setter) group(n *Group) string {
	if slot, ok := s.o.slot("f", n.Inner); ok {
		return slot
	}
	if s.whole(n.Inner) {
		return s.node(n.Inner)
	}
	return bracketed(s.node(n.Inner))
}

// whole reports whether a piece needs no brackets in a sum or a product.
func (s setter) whole(n Node) bool {
	switch n := n.(type) {
	case *Binary:
		return n.Op == Div
	case *Call:
		return true
	case *Name:
		return !s.put(n).loose
	case *Group:
		return s.whole(n.Inner)
	}
	return false
}

// bare typesets what stands alone: over or under a fraction bar, in a root,
// in an exponent, between the brackets of a function.
func (s setter) bare(n Node) string {
	for {
		group, ok := n.(*Group)
		if !ok {
			return s.node(n)
		}
		n = group.Inner
	}
}

// operand typesets what follows a sign; a minus straight after one is
// bracketed.
func (s setter) operand(n Node) string {
	if leadsWithMinus(n) {
		return bracketed(s.node(n))
	}
	return s.factor(n)
}

func leadsWithMinus(n Node) bool {
	switch n := n.(type) {
	case *Negate:
		return true
	case *Number:
		sign, _ := cutMinus(n.Text) // as it is written: 0 dBf lies below 0 dBW, in which it is kept
		return sign != ""
	case *Binary:
		return n.Op != Div && n.Op != PowerOf && leadsWithMinus(n.Left)
	}
	return false
}

// factor typesets a part of a product; a number that was put in and does not
// hold together is bracketed.
func (s setter) factor(n Node) string {
	if slot, ok := s.o.slot("f", n); ok {
		return slot
	}
	if name, ok := n.(*Name); ok && s.put(name).loose {
		return bracketed(s.node(n))
	}
	return s.node(n)
}

// base typesets what is raised to a power: all but a name, a bare number and
// a root are bracketed.
func (s setter) base(n Node) string {
	if slot, ok := s.o.slot("b", n); ok {
		return slot
	}
	switch n := n.(type) {
	case *Name:
		if p := s.put(n); p.element == "" || p.bare {
			return s.node(n)
		}
	case *Number:
		if n.Value >= 0 && n.Unit.Symbol() == "" && !strings.ContainsAny(n.Text, "eE") {
			return s.node(n)
		}
	case *Call:
		if n.Function == "abs" {
			return s.node(n)
		}
	}
	return bracketed(s.bare(n))
}

// row holds several elements together as one.
func row(parts ...string) string {
	if len(parts) == 1 {
		return parts[0]
	}
	return "<mrow>" + strings.Join(parts, "") + "</mrow>"
}

func bracketed(inner string) string { return row(operator("("), inner, operator(")")) }

func operator(sign string) string { return "<mo>" + escaped(sign) + "</mo>" }

func identifier(name string) string { return "<mi>" + escaped(name) + "</mi>" }

// text sets words; spaces at their ends are kept by no-break spaces.
func text(words string) string { return "<mtext>" + escaped(words) + "</mtext>" }

// escaped makes a text fit for HTML and XML alike: what neither may hold, such
// as a control character, is shown as one odd character.
func escaped(s string) string {
	return html.EscapeString(strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff {
			return utf8.RuneError
		}
		return r
	}, s))
}
