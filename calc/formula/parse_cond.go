package formula

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// cond = conj {"or" conj} .
func (p *parser) cond() Node {
	tests := p.joined("or", p.conj)
	if len(tests) == 1 {
		return tests[0]
	}
	return p.made(&Or{spanOf(tests), tests})
}

// conj = test {"and" test} .
func (p *parser) conj() Node {
	tests := p.joined("and", p.test)
	if len(tests) == 1 {
		return tests[0]
	}
	return p.made(&And{spanOf(tests), tests})
}

func (p *parser) joined(word string, part func() Node) []Node {
	tests := []Node{part()}
	for p.takeWord(word) {
		tests = append(tests, part())
	}
	return tests
}

func spanOf(tests []Node) At {
	return At{tests[0].Place().To(tests[len(tests)-1].Place())}
}

// test = "not" test | name "is" ("given" | choice | value) | expr rel (expr | value) .
func (p *parser) test() Node {
	start := p.tok.start
	if p.takeWord("not") {
		if !p.enter() {
			return p.gap()
		}
		defer p.leave()
		inner := p.test()
		return p.made(&Not{p.since(start), inner})
	}
	if p.tok.kind == wordToken {
		if t := p.ahead(); t.kind == wordToken && p.src[t.start:t.end] == "is" {
			return p.is()
		}
	}
	left := p.expr()
	mark := p.tok.start
	relation, ok := p.relation()
	switch {
	case !ok && left.Place().String() == "": // told as a missing value
		p.halt()
		return left
	case !ok:
		p.hard(p.noRelation(left))
		return left
	}
	if f := p.twofold(mark); f != nil {
		p.hard(f)
	}
	c := &Compare{Relation: relation, Mark: p.since(mark).Source, Left: left, Right: p.side()}
	c.At = At{left.Place().To(c.Right.Place())}
	if again := p.here(); !p.halted {
		if _, twice := p.relation(); twice {
			p.hard(fault.At(again, "two relations stand in one test").
				Want("one relation, and the next behind `and`").
				Fix("%s and %s …", clip(c.Place().String()), clip(c.Right.Place().String()+" "+again.String())))
		}
	}
	return p.made(c)
}

// relations are the signs and words of a comparison.
var relations = map[string]Relation{
	"<": Less, "<=": AtMost, "=": Equal, ">=": AtLeast, ">": Greater,
	"below": Less, "above": Greater, "most": AtMost, "least": AtLeast,
}

// relation takes a relation and reports whether it was there.
func (p *parser) relation() (Relation, bool) {
	switch p.tok.kind {
	case signToken:
		r, ok := relations[p.tok.sign]
		if ok {
			p.next()
		}
		return r, ok
	case wordToken:
		return p.relationWord()
	}
	return 0, false
}

func (p *parser) relationWord() (Relation, bool) {
	switch word := p.word(); word {
	case "below", "above":
		p.next()
		return relations[word], true
	case "at":
		p.next()
		if word := p.word(); word == "most" || word == "least" {
			p.next()
			return relations[word], true
		}
		p.hard(fault.At(p.here(), "at stands alone").Want("at most or at least"))
		return Equal, true
	}
	return 0, false
}

// side is the right side of a relation: an expression, or a typed value.
func (p *parser) side() Node {
	if n := p.typedValue(); n != nil {
		return n
	}
	return p.expr()
}

// is reads what stands behind `name is`.
func (p *parser) is() Node {
	start := p.tok.start
	name := &Name{At{p.here()}, p.word()}
	if f := p.misnamed(name.Text); f != nil {
		p.soft(f)
	}
	p.made(name)
	p.next()
	p.next()
	if p.tok.kind == wordToken {
		return p.isWord(start, name)
	}
	var value Node
	if p.typed {
		value = p.typedValue()
		if value == nil && (p.tok.kind == numberToken || p.tok.kind == signToken && p.tok.sign == "-") {
			value = p.signed()
		}
	}
	if value == nil {
		p.hard(p.isNothing(name))
		return name
	}
	n, ok := plainNumber(value)
	if !ok || p.tok.kind == signToken && strings.Contains("+-*/^²³", p.tok.sign) {
		p.hard(fault.At(value.Place(), "`is` takes one value and no working").
			Want("= between a value and a working").Fix("%s = …", clip(name.Text)))
	}
	return p.made(&Is{p.since(start), name, n})
}

// plainNumber returns a value typed behind `is` as one number, also below
// zero.
func plainNumber(n Node) (*Number, bool) {
	switch n := n.(type) {
	case *Number:
		return n, true
	case *Negate:
		if v, ok := n.Operand.(*Number); ok {
			return reading(v, n.Place()), true
		}
	}
	return &Number{At: At{n.Place()}}, false
}

func (p *parser) isWord(start int, name *Name) Node {
	switch word := p.word(); word {
	case "given":
		p.next()
		return p.made(&Given{p.since(start), name})
	case "not":
		p.hard(fault.At(p.here(), "not stands before the whole test").
			Want("not %s is …", clip(name.Text)).Fix("not %s is %s", clip(name.Text), clip(p.after())))
		return name
	}
	text, at := p.entry("a choice", false)
	word := p.made(&Word{At{at}, text})
	return p.made(&Is{p.since(start), name, word})
}

// after returns the text of the next token, for a mend.
func (p *parser) after() string {
	t := p.ahead()
	if t.kind == endToken {
		return "…"
	}
	return p.src[t.start:t.end]
}

// typedValue reads a value as it is typed in a block where it has a shape that
// no expression has: a fraction, or feet and inches.
func (p *parser) typedValue() Node {
	if !p.typed || p.halted {
		return nil
	}
	n := typedLength(p.src[p.tok.start:])
	if n == 0 {
		return nil
	}
	at := p.place.Sub(p.tok.start, p.tok.start+n)
	p.last = p.tok.start + n
	q, f := unit.Read(at)
	if f != nil {
		p.soft(f)
	}
	p.jump(p.last)
	return p.made(&Number{At: At{at}, Text: at.String(), Unit: q.Unit, Value: q.Value, Typed: true})
}

// typedLength returns how many bytes at the head of a text are a value of a
// shape that only blocks have: [whole] whole/whole unit, or feet and inches.
func typedLength(s string) int {
	at := 0
	for _, minus := range []string{"-", "−"} {
		if len(s) > len(minus) && s[:len(minus)] == minus {
			at = len(minus)
		}
	}
	at += blankLength(s[at:])
	if n := fractionLength(s[at:]); n > 0 {
		return at + n
	}
	if n := feetLength(s[at:]); n > 0 {
		return at + n
	}
	return 0
}

func fractionLength(s string) int {
	n := digits(s)
	if n == 0 {
		return 0
	}
	if b := blankLength(s[n:]); b > 0 && digits(s[n+b:]) > 0 {
		n += b + digits(s[n+b:])
	}
	if n == len(s) || s[n] != '/' || digits(s[n+1:]) == 0 {
		return 0
	}
	n += 1 + digits(s[n+1:])
	b := blankLength(s[n:])
	_, u := unit.ScanUnit(s[n+b:])
	if u == 0 || s[n+b] == '/' {
		return 0
	}
	return n + b + u
}

// feetLength measures two numbers with units beside each other: 5 ft 6 in.
func feetLength(s string) int {
	n := measureLength(s)
	if n == 0 {
		return 0
	}
	b := blankLength(s[n:])
	if m := measureLength(s[n+b:]); m > 0 {
		return n + b + m
	}
	return 0
}

func measureLength(s string) int {
	n := unit.ScanNumber(s)
	if n == 0 {
		return 0
	}
	b := blankLength(s[n:])
	_, u := unit.ScanUnit(s[n+b:])
	if u == 0 {
		return 0
	}
	return n + b + u
}

// digits returns how many digits stand at the head of a text.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
