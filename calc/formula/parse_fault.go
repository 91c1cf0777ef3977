package formula

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// leftover is the fault of what stands behind a finished text.
func (p *parser) leftover() *fault.Fault {
	at, text := p.here(), p.here().String()
	switch {
	case p.tok.kind == signToken && text == ")":
		return fault.At(at, "this bracket closes nothing").Want("an opening bracket before it")
	case p.tok.kind == signToken && text == ",":
		return p.comma()
	case p.tok.kind == signToken && (text == "[" || text == "]"):
		return fault.At(at, "a reference stands only at the end of a step").Want("%s", stepShape)
	case p.tok.kind == textToken || p.tok.kind == openToken:
		return p.stray()
	case p.word() == "else":
		return fault.At(at, "else follows no case").Want("outcome when condition, else outcome")
	case p.word() == "when":
		return fault.At(at, "cases stand only at the top of a step").Want("a step of its own for what is chosen")
	case p.word() == "and" || p.word() == "or":
		return fault.At(at, "%s joins conditions, and there is none here", text).Want("+ to add values; conditions behind `when`")
	}
	if _, ok := relations[p.relationSign()]; ok || p.word() == "is" {
		return fault.At(at, "a value is wanted here, and %q makes a condition", text).Want("conditions behind `when`")
	}
	return fault.At(at, "nothing may follow here, and %q does", clip(text)).Want("the end of the line")
}

// relationSign is the present token in the form in which relations lists it.
func (p *parser) relationSign() string {
	if p.tok.kind == signToken {
		return p.tok.sign
	}
	if w := p.word(); w == "at" {
		return "most"
	}
	return p.word()
}

// comma is the fault of a comma that parts nothing; between digits it was
// meant as a decimal point.
func (p *parser) comma() *fault.Fault {
	before, after := p.src[:p.tok.start], p.src[p.tok.end:]
	f := fault.At(p.here(), "a comma stands only between cases, and between the values of a function")
	if strings.HasPrefix(strings.TrimSpace(after), "else") {
		return fault.At(p.here(), "what stands before else does not say when it holds").
			Want("outcome when condition, else outcome")
	}
	head := strings.TrimRight(before, "0123456789")
	if n := digits(after); n > 0 && head != before && !strings.HasSuffix(head, ".") {
		f.Message = "a decimal comma cannot be read"
		f.Want("a decimal point").Fix("%s.%s", clip(before[len(head):]), clip(after[:n]))
	}
	return f
}

// stray is the fault of a quoted text where none belongs, or of one that is
// not closed.
func (p *parser) stray() *fault.Fault {
	if p.tok.kind == openToken {
		return fault.At(p.here(), "this quotation is not closed").Want(`" at its end`)
	}
	return fault.At(p.here(), "words in quotes stand only behind none and unknown").
		Want(`none "why" or unknown "why"`)
}

// unjoined tells two values with no sign between them.
func (p *parser) unjoined(left Node) {
	if name, ok := lastFactor(left).(*Name); ok && builtin(name.Text) != nil {
		return // its brackets are missing, which was told
	}
	if f := p.wordMeant(left); f != nil {
		p.hard(f)
		return
	}
	p.soft(p.signMissing(left))
}

func (p *parser) signMissing(left Node) *fault.Fault {
	at := p.here()
	l, r := clip(lastFactor(left).Place().String()), clip(at.String())
	f := fault.At(at, "no sign stands between %q and %q", l, r).Want("+ - * / or ^ between two values")
	number, bare := lastFactor(left).(*Number)
	switch {
	case bare && p.tok.kind == numberToken:
		f.Fix("write a long number without spaces, or put a sign between the two")
	case bare && number.Unit.Symbol() == "" && p.tok.kind == wordToken:
		f.Fix("put * between a number and a name: %s*%s", l, r)
		if meant := unitMeant(at); meant != "" {
			f.Fix("%s %s if a unit is meant; if a name, put * between: %s*%s", l, meant, l, r)
		}
	case p.tok.kind == signToken:
		f.Fix("put * before the bracket: %s*(", l)
	default:
		f.Fix("%s*%s", l, r)
	}
	return f
}

// unitMeant returns the symbol of the unit that a word was perhaps meant as.
func unitMeant(at fault.Place) string {
	u, f := unit.Parse(at)
	if f != nil {
		return f.Try
	}
	return u.Symbol()
}

// absent is the fault of a missing value.
func (p *parser) absent() *fault.Fault {
	at := p.here()
	switch {
	case p.tok.kind == endToken && p.last == 0:
		return fault.At(at, "there is no formula here").Want("a formula")
	case p.tok.kind == endToken:
		return fault.At(at, "the formula breaks off").Want("a value at its end")
	case p.tok.kind == textToken || p.tok.kind == openToken:
		f := p.stray()
		p.next()
		return f
	case p.word() == "none" || p.word() == "unknown":
		f := fault.At(at, "%s stands alone as an outcome, and takes no part in a sum", at).Want(`%s "why", instead of a formula`, at)
		p.next()
		if p.tok.kind == textToken {
			p.next()
		}
		return f
	case p.tok.kind == signToken && p.tok.sign == "*" && p.last > 0 && p.src[p.last-1] == '*' && p.tok.start == p.last:
		f := fault.At(p.place.Sub(p.last-1, p.tok.end), "** has no meaning in a formula").Want("^ for a power").Fix("^")
		p.next()
		if p.tok.kind == numberToken || p.tok.kind == wordToken {
			p.next()
		}
		return f
	}
	return fault.At(at, "a value is missing before %q", clip(at.String())).Want("a number, a name or a bracket")
}

// unclosed is the fault of a bracket that is not closed.
func (p *parser) unclosed(open fault.Place, function string) *fault.Fault {
	f := fault.At(open, "this bracket is not closed").Want("a ) for every (")
	if p.tok.kind == endToken {
		return f
	}
	at := p.here()
	switch {
	case p.word() == "when" || p.word() == "else":
		return fault.At(at, "cases stand only at the top of a step").Want("a step of its own for what is chosen")
	case p.word() == "and" || p.word() == "or" || p.word() == "is" || relationHere(p):
		if function != "" {
			return fault.At(at, "%s takes values, and no conditions", clip(function)).Want("conditions behind `when`, or in tally")
		}
		return fault.At(at, "a condition cannot stand in brackets").
			Want("conditions without brackets: `and` binds closer than `or`, and `not` closest")
	case p.tok.kind == signToken && p.tok.sign == "," && function == "":
		return p.comma()
	case p.tok.kind == textToken || p.tok.kind == openToken:
		return p.stray()
	}
	return f
}

func relationHere(p *parser) bool {
	_, ok := relations[p.relationSign()]
	return ok
}

// misnamed is the fault of a word that cannot be the name of a value, and nil
// for one that can.
func (p *parser) misnamed(name string) *fault.Fault {
	at := p.here()
	switch {
	case name == "pi" || p.told[name]:
		return nil
	case builtin(name) != nil && p.typed && !unit.IsWord(name):
		return nil // it may be a result of a method in Go, such as count: the check knows
	case builtin(name) != nil:
		return bracketless(name, at)
	case unit.IsWord(name):
		return fault.At(at, "%q is a unit, and stands only behind its number", clip(name)).
			Want("a name that is no unit, or a number before it").Fix("1 %s", clip(name))
	}
	return nil
}

// bracketless is the fault of a built-in function that is called by its bare
// name.
func bracketless(name string, at fault.Place) *fault.Fault {
	f := fault.At(at, "%q is a built-in function, and its brackets are missing", name).Fix("%s(…)", name)
	if unit.IsWord(name) {
		f.Want("its values in brackets; as a unit it stands behind its number")
	}
	return f
}

// noRelation is the fault of a test that compares nothing.
func (p *parser) noRelation(left Node) *fault.Fault {
	at := p.here()
	switch {
	case p.word() == "is":
		return fault.At(at, "`is` asks about one name").Want("= between two workings")
	case p.tok.kind == endToken || p.word() == "and" || p.word() == "or" ||
		p.tok.kind == signToken && (p.tok.sign == "," || p.tok.sign == ")"):
		f := fault.At(left.Place(), "%q is a value, and a condition compares", clip(left.Place().String())).
			Want("`is` or a relation: < <= = >= > at most, at least, below, above")
		if name, ok := left.(*Name); ok && p.asked != "" {
			f.Fix("%s is %s", clip(p.asked), clip(name.Text))
		}
		return f
	}
	return fault.At(at, "a condition goes on with a relation, and not with %q", clip(at.String())).
		Want("< <= = >= >, at most, at least, below, above")
}

// isNothing is the fault of an `is` with nothing behind it that it takes.
func (p *parser) isNothing(name *Name) *fault.Fault {
	at := p.here()
	f := fault.At(at, "`is` is followed by no word").Want("given, or a word of the choice")
	switch {
	case p.tok.kind == textToken:
		f = fault.At(at, "the word of a choice stands without quotes").Fix("%s", clip(strings.Trim(at.String(), `"`)))
	case p.tok.kind == numberToken || p.tok.kind == signToken && p.tok.sign == "-":
		f = fault.At(at, "`is` compares with a word here").Want("= for a number").
			Fix("%s = %s", clip(name.Text), clip(p.src[p.tok.start:p.tok.start+max(len(at.String()), plainLength(p.src[p.tok.start:]))]))
	}
	return f
}

// twofold is the fault of a second relation sign right behind the first, and
// nil where there is none.
func (p *parser) twofold(start int) *fault.Fault {
	if _, ok := relations[p.tok.sign]; !ok || p.tok.kind != signToken || p.tok.start != p.last {
		return nil
	}
	at := p.place.Sub(start, p.tok.end)
	f := fault.At(at, "%q is no relation", at.String()).Want("< <= = >= >, at most, at least, below, above")
	if meant := foreign[at.String()]; meant != "" {
		f.Fix("%s", meant)
	}
	return f
}
