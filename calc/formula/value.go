package formula

import (
	"slices"

	"bindpost/calc/fault"
)

// State says whether there is a value.
type State uint8

const (
	Known   State = iota // there is a value
	None                 // there is no such value: an arm that is right nowhere
	Unknown              // it cannot be told: a fact is missing
	Failed               // it could not be worked: a division by nothing
)

// String returns the state in words.
func (s State) String() string {
	switch s {
	case Known:
		return "known"
	case None:
		return "none"
	case Unknown:
		return "cannot tell"
	}
	return "failed"
}

// Value is what a formula gave: a number, a choice's word, a list, or why
// there is none of these. The zero Value is the known plain number 0.
type Value struct {
	State    State
	register int32        // in which the number is noted, where it is: see [Notes]
	Number   float64      // in base units, of a quantity
	Word     string       // of a choice
	List     []Value      // the members, of a list; its State is Known whatever they are
	Why      string       // None and Unknown: in words
	Fault    *fault.Fault // Failed: what went wrong, at the piece that did
	// Assumed names the missing facts that something stood in for, sorted.
	// A verdict that rests on one is doubtful at best.
	Assumed []string
}

// Quantity returns a known quantity, in base units.
func Quantity(base float64) Value { return Value{Number: base + 0} }

// WordOf returns a known choice.
func WordOf(word string) Value { return Value{Word: word} }

// ListOf returns a list of members.
func ListOf(members ...Value) Value { return Value{List: members} }

// NoValue returns the value that there is none, and why.
func NoValue(why string) Value { return Value{State: None, Why: why} }

// CannotTell returns the value that cannot be told, and why.
func CannotTell(why string) Value { return Value{State: Unknown, Why: why} }

// FailedAt returns the value that could not be worked.
func FailedAt(f *fault.Fault) Value { return Value{State: Failed, Fault: f} }

// Env answers for the values that a formula names. Numbers are in base units.
type Env interface {
	// Value returns a value by name. A missing input is Unknown with a Why
	// such as "the lowest impedance is not known".
	Value(name string) Value
	// Given reports whether a value was given, for `is given`.
	Given(name string) bool
	// Missing reports whether a value that was not given is a fact that is
	// missing, so that whatever stands in for it is assumed: an optional value,
	// but not one that does not apply, or one whose group has another member
	// given.
	Missing(name string) bool
}

// Truth is the answer to a condition.
type Truth uint8

const (
	False Truth = iota
	True
	Untold // a fact is missing
)

// String returns the answer in words.
func (t Truth) String() string {
	switch t {
	case False:
		return "false"
	case True:
		return "true"
	}
	return "cannot tell"
}

// Answer is the answer to a condition, with what it rests on.
type Answer struct {
	Truth   Truth
	Why     string       // Untold: the fact that is missing, or what went wrong
	Fault   *fault.Fault // a side of the condition could not be worked; Truth is Untold
	Assumed []string     // missing facts that something stood in for, sorted
}

// union joins two sorted sets of names; one that is empty costs nothing.
func union(a, b []string) []string {
	if len(b) == 0 {
		return a
	}
	if len(a) == 0 {
		return b
	}
	all := slices.Concat(a, b)
	slices.Sort(all)
	return slices.Compact(all)
}

// with returns the value resting also on assumed facts.
func (v Value) with(assumed []string) Value {
	v.Assumed = union(v.Assumed, assumed)
	return v
}
