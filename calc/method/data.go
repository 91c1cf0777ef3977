package method

import (
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
)

// Data is a method read from a file.
type Data struct {
	sheet     *Sheet
	library   *Library
	source    string // the text of its file
	constants map[string]constant
	functions map[string]*formula.Function
	sources   map[string][]*Reference // of constants and tables, by name
	steps     []*step
	byName    map[string]*step
	needs     []*need
	verdicts  []*ruling
	cautions  []*trigger
	unread    []string // inputs that a fault was told of, so that nothing is said of what names them
	passed    int      // inputs from here on in sheet.Takes are passed through to borrowed methods

	working *record.Node
	cases   []*record.Node

	directions *record.Node     // input by input, the words for the most and the least of it: longest or shortest
	paths      lately[path]     // that runs took
	facts      lately[turnedOn] // on which results turn
	broken     bool             // a fault in it was reported: it must not be run
}

// step is one line of a working, checked.
type step struct {
	line       *formula.Step
	body       *formula.Formula  // nil for a borrowed result and for a function
	function   *formula.Function // an own function that the line makes; nil for a value
	borrow     *loan
	typ        formula.Type
	references []*Reference
	uses       []string
}

// loan is a result borrowed from another method.
type loan struct {
	from   Method
	result *Result
	key    string // loans of one method with equal bindings share one run
	with   map[string]binding
}

// binding gives a borrowed method's input its value: a formula over the
// borrower's names, or a choice's word.
type binding struct {
	value *formula.Formula
	word  string
}

// need is a relation between inputs that must hold before any step is worked.
type need struct {
	holds *formula.Formula
	why   string
	place fault.Place
	node  formula.Node
}

// Sheet implements [Method].
func (d *Data) Sheet() *Sheet { return d.sheet }
