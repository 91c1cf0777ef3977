package formula

import (
	"bindpost/calc/fault"
)

// parser reads one text. It always ends: each call takes a token or returns,
// and nesting is counted. Soft faults are gathered and reading goes on; after
// a hard one every token is the end of the text, so that all calls return.
type parser struct {
	place  fault.Place
	src    string
	tok    token
	last   int // end of the token before tok
	depth  int
	nodes  int
	typed  bool // values typed as in a block may stand in conditions
	halted bool
	told   map[string]bool // names refused where they were made
	asked  string          // the name before the last `is`
	faults *fault.List
}

// begin makes a parser that stands on the first token. A text beyond the
// limit is not looked at.
func begin(p fault.Place) *parser {
	p = p.Trim()
	r := &parser{place: p, faults: &fault.List{}}
	if f := tooLong(p); f != nil {
		r.hard(f)
		return r
	}
	r.src = p.String()
	r.jump(0)
	return r
}

// ParseStep reads one line of a working. The step is nil when not even a name
// could be read; its Body and Borrow are nil when the list holds a stop, so
// that the caller may still know the name, and mark it as broken.
func ParseStep(p fault.Place) (*Step, *fault.List) {
	r := begin(p)
	s := r.step()
	r.end()
	if s != nil && r.faults.Stopped() {
		s.Body, s.Borrow = nil, nil
	}
	return s, r.faults
}

// ParseBody reads an expression or cases. The node is nil when the list holds
// a stop.
func ParseBody(p fault.Place) (Node, *fault.List) {
	r := begin(p)
	return r.whole(r.body())
}

// ParseCond reads a condition. Values typed as in a block may stand after
// `is` and after a relation: `run is 9 m`, `speed is 33 1/3 rpm`, `gauge at
// most 1/0 AWG`. The node is nil when the list holds a stop.
func ParseCond(p fault.Place) (Node, *fault.List) {
	r := begin(p)
	r.typed = true
	return r.whole(r.cond())
}

// whole returns the node when it is the whole text and nothing is wrong.
func (p *parser) whole(n Node) (Node, *fault.List) {
	p.end()
	if p.faults.Stopped() {
		return nil, p.faults
	}
	return n, p.faults
}

// next moves to the next token.
func (p *parser) next() {
	p.last = p.tok.end
	p.jump(p.tok.end)
}

// jump moves to the token at or after an offset. A character that has no
// meaning is told; reading goes on where a sign can be taken for it.
func (p *parser) jump(to int) {
	if p.halted {
		return
	}
	p.tok = scan(p.src, to)
	if p.tok.kind != oddToken {
		return
	}
	f := p.odd()
	switch meant := f.Try; meant {
	case "+", "-", "*", "/", "=", "(", ")", ",":
		p.soft(f)
		p.tok.kind, p.tok.sign = signToken, meant
	default:
		p.hard(f)
	}
}

// take moves past a sign and reports whether it was there.
func (p *parser) take(sign string) bool {
	if p.tok.kind != signToken || p.tok.sign != sign {
		return false
	}
	p.next()
	return true
}

// word returns the word that the parser stands on, and "" for anything else.
func (p *parser) word() string {
	if p.tok.kind != wordToken {
		return ""
	}
	return p.src[p.tok.start:p.tok.end]
}

// takeWord moves past a word and reports whether it was there.
func (p *parser) takeWord(word string) bool {
	if p.word() != word {
		return false
	}
	p.next()
	return true
}

// ahead returns the token after the present one.
func (p *parser) ahead() token {
	if p.halted {
		return token{}
	}
	return scan(p.src, p.tok.end)
}

// here is the place of the present token; at the end of the text it is the
// empty place behind the last one.
func (p *parser) here() fault.Place {
	if p.tok.kind == endToken {
		return p.place.Sub(p.last, p.last)
	}
	return p.place.Sub(p.tok.start, p.tok.end)
}

// since is the place from an offset to the end of the last token taken.
func (p *parser) since(start int) At {
	return At{p.place.Sub(start, max(start, p.last))}
}

// soft tells a fault after which reading goes on.
func (p *parser) soft(f *fault.Fault) {
	if p.halted {
		return
	}
	p.faults.Add(f)
	if p.faults.Len() >= mostTold {
		p.halt()
	}
}

// hard tells a fault after which nothing is read any more.
func (p *parser) hard(f *fault.Fault) {
	p.soft(f)
	p.halt()
}

func (p *parser) halt() {
	p.halted = true
	p.tok = token{start: len(p.src), end: len(p.src)}
}

// enter counts one level of nesting and reports whether it may be read.
func (p *parser) enter() bool {
	p.depth++
	if p.depth > mostDepth {
		p.hard(fault.At(p.here(), "the formula is nested too deep to be read").
			Want("at most %d brackets or signs within one another", mostDepth).Fix("split it into steps of its own"))
		return false
	}
	return true
}

func (p *parser) leave() { p.depth-- }

// made counts one more node; every node that the parser makes passes here.
func (p *parser) made(n Node) Node {
	p.nodes++
	if p.nodes == mostNodes+1 {
		p.hard(fault.At(p.here(), "the formula has too many pieces to be read").
			Want("at most %d", mostNodes).Fix("split it into steps of its own"))
	}
	return n
}

// end tells whatever is left behind a finished text.
func (p *parser) end() {
	if p.tok.kind != endToken {
		p.hard(p.leftover())
	}
}
