package formula

import "strings"

// applied stands between a function and its brackets; it is not seen, but a
// screen reader says "of".
const applied = "\u2061"

// mathFaces typesets the built-in functions that have a shape of their own.
// The arguments come typeset, each as one element; a function that is not
// here is set as its name with the arguments in brackets.
var mathFaces = map[string]func(args []string) string{
	"sqrt":      func(args []string) string { return "<msqrt>" + strings.Join(args, "") + "</msqrt>" },
	"exp":       func(args []string) string { return "<msup>" + identifier("e") + row(args...) + "</msup>" },
	"abs":       func(args []string) string { return row(fence("|"), row(args...), fence("|")) },
	"log10":     func(args []string) string { return calledOn(lowered("log", "10"), args) },
	"log2":      func(args []string) string { return calledOn(lowered("log", "2"), args) },
	"ln":        func(args []string) string { return calledOn(identifier("ln"), args) },
	"sin":       func(args []string) string { return calledOn(identifier("sin"), args) },
	"cos":       func(args []string) string { return calledOn(identifier("cos"), args) },
	"tan":       func(args []string) string { return calledOn(identifier("tan"), args) },
	"asin":      func(args []string) string { return calledOn(identifier("arcsin"), args) },
	"acos":      func(args []string) string { return calledOn(identifier("arccos"), args) },
	"atan":      func(args []string) string { return calledOn(identifier("arctan"), args) },
	"sinc":      func(args []string) string { return calledOn(identifier("sinc"), args) },
	"round":     func(args []string) string { return calledOn(identifier("nearest whole"), args) },
	"roundup":   func(args []string) string { return calledOn(identifier("rounded up"), args) },
	"rounddown": func(args []string) string { return calledOn(identifier("rounded down"), args) },
	"min":       func(args []string) string { return calledOn(identifier("lowest of"), args) },
	"max":       func(args []string) string { return calledOn(identifier("highest of"), args) },
	"sum":       func(args []string) string { return calledOn(identifier("sum of all"), args) },
	"count":     func(args []string) string { return calledOn(identifier("number of"), args) },
	"tally":     func(args []string) string { return listedOn(identifier("how many hold of"), text(","+noBreak), args) },
}

// call typesets a function with its arguments.
func (s setter) call(n *Call) string {
	args := make([]string, len(n.Args))
	for i, arg := range n.Args {
		args[i] = s.bare(arg)
	}
	if face := mathFaces[n.Function]; face != nil {
		return face(args)
	}
	return calledOn(identifier(shown(n.Function)), args)
}

func calledOn(head string, args []string) string {
	return listedOn(head, operator(","), args)
}

// listedOn sets the arguments with a mark between each two.
func listedOn(head, mark string, args []string) string {
	inner := args[:1:1]
	for _, arg := range args[1:] {
		inner = append(inner, mark, arg)
	}
	return row(head, operator(applied), bracketed(row(inner...)))
}

func lowered(name, low string) string {
	return "<msub>" + identifier(name) + "<mn>" + low + "</mn></msub>"
}

// fence is a stroke that stands as a bracket.
func fence(sign string) string { return `<mo fence="true">` + sign + "</mo>" }
