package formula

import (
	"strings"

	"bindpost/calc/unit"
)

// Text returns the plain text of a piece in one canonical spacing: `2*run*each`,
// `20 dB*log10((load + wire)/load)`. It reads back to the same tree.
func Text(n Node) string { return TextWith(n, nil) }

// TextWith returns the plain text of a piece with other texts put in for names:
// the numbers that went into it, as they are printed. A name for which put is
// false stays; so do names of functions, and the names before `is`. A text put
// in is bracketed where it would else be read otherwise: (20 V)^2.
func TextWith(n Node, put func(name string) (string, bool)) string {
	w := &writer{put: put}
	w.node(n)
	return w.b.String()
}

type writer struct {
	b   strings.Builder
	put func(name string) (string, bool)
}

func (w *writer) say(parts ...string) {
	for _, s := range parts {
		w.b.WriteString(s)
	}
}

func (w *writer) node(n Node) {
	switch n := n.(type) {
	case *Number:
		w.say(n.written())
	case *Word:
		w.say(n.Text)
	case *Name:
		w.say(w.named(n.Text))
	case *Group:
		w.bracketed(n.Inner)
	case *Negate:
		w.say("-")
		if v, ok := n.Operand.(*Number); ok && v.Unit.Kind().IsPoint() {
			w.bracketed(v)
			return
		}
		w.side(n.Operand, negated)
	case *Binary:
		w.binary(n)
	case *Call:
		w.say(n.Function, "(")
		w.joined(n.Args, ", ", loosest)
		w.say(")")
	case *NoneOutcome:
		w.say(`none "`, n.Why, `"`)
	case *UnknownOutcome:
		w.say(`unknown "`, n.Why, `"`)
	case *Cases:
		w.cases(n)
	default:
		w.condition(n)
	}
}

// written is the number with its unit. A unit under a stroke is joined to it:
// 0.004/K.
func (n *Number) written() string {
	symbol := n.Unit.Symbol()
	under, stroke := strings.CutPrefix(symbol, "1/")
	switch {
	case n.Typed || symbol == "":
		return n.Text
	case stroke:
		return n.Text + "/" + under
	case strings.HasPrefix(symbol, "°") && symbol != "°C" && symbol != "°F":
		return n.Text + symbol
	}
	return n.Text + " " + symbol
}

func (w *writer) named(name string) string {
	if w.put != nil {
		if text, ok := w.put(name); ok {
			return text
		}
	}
	return name
}

func (w *writer) cases(n *Cases) {
	for _, c := range n.Cases {
		w.node(c.Outcome)
		w.say(" when ")
		w.node(c.When)
		w.say(", ")
	}
	if len(n.Cases) > 0 {
		w.say("else ")
	}
	w.node(n.Else)
}

func (w *writer) condition(n Node) {
	switch n := n.(type) {
	case *And:
		w.joined(n.Tests, " and ", anded)
	case *Or:
		w.joined(n.Tests, " or ", ored)
	case *Not:
		w.say("not ")
		w.side(n.Test, notted)
	case *Given:
		w.say(n.Name.Text, " is given")
	case *Is:
		w.say(n.Name.Text, " is ")
		w.node(n.Value)
	case *Compare:
		w.node(n.Left)
		w.say(" ", n.written(), " ")
		w.node(n.Right)
	}
}

// written is the relation in the words or the sign of its author.
func (n *Compare) written() string {
	switch mark := strings.Join(strings.Fields(n.Mark.String()), " "); mark {
	case "at most", "at least", "below", "above":
		return mark
	}
	return []string{"<", "<=", "=", ">=", ">"}[n.Relation]
}

func (w *writer) joined(nodes []Node, mark string, place int) {
	for i, n := range nodes {
		if i > 0 {
			w.say(mark)
		}
		w.side(n, place)
	}
}

func (w *writer) binary(n *Binary) {
	left, right := sides(n.Op)
	w.side(n.Left, left)
	mark := string(n.Op)
	if n.Op == Add || n.Op == Sub {
		mark = " " + mark + " "
	}
	w.say(mark)
	if n.Op == Div && w.unitless(lastFactor(n.Left)) && w.withUnit(n.Right) {
		w.bracketed(n.Right)
		return
	}
	w.side(n.Right, right)
}

// How tightly a place binds what stands in it; a piece that binds less needs
// brackets there.
const (
	loosest = iota
	ored
	anded
	notted
	added    // left of + and -
	multiply // left of * and /, right of + and -
	negated  // right of * and /, behind a minus, right of ^
	raised   // left of ^
)

// sides returns the places left and right of an operation.
func sides(op Op) (left, right int) {
	switch op {
	case Add, Sub:
		return added, multiply
	case Mul, Div:
		return multiply, negated
	}
	return raised, negated
}

// binds says how tightly a piece holds together.
func binds(n Node) int {
	switch n := n.(type) {
	case *Or:
		return ored
	case *And:
		return anded
	case *Not, *Compare, *Is, *Given:
		return notted
	case *Negate:
		return negated
	case *Number:
		if strings.HasPrefix(n.Text, "-") {
			return negated
		}
	case *Binary:
		switch n.Op {
		case Add, Sub:
			return added
		case Mul, Div:
			return multiply
		}
		return negated
	}
	return raised + 1
}

// side writes a piece in a place, in brackets where it binds less.
func (w *writer) side(n Node, place int) {
	if binds(n) < place || w.putLoose(n, place) {
		w.bracketed(n)
		return
	}
	w.node(n)
}

func (w *writer) bracketed(n Node) {
	w.say("(")
	w.node(n)
	w.say(")")
}

// unitless reports whether a piece is written as a number alone, and withUnit
// whether as a number with a unit: one over the other can be read in two ways.
func (w *writer) unitless(n Node) bool {
	number, unit, all := w.shape(n)
	return number && !unit && all
}

func (w *writer) withUnit(n Node) bool {
	number, unit, all := w.shape(n)
	return number && unit && all
}

// shape says how a number, or what is put in for a name, is written: whether
// it begins with a number, holds a unit behind it, and is nothing more.
func (w *writer) shape(n Node) (number, withUnit, all bool) {
	text := ""
	switch n := n.(type) {
	case *Number:
		text = n.written()
	case *Name:
		text = w.named(n.Text)
	}
	return shapeOf(strings.TrimLeft(text, "-−"))
}

func shapeOf(text string) (number, withUnit, all bool) {
	n := unit.ScanNumber(text)
	blank := blankLength(text[n:])
	_, u := unit.ScanUnit(text[n+blank:])
	if u > 0 {
		return n > 0, true, n+blank+u == len(text)
	}
	return n > 0, false, n == len(text)
}

// putLoose reports whether what is put in for a name would be read otherwise
// in its place: a number below zero behind a sign, a number with a unit under
// a power, or anything that is more than one number.
func (w *writer) putLoose(n Node, place int) bool {
	name, ok := n.(*Name)
	if !ok || place < added {
		return false
	}
	text := w.named(name.Text)
	if text == name.Text {
		return false
	}
	number, withUnit, all := shapeOf(strings.TrimLeft(text, "-−"))
	minus := strings.HasPrefix(text, "-") || strings.HasPrefix(text, "−")
	return !number || !all || minus && place > added || withUnit && place == raised
}

// String returns the step in its canonical text, with its references.
func (s *Step) String() string {
	var b strings.Builder
	b.WriteString(s.Name.Text)
	if s.Params != nil {
		b.WriteString("(" + strings.Join(texts(s.Params), ", ") + ")")
	}
	b.WriteString(" = ")
	if s.Borrow != nil {
		b.WriteString(s.Borrow.String())
	} else if s.Body != nil {
		b.WriteString(Text(s.Body))
	}
	for i, r := range s.References {
		b.WriteString(first(i, " [", ", ") + r.ID)
	}
	if len(s.References) > 0 {
		b.WriteString("]")
	}
	return b.String()
}

func texts(names []*Name) []string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = n.Text
	}
	return all
}

// String returns the borrowing in its canonical text.
func (b *Borrow) String() string {
	s := b.Result.Text + " of " + b.Method
	for i, w := range b.With {
		s += first(i, " with ", ", ") + w.Input.Text + " = " + Text(w.Value)
	}
	return s
}

// first returns what stands before the first of several, and else what stands
// between two.
func first(i int, before, between string) string {
	if i == 0 {
		return before
	}
	return between
}
