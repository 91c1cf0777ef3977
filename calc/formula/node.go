package formula

import (
	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// Node is a piece of a formula: an expression, a condition or an outcome.
// Its place covers the text it was read from, to the byte.
type Node interface {
	Place() fault.Place
	node()
}

// At is the place of a node; every node embeds it.
type At struct{ Source fault.Place }

// Place returns the text that the node was read from.
func (a At) Place() fault.Place { return a.Source }

func (At) node() {}

// Number is a number, with its unit if it has one. Text keeps the number as
// it was written, with a minus before a reading below zero (-10 dBV); Unit is
// a plain number where none was written.
type Number struct {
	At
	Text  string
	Unit  unit.Unit
	Value float64 // in base units; on a scale a point
	// Typed marks a value in a shape that only blocks have (5 ft 6 in,
	// 33 1/3 rpm, 1/0 AWG): Text is then the whole of it, unit included.
	Typed bool
}

// Word is a choice's word, as in `metal is clad`. Only the right side of
// `is` and of a binding holds one.
type Word struct {
	At
	Text string
}

// Name is the name of a value: an input, a constant, a parameter of an own
// function, the result of an earlier step, or pi.
type Name struct {
	At
	Text string
}

// Call is a built-in function, an own function or a table column with its
// arguments. The arguments of tally are conditions.
type Call struct {
	At
	Function string
	Head     fault.Place // of the function's name
	Args     []Node
}

// Op is an operation on two expressions.
type Op byte

const (
	Add     Op = '+'
	Sub     Op = '-'
	Mul     Op = '*'
	Div     Op = '/'
	PowerOf Op = '^'
)

// Binary joins two expressions.
type Binary struct {
	At
	Op          Op
	Mark        fault.Place // of the operator
	Left, Right Node
}

// Negate is an expression with a minus before it.
type Negate struct {
	At
	Operand Node
}

// Group is an expression in brackets. It is kept, so that a formula is
// printed with the brackets its author wrote.
type Group struct {
	At
	Inner Node
}

// Cases chooses an outcome: the first case whose condition is true, if all
// before it are surely false. It stands only at the top of a step.
type Cases struct {
	At
	Cases []Case
	Else  Node // never nil
}

// Case is one outcome with the condition under which it holds.
type Case struct {
	Outcome Node
	When    Node
}

// NoneOutcome is the outcome that there is no such value, and why.
type NoneOutcome struct {
	At
	Why string
}

// UnknownOutcome is the outcome that the value cannot be told, and why.
type UnknownOutcome struct {
	At
	Why string
}

// And is true when all its tests are.
type And struct {
	At
	Tests []Node
}

// Or is true when one of its tests is.
type Or struct {
	At
	Tests []Node
}

// Not turns a test round.
type Not struct {
	At
	Test Node
}

// Given asks whether a value was given at all.
type Given struct {
	At
	Name *Name
}

// Is compares a value with a choice's word or with a typed value.
type Is struct {
	At
	Name  *Name
	Value Node // *Word or *Number
}

// Relation is how two values are compared; the words of the language
// (at most, at least, below, above) are kept in Compare.Mark.
type Relation uint8

const (
	Less Relation = iota
	AtMost
	Equal
	AtLeast
	Greater
)

// Compare compares two expressions. Values within one part in 10⁹ of each
// other count as equal.
type Compare struct {
	At
	Relation    Relation
	Mark        fault.Place // of the relation
	Left, Right Node
}

// Step is one line of a working: a value or an own function with its body,
// or a result borrowed from another method.
type Step struct {
	Place      fault.Place
	Name       *Name
	Params     []*Name // of an own function; nil for a value
	Body       Node    // nil when Borrow is set
	Borrow     *Borrow
	References []Reference
}

// Borrow takes one result of another method. Inputs of that method that With
// does not bind pass through by name.
type Borrow struct {
	Result *Name
	Method string
	At     fault.Place // of the method's name
	With   []Binding
}

// Binding gives an input of a borrowed method its value.
type Binding struct {
	Input *Name
	Value Node // an expression, or a *Word when it is not a name in scope
}

// Reference names the entry that says where a step's rule comes from.
type Reference struct {
	ID string
	At fault.Place
}
