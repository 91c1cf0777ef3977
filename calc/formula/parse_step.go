package formula

import (
	"slices"

	"bindpost/calc/fault"
)

// step = name [ "(" name {"," name} ")" ] "=" (body | borrow) [ references ] .
func (p *parser) step() *Step {
	s := &Step{Place: p.place}
	if s.Name = p.newName("a step"); s.Name == nil {
		return nil
	}
	if p.take("(") {
		s.Params = p.params(s.Name.Text)
	}
	mark := p.tok.start
	if !p.take("=") {
		p.hard(fault.At(p.here(), "= is missing after %q", clip(s.Name.Text)).Want("%s", stepShape))
		return s
	}
	if f := p.twofold(mark); f != nil {
		p.soft(f.Want("%s", stepShape))
		p.next()
	}
	if p.borrows() {
		s.Borrow = p.borrow()
		if s.Params != nil {
			p.soft(fault.At(s.Name.Place(), "an own function cannot borrow a result").
				Want("a value of its own for what is borrowed"))
		}
	} else {
		s.Body = p.body()
	}
	if p.take("[") {
		s.References = p.references()
	}
	return s
}

const stepShape = "name = formula [reference]"

// newName reads a name that is being made, and tells one that may not be.
func (p *parser) newName(of string) *Name {
	if p.tok.kind != wordToken {
		f := fault.At(p.here(), "%s starts with its name", of).Want("a letter, then letters, digits and _")
		if of == "a step" && p.tok.kind != numberToken {
			f.Want("%s", stepShape)
		}
		p.hard(f)
		return nil
	}
	n := &Name{At{p.here()}, p.word()}
	if why := refusedName(n.Text); why != "" {
		p.soft(fault.At(n.Place(), "%q cannot be a name: %s", clip(n.Text), why).Want("another name"))
		if p.told == nil {
			p.told = map[string]bool{}
		}
		p.told[n.Text] = true
	}
	p.next()
	return n
}

// params reads the parameters of an own function up to the closing bracket.
func (p *parser) params(function string) []*Name {
	params := []*Name{}
	seen := []string{function}
	if p.tok.kind == signToken && p.tok.sign == ")" {
		p.hard(fault.At(p.here(), "no name stands in the brackets of %q", clip(function)).
			Want("%s(x) = formula, or %s = formula", clip(function), clip(function)))
		return params
	}
	for {
		n := p.newName("a parameter")
		if n == nil {
			return params
		}
		if slices.Contains(seen, n.Text) {
			p.soft(fault.At(n.Place(), "%q stands twice before the =", clip(n.Text)).Want("a name for each"))
		}
		seen = append(seen, n.Text)
		params = append(params, n)
		if p.take(")") {
			return params
		}
		if !p.take(",") {
			p.hard(fault.At(p.here(), "the bracket after %q is not closed", clip(function)).
				Want("%s(x) = formula", clip(function)))
			return params
		}
	}
}

// borrows reports whether the text goes on with `name of`.
func (p *parser) borrows() bool {
	if p.tok.kind != wordToken {
		return false
	}
	t := p.ahead()
	return t.kind == wordToken && p.src[t.start:t.end] == "of"
}

// borrow = result "of" method [ "with" input "=" (expr | choice) {"," ...} ] .
func (p *parser) borrow() *Borrow {
	b := &Borrow{Result: &Name{At{p.here()}, p.word()}}
	p.next()
	p.next()
	b.Method, b.At = p.entry("a method", false)
	if !p.takeWord("with") {
		return b
	}
	for {
		in := p.newName("an input")
		if in == nil {
			return b
		}
		if !p.take("=") {
			p.hard(fault.At(p.here(), "= is missing after %q", clip(in.Text)).
				Want("%s = its value", clip(in.Text)))
			return b
		}
		b.With = append(b.With, Binding{in, p.expr()})
		if !p.take(",") {
			return b
		}
	}
}

// entry reads the name of a method or a reference, which may hold `-` and
// so is no token.
func (p *parser) entry(of string, dots bool) (string, fault.Place) {
	if p.tok.kind == endToken || p.halted {
		p.hard(fault.At(p.here(), "the name of %s is missing", of).Want("letters, digits and -"))
		return "", p.here()
	}
	from := p.tok.start
	n := entryLength(p.src[from:], dots)
	if n == 0 {
		p.hard(fault.At(p.here(), "the name of %s is missing here", of).Want("letters, digits and -"))
		return "", p.here()
	}
	at := p.place.Sub(from, from+n)
	p.last = from + n
	p.jump(from + n)
	return at.String(), at
}

// references reads the entries behind "[" up to "]".
func (p *parser) references() []Reference {
	var refs []Reference
	for {
		id, at := p.entry("a reference", true)
		if p.halted {
			return refs
		}
		refs = append(refs, Reference{id, at})
		if p.take("]") {
			return refs
		}
		if !p.take(",") {
			f := fault.At(p.here(), "the references are not closed").Want("a comma between two references, and ] behind the last")
			if p.tok.kind != endToken {
				f.Message = "a reference is one name, without spaces"
			}
			p.hard(f)
			return refs
		}
	}
}

// body = { outcome "when" cond "," } [ "else" ] outcome .
func (p *parser) body() Node {
	c := &Cases{}
	start := p.tok.start
	for {
		at := p.here()
		last := p.takeWord("else")
		out := p.outcome()
		if p.word() == "when" && !p.halted {
			if last {
				p.hard(fault.At(p.here(), "a case after else has no condition").Want("else before the last outcome only"))
				return out
			}
			p.next()
			c.Cases = append(c.Cases, Case{out, p.cond()})
			if p.take(",") {
				continue
			}
			if p.word() == "else" {
				p.soft(fault.At(p.here(), "a comma is missing before else").Fix(", else"))
				continue
			}
			p.soft(p.noElse())
			return out
		}
		if len(c.Cases) == 0 {
			return out
		}
		if !last {
			p.soft(fault.At(at.To(out.Place()), "the last case does not say when it holds").
				Want("else before the last outcome").Fix("else %s", clip(out.Place().String())))
		}
		c.Else, c.At = out, p.since(start)
		return p.made(c)
	}
}

// noElse is the fault of cases that end without `else`.
func (p *parser) noElse() *fault.Fault {
	return fault.At(p.here(), "what holds otherwise is missing").
		Want(`a last case: , else …`).Fix(`, else unknown "why it cannot be told"`)
}

// outcome = expr | "none" text | "unknown" text .
func (p *parser) outcome() Node {
	start, word := p.tok.start, p.word()
	if word != "none" && word != "unknown" {
		return p.expr()
	}
	p.next()
	if p.tok.kind == openToken {
		p.hard(p.stray())
	}
	if p.tok.kind != textToken {
		p.hard(fault.At(p.here(), "%s says why, in double quotes", word).Want(`%s "nothing comes back"`, word))
		return &NoneOutcome{At: p.since(start)}
	}
	why := p.src[p.tok.start+1 : p.tok.end-1]
	if blankLength(why) == len(why) {
		p.soft(fault.At(p.here(), "%s does not say why", word).Want("a few words that a reader understands"))
	}
	p.next()
	if word == "none" {
		return p.made(&NoneOutcome{p.since(start), why})
	}
	return p.made(&UnknownOutcome{p.since(start), why})
}
