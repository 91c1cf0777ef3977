package formula

import (
	"math"
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// expr = term {("+"|"-") term} .
func (p *parser) expr() Node {
	left := p.term()
	for p.tok.kind == signToken && (p.tok.sign == "+" || p.tok.sign == "-") {
		left = p.binary(left, p.term)
	}
	return left
}

// term = signed {("*"|"/") signed} .
func (p *parser) term() Node {
	left := p.signed()
	for {
		switch {
		case p.tok.kind == signToken && (p.tok.sign == "*" || p.tok.sign == "/"):
			left = p.binary(left, p.signed)
			p.mixed(left)
		case p.beside():
			if p.unjoined(left); p.halted {
				return left
			}
			right := p.signed()
			left = p.made(&Binary{At{left.Place().To(right.Place())}, Mul, right.Place().Sub(0, 0), left, right})
		default:
			return left
		}
		if p.halted {
			return left
		}
	}
}

// binary reads an operation and its right side.
func (p *parser) binary(left Node, side func() Node) Node {
	mark, op := p.here(), Op(p.tok.sign[0])
	p.next()
	if p.tok.kind == signToken && op == Div && p.tok.start == p.last && (p.tok.sign == "/" || p.tok.sign == "*") {
		p.hard(remark(mark.To(p.here())))
	}
	right := side()
	return p.made(&Binary{At{left.Place().To(right.Place())}, op, mark, left, right})
}

// beside reports whether a value follows with no sign before it.
func (p *parser) beside() bool {
	switch p.tok.kind {
	case numberToken:
		return true
	case signToken:
		return p.tok.sign == "("
	case wordToken:
		return !words[p.word()] || p.word() == "pi"
	}
	return false
}

// mixed tells a bare number over a number with a unit, which half its readers
// take for a part of the unit and the other half for one over it.
func (p *parser) mixed(n Node) {
	b, ok := n.(*Binary)
	if !ok || b.Op != Div {
		return
	}
	left, ok := lastFactor(b.Left).(*Number)
	right, with := b.Right.(*Number)
	if !ok || !with || written(left) || !written(right) {
		return
	}
	over, under := left.Place().String(), right.Place().String()
	p.soft(fault.At(left.Place().To(right.Place()), "%s/%s can be read in two ways", clip(over), clip(under)).
		Want("brackets that say which").
		Fix("%s/(%s) for one over the other, (%s/%s)*%s for a part of the unit",
			clip(over), clip(under), clip(over), clip(right.Text), "1 "+right.Unit.Symbol()))
}

// written reports whether a unit stands with a number.
func written(n *Number) bool { return n.Unit.Symbol() != "" }

func lastFactor(n Node) Node {
	if b, ok := n.(*Binary); ok && (b.Op == Mul || b.Op == Div) {
		return b.Right
	}
	return n
}

// signed = "-" signed | power . A minus before a reading on a scale belongs
// to the reading: -10 dBV is one number.
func (p *parser) signed() Node {
	if p.tok.kind != signToken || p.tok.sign != "-" {
		return p.power(nil)
	}
	start := p.tok.start
	p.next()
	if !p.enter() {
		return p.gap()
	}
	defer p.leave()
	var operand Node
	if p.tok.kind == numberToken {
		n := p.number()
		if n.Unit.Kind().IsPoint() {
			return p.power(reading(n, p.place.Sub(start, start).To(n.Place())))
		}
		operand = p.power(n)
	} else {
		operand = p.signed()
	}
	return p.made(&Negate{p.since(start), operand})
}

// reading turns a number into the one below zero.
func reading(n *Number, at fault.Place) *Number {
	n.Source, n.Text = at, "-"+n.Text
	x, _ := strconv.ParseFloat(n.Text, 64)
	n.Value = n.Unit.ToBase(x) + 0
	return n
}

// power = primary ["^" signed] ; ² and ³ are ^2 and ^3.
func (p *parser) power(base Node) Node {
	if base == nil {
		base = p.primary()
	}
	mark := p.here()
	switch {
	case p.take("²"):
		return p.raised(base, mark, p.made(&Number{At: At{mark}, Text: "2", Value: 2}))
	case p.take("³"):
		return p.raised(base, mark, p.made(&Number{At: At{mark}, Text: "3", Value: 3}))
	case p.take("^"):
		if !p.enter() {
			return base
		}
		defer p.leave()
		return p.raised(base, mark, p.signed())
	}
	return base
}

func (p *parser) raised(base Node, mark fault.Place, exponent Node) Node {
	return p.made(&Binary{At{base.Place().To(exponent.Place())}, PowerOf, mark, base, exponent})
}

// primary = number [unit] | name | call | "(" expr ")" .
func (p *parser) primary() Node {
	switch {
	case p.tok.kind == numberToken:
		return p.number()
	case p.tok.kind == signToken && p.tok.sign == "(":
		return p.group()
	case p.tok.kind == wordToken && (!words[p.word()] || p.word() == "pi"):
		if t := p.ahead(); t.kind == signToken && t.sign == "(" {
			return p.call()
		}
		return p.name()
	}
	if f := p.absent(); p.tok.kind == wordToken || p.tok.kind == signToken && p.tok.sign == "," {
		p.hard(f)
	} else {
		p.soft(f)
	}
	return p.gap()
}

// gap stands for a piece that could not be read; its fault was told.
func (p *parser) gap() Node { return p.made(&Number{At: At{p.here()}}) }

// number reads a number and the unit that follows it.
func (p *parser) number() *Number {
	start := p.tok.start
	n := &Number{Text: p.src[start:p.tok.end]}
	x, err := strconv.ParseFloat(n.Text, 64)
	if err != nil || math.IsInf(x, 0) {
		p.soft(fault.At(p.here(), "%q is too large a number", clip(n.Text)).Want("a number a page can print"))
		x = 0
	}
	p.last = p.tok.end
	n.Unit = p.unit()
	n.Value = n.Unit.ToBase(x) + 0
	n.At = p.since(start)
	p.made(n)
	p.jump(p.last)
	return n
}

// unit reads the longest unit behind the last token and moves past it; where
// there is none, the zero Unit of a plain number is returned.
func (p *parser) unit() unit.Unit {
	rest := p.src[p.last:]
	blank := blankLength(rest)
	u, n := unit.ScanUnit(rest[blank:])
	if n > 0 {
		p.last += blank + n
	}
	return u
}

// name reads the name of a value.
func (p *parser) name() Node {
	n := &Name{At{p.here()}, p.word()}
	if why := p.misnamed(n.Text); why != nil {
		p.soft(why)
	}
	p.next()
	return p.made(n)
}

// group = "(" expr ")" .
func (p *parser) group() Node {
	open := p.here()
	start := p.tok.start
	p.next()
	if !p.enter() {
		return p.gap()
	}
	defer p.leave()
	inner := p.expr()
	p.closing(open, "")
	return p.made(&Group{p.since(start), inner})
}

// closing takes the bracket that closes the one at a place.
func (p *parser) closing(open fault.Place, function string) {
	if !p.take(")") && !p.halted {
		p.hard(p.unclosed(open, function))
	}
}

// tight tells a comma between two digits, which may be meant as a decimal
// point.
func (p *parser) tight() {
	if p.tok.kind != signToken || p.tok.sign != "," {
		return
	}
	head := strings.TrimRight(p.src[:p.tok.start], "0123456789")
	before, after := p.src[len(head):p.tok.start], p.src[p.tok.end:]
	if n := digits(after); n > 0 && before != "" && !endsInName(head) && !strings.HasSuffix(head, ".") {
		b, a := clip(before), clip(after[:n])
		p.soft(fault.At(p.here(), "%s,%s can be read in two ways", b, a).
			Want("a decimal point, or a space behind the comma").Fix("%s.%s or %s, %s", b, a, b, a))
	}
}

// call = name "(" (expr | cond) {"," ...} ")" . Only tally takes conditions.
func (p *parser) call() Node {
	c := &Call{Function: p.word(), Head: p.here()}
	start := p.tok.start
	p.next()
	open := p.here()
	p.next()
	if !p.enter() {
		return p.gap()
	}
	defer p.leave()
	arg := p.expr
	if b := builtin(c.Function); b != nil && b.conditions {
		arg = p.cond
	}
	if !(p.tok.kind == signToken && p.tok.sign == ")") {
		c.Args = append(c.Args, arg())
		for p.tight(); p.take(","); p.tight() {
			c.Args = append(c.Args, arg())
		}
	}
	p.closing(open, c.Function)
	c.At = p.since(start)
	return p.made(c)
}
