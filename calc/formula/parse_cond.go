package formula

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// cond = conj {"or" conj} .
func (p *parser) cond() Node {
	first := p.conj()
	if p.word() != "or" {
		return first
	}
	tests := p.joined(first, "or", p.conj)
	return p.made(&Or{spanOf(tests), tests})
}

// conj = test {"and" test} .
func (p *parser) conj() Node {
	first := p.test()
	if p.word() != "and" {
		return first
	}
	tests := p.joined(first, "and", p.test)
	return p.made(&And{spanOf(tests), tests})
}

func (p *parser) joined(first Node, word string, part func() Node) []Node {
	tests := []Node{first}
	for p.takeWord(word) {
		tests = append(tests, part())
	}
	return tests
}

func spanOf(tests []Node) At {
	return At{tests[0].Place().To(tests[len(tests)-1].Place())}
}

// test = "not" test | name "is" ("given" | choice {choice} | value) | expr rel (expr | value) .
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
	if n := p.typedValue(false); n != nil {
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
	p.asked = name.Text
	p.next()
	p.next()
	if p.tok.kind == wordToken {
		return p.isWord(start, name)
	}
	var value Node
	if p.typed {
		value = p.typedValue(true)
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
	case "at", "below", "above":
		p.hard(fault.At(p.here(), "a relation stands without `is`").Fix("leave `is` out"))
		return name
	}
	word := p.made(p.choiceWords())
	return p.made(&Is{p.since(start), name, word})
}

// closers are the words that end a choice of several words: they are words of
// the language, and no choice may hold one.
var closers = []string{"and", "or", "not", "is", "when", "else", "given", "at", "below", "above"}

// choiceWords reads a choice, which may have several words: "F plug on the
// lead". It ends before a word of the language or a sign.
func (p *parser) choiceWords() *Word {
	from := p.tok.start
	end := from + choiceLength(p.src[from:])
	for {
		next := end + blankLength(p.src[end:])
		n := choiceLength(p.src[next:])
		if n == 0 || next == end || slices.Contains(closers, p.src[next:next+n]) {
			break
		}
		end = next + n
	}
	at := p.place.Sub(from, end)
	p.last = end
	p.jump(end)
	return &Word{At{at}, strings.Join(strings.Fields(at.String()), " ")}
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
// no expression has: a fraction, or feet and inches. One bare number over
// another is such a value where no expression may stand.
func (p *parser) typedValue(alone bool) Node {
	if !p.typed || p.halted {
		return nil
	}
	n := typedLength(p.src[p.tok.start:], alone)
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
// shape that only blocks have: 33 1/3, 1/2 m, feet and inches. A plain
// reading is left to the expression; so is 1/2, unless it stands alone.
func typedLength(s string, alone bool) int {
	plain := plainLength(s)
	if plain > 0 && endsValue(s[plain:]) {
		return 0
	}
	n := unit.ScanValue(s)
	switch over := strings.HasPrefix(s[plain:], "/"); {
	case n <= plain:
		return shapeLength(s)
	case !alone && over && n == plain+1+digits(s[plain+1:]):
		return 0
	}
	return n
}

// endsValue reports whether a plain reading surely is all of a value, by what
// stands behind it: nothing, or another test. Most values are.
func endsValue(rest string) bool {
	return rest == "" || strings.HasPrefix(rest, " and ") || strings.HasPrefix(rest, " or ")
}

// shapeLength returns the length of what has the shape of such a value and is
// none: 1/0 m or 5 ft 13 in, of which the reader of values says why.
func shapeLength(s string) int {
	n := plainLength(s)
	if n > 0 && n == unit.ScanNumber(s) && strings.HasPrefix(s[n:], "/") {
		n++
	}
	n += blankLength(s[n:])
	if second := s[n:]; digits(second) > 0 && plainLength(second) > unit.ScanNumber(second) {
		return n + plainLength(second)
	}
	return 0
}

// plainLength returns the length of the number at the head of a text, with
// its sign and its unit, if it has them.
func plainLength(s string) int {
	at := 0
	for _, minus := range []string{"-", "−"} {
		if strings.HasPrefix(s, minus) {
			at = len(minus)
		}
	}
	at += blankLength(s[at:])
	n := unit.ScanNumber(s[at:])
	b := blankLength(s[at+n:])
	if _, u := unit.ScanUnit(s[at+n+b:]); n > 0 && u > 0 {
		n += b + u
	}
	return at + n
}

// digits returns how many digits stand at the head of a text.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
