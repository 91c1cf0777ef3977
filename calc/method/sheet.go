package method

import (
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Method is one rule of the trade: what it takes, its working, what it gives.
// Most are data, read by [Load]; a few are Go behind the same interface.
type Method interface {
	// Sheet says what the method takes and gives, and where its rules come from.
	Sheet() *Sheet
	// Run works the method at one point, for the results named or for all.
	// The values must have passed [Sheet.Check]. A result that cannot be
	// worked is Failed in the outcome, with a fault that names the step.
	Run(values Values, results ...string) *Outcome
	// Work returns the steps that each result rests on, in the order in which
	// they are worked: nil for one that cannot be worked. What several of them
	// share is printed alike.
	Work(values Values, results ...string) [][]Worked
}

// Sheet is what can be said of a method without running it.
type Sheet struct {
	Name         string
	Asks         string // the question it answers
	Area         string // the part of the trade it belongs to
	Takes        []*Input
	OneOf        [][]string // of each group exactly one is given
	Gives        []*Result
	Working      []string // its lines, as they are written
	Needs        []string // what must hold between its values, in words
	Verdicts     []string // the lines of its verdicts, as they are written, each behind the verdict's name
	VerdictNames []string
	References   []string // of every entry that a line of its working, a constant or a table names, in order
	Borrows      []string // the methods whose results it uses, in the order of the working
	Cautions     []string // of every caution it may bring
	Moves        []Move   // how its results go with its values
	// Directions are the words for the most and the least of a value, by its
	// name: longest, shortest. The second may be missing.
	Directions map[string][]string
	CoversNot  string
	Notes      string
	Cases      []*Case
	Uncased    string // why it has no case worked outside the program; "" where it has
	Hash       string // of its rules and of those it borrows: equal hashes give equal figures from equal values
	Place      fault.Place

	named map[string]string // what heads a verdict, by its name, where that differs
}

// Input returns the input of a name, and nil where there is none.
func (s *Sheet) Input(name string) *Input {
	for _, in := range s.Takes {
		if in.Name == name {
			return in
		}
	}
	return nil
}

// Result returns the result of a name, and nil where there is none.
func (s *Sheet) Result(name string) *Result {
	for _, r := range s.Gives {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// Input is one value that a method takes.
type Input struct {
	Name     string
	Head     string // what heads its column where its name does not read well there: "output" for from
	Says     string // what it is, in words: "the amplifier's damping factor"
	Sense    string // "one way", "rated": printed, and compared at hand-overs
	Symbol   string // for print: "R_w"
	Unit     unit.Unit
	Choice   []string          // its words, where it is a choice
	Print    map[string]string // how words of its choice are printed, where that differs: "flexible (class 5)" for c5
	Others   map[string]string // other words of the trade for a word in its choice: "RCA" for phono
	Whole    bool              // whole numbers only
	Optional bool
	Group    string // the list it belongs to, where it is a list
	From, To *Bound // hard: beyond them the press stops
	Usual    *Usual // beyond it the press warns
	Among    []Point
	Usually  *Point // what stands when nothing is typed
	Book     []Point
	When     *formula.Formula // asked only when this holds
	Place    fault.Place

	whenNode formula.Node
	meaning  string // the sense as it is printed, where that differs
	name     string // how its name is printed, where that differs
}

// Label returns what heads a column of the input: its name with spaces, where
// it has no other head.
func (i *Input) Label() string {
	if i.Head != "" {
		return i.Head
	}
	return i.named()
}

// named is the name of the input in words.
func (i *Input) named() string {
	if i.name != "" {
		return i.name
	}
	return spaced(i.Name)
}

// Fact returns the input in words for a sentence.
func (i *Input) Fact() string {
	if i.Says != "" {
		return i.Says
	}
	return i.named()
}

// Type returns what the formula checker knows of the input.
func (i *Input) Type() formula.Type {
	t := formula.Type{Kind: i.Unit.Kind(), Group: i.Group}
	if i.Choice != nil {
		t = formula.Type{Words: i.Choice, Group: i.Group}
	}
	return t
}

// Bound is an end of a range, in base units, with its text for messages.
type Bound struct {
	Value float64
	Text  string
}

// Usual is the range in which a value is usually found.
type Usual struct{ From, To Bound }

// Result is one value that a method gives.
type Result struct {
	Name   string
	Of     string // the step it is, where that has another name
	Head   string // what heads its column where its name does not read well there
	Says   string
	Sense  string
	Symbol string
	Unit   unit.Unit
	Format unit.Format
	Words  []string          // where it is a choice
	Print  map[string]string // how words of its choice are printed, where that differs
	Group  string
	// Ordered: the members of the list follow one another, and print as "this,
	// then that".
	Ordered bool
	Place   fault.Place

	name    string // how its name is printed, where that differs
	meaning string // the sense as it is printed, where that differs
	broken  bool   // how it is printed was found wrong and reported
}

// Label returns what heads a column of the result: its name with spaces, where
// it has no other head.
func (r *Result) Label() string {
	if r.Head != "" {
		return r.Head
	}
	return r.named()
}

// named is the name of the result in words.
func (r *Result) named() string {
	if r.name != "" {
		return r.name
	}
	return spaced(r.Name)
}

// Caption returns the result in words for a caption.
func (r *Result) Caption() string {
	if r.Says != "" {
		return r.Says
	}
	return r.Label()
}

// Move says how a result goes while one value rises and all others stand
// still.
type Move struct {
	Result, With string
	Way          string // "rises", "falls" or "neither"
	Because      string // why it does neither; "" of the others
	Place        fault.Place
}

// Values is what was typed for a method, by name of input. A name that is
// not in it was not typed.
type Values map[string]Point

// With returns the values with one more, leaving the receiver as it is.
func (v Values) With(name string, p Point) Values {
	w := make(Values, len(v)+1)
	for k, x := range v {
		w[k] = x
	}
	w[name] = p
	return w
}

// Points returns the points under some names, nil for one that was not typed.
func (v Values) Points(names []string) []*Point {
	points := make([]*Point, len(names))
	for i, name := range names {
		if p, typed := v[name]; typed {
			points[i] = &p
		}
	}
	return points
}

// Point is one typed value: what it is, as it is printed, and where it stood.
type Point struct {
	Value formula.Value
	Text  string
	Unit  unit.Unit // that it was typed in; of a list, that of the input
	Place fault.Place
	// Limits are those between which the value, or members of a list, may lie:
	// what was typed behind ±.
	Limits []Limits
	Asked  int  // of a list, the member typed as ?, which is asked for, counted from 1; 0 where none is
	Sought bool // it is what a most or least asks for, and will have a value
}

// Limits are what a value may be at least and at most, in base units.
type Limits struct {
	Member    int // of a list, counted from 0; -1 where the value is none
	Low, High float64
}

// Box returns the box of the values' limits, in the order of the method's
// inputs; nothing moves in it where no value has limits.
func (s *Sheet) Box(v Values) Box {
	b := Box{Values: v}
	for _, in := range s.Takes {
		for _, l := range v[in.Name].Limits {
			b.Moving = append(b.Moving, Moving{Name: in.Name, Member: l.Member, Lo: l.Low, Hi: l.High})
		}
	}
	return b
}

// Known reports whether the point is a value and not "don't know".
func (p Point) Known() bool { return p.Value.State == formula.Known }

// Worked is one step of a working at one point.
type Worked struct {
	Name       string
	Method     string
	Rule       formula.Node // the formula, or the case of it that holds; nil for a borrowed result
	With       formula.Node // the rule as numbers are put into it: so that these, without their units, come to Text
	Borrowed   string       // "each of iec-size", where the step is a borrowed result
	Value      formula.Value
	Text       string                           // the value as printed, with its unit
	Before     string                           // of a result whose figure is rounded, what the step comes to before; "" where Text says it
	Round      unit.Rounding                    // then, the way in which it was rounded
	Given      func(name string) (string, bool) // the values that went in, as With has them
	At         func(name string) formula.Value  // the same, unrounded
	Symbol     func(name string) string         // how a name is printed; "" for the name itself
	References []*Reference
}

// spaced turns a name of the language into words.
func spaced(name string) string {
	b := []byte(name)
	for i := range b {
		if b[i] == '_' {
			b[i] = ' '
		}
	}
	return string(b)
}
