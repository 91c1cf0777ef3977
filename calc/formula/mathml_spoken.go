package formula

import (
	"strings"

	"bindpost/calc/unit"
)

// A speaker says a formula in words, for those who hear it: "20 decibels
// times log to base 10 of the fraction load plus wire over load, end of
// fraction".
type speaker struct{ o MathOptions }

// spokenFunctions says a built-in function before its arguments; any other is
// said by its name.
var spokenFunctions = map[string]string{
	"sqrt": "the square root of", "exp": "e to the power", "abs": "the size of",
	"log10": "log to base 10 of", "log2": "log to base 2 of", "ln": "natural log of",
	"sin": "sine of", "cos": "cosine of", "tan": "tangent of",
	"asin": "the angle whose sine is", "acos": "the angle whose cosine is", "atan": "the angle whose tangent is",
	"sinc": "sinc of", "round": "the whole number nearest", "roundup": "rounded up,", "rounddown": "rounded down,",
	"min": "the lowest of", "max": "the highest of", "sum": "the sum of all", "count": "the number of",
	"tally": "how many hold of",
}

func (s speaker) node(n Node) string {
	switch n := n.(type) {
	case *Number:
		return spokenNumber(n)
	case *Word:
		return shown(n.Text)
	case *Name:
		return s.name(n)
	case *Call:
		return s.call(n)
	case *Binary:
		return s.binary(n)
	case *Negate:
		return "minus " + s.node(n.Operand)
	case *Group:
		return s.group(n)
	case *Cases:
		return s.cases(n)
	case *NoneOutcome:
		return "none: " + n.Why
	case *UnknownOutcome:
		return "cannot tell: " + n.Why
	}
	return s.condition(n)
}

func (s speaker) name(n *Name) string {
	if slot, ok := s.o.slot("s", n); ok {
		return slot
	}
	if s.o.Number != nil && n.Text != "pi" {
		if text, ok := s.o.Number(n.Text); ok {
			return spokenText(text)
		}
	}
	return shown(n.Text)
}

// spokenNumber says a number of the formula with its unit.
func spokenNumber(n *Number) string {
	if n.Typed {
		return spokenText(n.Text)
	}
	if n.Text == "1" {
		return unit.Format{Unit: n.Unit}.Spoken(n.Value)
	}
	return strings.TrimSpace(spokenDigits(n.Text) + " " + n.Unit.Spoken())
}

func spokenDigits(digits string) string {
	sign, digits := cutMinus(digits)
	digits, power, ok := strings.Cut(strings.ToLower(digits), "e")
	if ok {
		minus, power := cutMinus(strings.TrimPrefix(power, "+"))
		digits += " times 10 to the power " + spokenSign(minus) + power
	}
	return spokenSign(sign) + digits
}

func spokenSign(sign string) string {
	if sign == "" {
		return ""
	}
	return "minus "
}

// spokenText says a printed value; a unit that is known is said in words.
func spokenText(printed string) string {
	printed = strings.TrimSpace(printed)
	sign, rest := cutMinus(printed)
	n := unit.ScanNumber(rest)
	tail := strings.TrimSpace(rest[n:])
	if u, m := unit.ScanUnit(tail); n > 0 && m > 0 && m == len(tail) {
		return spokenSign(sign) + spokenDigits(rest[:n]) + " " + u.Spoken()
	}
	return spokenSign(sign) + rest
}

func (s speaker) binary(n *Binary) string {
	left, right := s.node(n.Left), s.node(n.Right)
	switch n.Op {
	case Add:
		return left + " plus " + right
	case Sub:
		return left + " minus " + right
	case Mul:
		return left + " times " + right
	case PowerOf:
		if _, ok := n.Left.(*Call); ok {
			left = "open bracket " + left + " close bracket"
		}
		return left + s.power(n.Right)
	}
	left, right = s.bare(n.Left), s.bare(n.Right)
	if single(n.Left) && single(n.Right) {
		return left + " over " + right
	}
	return "the fraction " + left + " over " + right + ", end of fraction,"
}

func (s speaker) power(exponent Node) string {
	if n, ok := exponent.(*Number); ok {
		switch n.Text {
		case "2":
			return " squared"
		case "3":
			return " cubed"
		}
	}
	if single(exponent) {
		return " to the power " + s.node(exponent)
	}
	return " to the power " + s.bare(exponent) + ", end of power,"
}

// single reports whether a piece is heard as one.
func single(n Node) bool {
	switch n := n.(type) {
	case *Number, *Name, *Word:
		return true
	case *Negate:
		return single(n.Operand)
	}
	return false
}

func (s speaker) group(n *Group) string {
	if single(n.Inner) {
		return s.node(n.Inner)
	}
	return "open bracket " + s.node(n.Inner) + " close bracket"
}

// bare says a piece without the brackets round it.
func (s speaker) bare(n Node) string {
	for {
		group, ok := n.(*Group)
		if !ok {
			return s.node(n)
		}
		n = group.Inner
	}
}

func (s speaker) call(n *Call) string {
	args := make([]string, len(n.Args))
	for i, arg := range n.Args {
		args[i] = s.bare(arg)
	}
	head := spokenFunctions[n.Function]
	if head == "" {
		head = shown(n.Function) + " of"
	}
	if len(n.Args) == 1 && single(n.Args[0]) {
		return head + " " + args[0]
	}
	return head + " open bracket " + strings.Join(args, ", ") + " close bracket"
}

func (s speaker) cases(n *Cases) string {
	said := make([]string, 0, len(n.Cases)+1)
	for _, c := range n.Cases {
		said = append(said, s.node(c.Outcome)+", if "+s.node(c.When))
	}
	return strings.Join(append(said, "otherwise "+s.node(n.Else)), "; ")
}

func (s speaker) condition(n Node) string {
	switch n := n.(type) {
	case *And:
		return s.joined(n.Tests, " and ")
	case *Or:
		return s.joined(n.Tests, " or ")
	case *Not:
		return s.test(n.Test, 1)
	}
	return s.test(n, 0)
}

func (s speaker) joined(tests []Node, word string) string {
	said := make([]string, len(tests))
	for i, test := range tests {
		said[i] = s.node(test)
	}
	return strings.Join(said, word)
}

// test says one test, or with turned 1 its contrary.
func (s speaker) test(n Node, turned int) string {
	switch n := n.(type) {
	case *Not:
		return s.test(n.Test, 1-turned)
	case *Given:
		return shown(n.Name.Text) + [2]string{" is given", " is not given"}[turned]
	case *Is:
		return shown(n.Name.Text) + [2]string{" is ", " is not "}[turned] + s.node(n.Value)
	case *Compare:
		return s.bare(n.Left) + " " + relationWords[n.Relation][turned] + " " + s.bare(n.Right)
	}
	panic("formula: a node of unknown kind")
}
