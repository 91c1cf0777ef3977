package formula

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// Type is what is known of a value before any number exists. The zero Type is
// a plain number.
type Type struct {
	Kind   unit.Kind
	Words  []string // of a choice: the words it may take; nil otherwise
	Truth  bool     // a condition
	Group  string   // the list it belongs to; "" for a single value
	Broken bool     // a fault was reported already: it fits anything
	Any    bool     // only `none` and `unknown`, which fit any kind
}

// Broken is the type of a value that was found wrong and reported.
var Broken = Type{Broken: true}

// Of returns the type of a single quantity of a kind.
func Of(k unit.Kind) Type { return Type{Kind: k} }

// Choice returns the type of a choice among words.
func Choice(words ...string) Type { return Type{Words: words} }

// In returns the type as a member of a list group.
func (t Type) In(group string) Type {
	t.Group = group
	return t
}

// String returns the type for a sentence: "a length", "a choice of copper or
// aluminium", "a condition". The list group is left out.
func (t Type) String() string {
	switch {
	case t.Broken || t.Any:
		return "any value"
	case t.Truth:
		return "a condition"
	case t.Words != nil:
		return "a choice of " + either(t.Words)
	}
	return t.Kind.String()
}

// loose reports whether the type fits any other.
func (t Type) loose() bool { return t.Broken || t.Any }

// quantity reports whether the type is a number of some kind.
func (t Type) quantity() bool { return !t.Truth && t.Words == nil && !t.loose() }

// Fits reports whether a value of type t may stand where want is wanted: of
// equal kind, or a choice all of whose words want knows. List groups are not
// compared.
func (t Type) Fits(want Type) bool {
	switch {
	case t.loose() || want.loose():
		return true
	case t.Truth || want.Truth:
		return t.Truth == want.Truth
	case t.Words != nil || want.Words != nil:
		return t.Words != nil && want.Words != nil && within(t.Words, want.Words)
	}
	return t.Kind == want.Kind
}

// within reports whether every one of words is among others.
func within(words, others []string) bool {
	for _, w := range words {
		if !slices.Contains(others, w) {
			return false
		}
	}
	return true
}

// either joins words for a sentence: "a", "a or b", "a, b or c".
func either(words []string) string {
	n := len(words)
	if n == 1 {
		return words[0]
	}
	return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
}

// Symbol is what a scope knows of a named value.
type Symbol struct {
	Type    Type
	Missing bool // it may be missing, so that `is given` may be asked of it
}

// Scope is what the names in a formula stand for. Values holds inputs,
// constants and earlier steps alike.
type Scope struct {
	Values    map[string]Symbol
	Functions map[string]*Function
}

// Function is a function of a method: its own, with a body, or a column of a
// table. Its body sees the values and functions of the scope in which it is
// called.
type Function struct {
	Name   string
	Params []string
	Body   Node    // of an own function
	Column *Column // of a table; nil for an own function
	Broken bool    // its own text was found wrong and reported: a call of it fits anything
}

// Column is one column of a table: a function of the table's keys.
type Column struct {
	Table, Name string
	Keys        []Type    // of each key, in order: a kind, or the words of a choice
	KeyNames    []string  // of each key, for messages; may be nil
	Unit        unit.Unit // of the cells
	Rows        []Row
}

// Row is one row of a table as one column sees it.
type Row struct {
	Keys  []Key
	Value float64 // in base units
	Empty bool    // the cell is `-`: its value cannot be told
}

// Key is a key cell of a table.
type Key struct {
	Word   string  // of a choice; "" for a number
	Number float64 // in base units
	Text   string  // as written: "2.5 mm2"
}

// Formula is an expression, a choice of cases or a condition that passed the
// check of names and kinds. It is made by [Check] and never changes, so that
// it may be evaluated from several goroutines.
type Formula struct {
	node  Node
	typ   Type
	scope *Scope
	uses  []string
	nodes int
}

// Type returns the type of the formula's value.
func (f *Formula) Type() Type { return f.typ }

// Uses returns the names of the values that the formula rests on, also
// through own functions, sorted.
func (f *Formula) Uses() []string { return f.uses }

// Nodes returns how many pieces the formula has when its own functions are
// written out.
func (f *Formula) Nodes() int { return f.nodes }

// Node returns the tree that was checked.
func (f *Formula) Node() Node { return f.node }

// Place returns the text that the formula was read from.
func (f *Formula) Place() fault.Place { return f.node.Place() }
