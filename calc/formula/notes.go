package formula

import "bindpost/calc/fault"

// Notes keep the arithmetic of evaluations as it is done, number by number, so
// that it can be done again at other numbers without looking at a tree: see
// [Path]. A nil *Notes keeps nothing.
//
// Each number that is noted has a register, which travels with its [Value].
// What is no number (a word, a state, a reason, how long a list is) stays as
// it was; where it turns on a number, by a comparison, the comparison is kept
// as a test that must come out alike.
type Notes struct {
	path      Path
	fixed     []bool // by register: it holds the same number at any values
	constants map[float64]int32
	known     map[op]int32 // of operations that were noted already
	spoilt    bool
}

// Noting is an [Env] whose evaluations are noted.
type Noting interface {
	Env
	// Notes returns where they are noted; nil for nowhere.
	Notes() *Notes
}

// NewNotes returns empty notes.
func NewNotes() *Notes {
	return &Notes{path: Path{start: []float64{0}}, fixed: []bool{true}, constants: map[float64]int32{}, known: map[op]int32{}}
}

// notesOf returns the notes that an environment takes, or nil.
func notesOf(e Env) *Notes {
	if n, ok := e.(Noting); ok {
		return n.Notes()
	}
	return nil
}

// Entered returns a value that comes from outside, and its members, with
// registers into which [Path.Enter] puts other numbers.
func (n *Notes) Entered(v Value) Value {
	switch {
	case v.List != nil:
		members := make([]Value, len(v.List))
		for i, m := range v.List {
			members[i] = n.Entered(m)
		}
		v.List = members
	case v.State == Known && v.Word == "":
		v.register = n.register(v.Number, false)
	}
	return v
}

// Constant returns a number that is the same at any values.
func (n *Notes) Constant(number float64) Value {
	v := Quantity(number)
	v.register = n.constant(v.Number)
	return v
}

// Hold notes that what was found holds only while a number passes a test.
func (n *Notes) Hold(v Value, test func(number float64) bool) {
	if n == nil || v.State != Known || v.Word != "" {
		return
	}
	if v.register == 0 {
		n.spoilt = true
		return
	}
	n.path.tests = append(n.path.tests, test)
	n.path.ops = append(n.path.ops, op{do: askOp, a: v.register, from: int32(len(n.path.tests) - 1)})
}

// Spoil says that what was found is no matter of numbers alone, and holds
// nowhere else.
func (n *Notes) Spoil() {
	if n != nil {
		n.spoilt = true
	}
}

// Path returns what was noted; nil where it holds nowhere else.
func (n *Notes) Path() *Path {
	if n == nil || n.spoilt {
		return nil
	}
	return &n.path
}

// register returns a new register that holds a number; never 0, so that a value
// without one is seen.
func (n *Notes) register(number float64, fixed bool) int32 {
	n.path.start = append(n.path.start, number)
	n.fixed = append(n.fixed, fixed)
	return int32(len(n.path.start) - 1)
}

func (n *Notes) constant(number float64) int32 {
	if n == nil {
		return 0
	}
	r, known := n.constants[number]
	if !known {
		r = n.register(number, true)
		n.constants[number] = r
	}
	return r
}

// note keeps an operation with what it came to, and returns the register of
// that. What is worked from constants alone is a constant.
func (n *Notes) note(o op, came float64) int32 {
	if n.spoilt || !n.have(o) {
		n.spoilt = true
		return 0
	}
	if n.allFixed(o) {
		return n.constant(came)
	}
	if r, known := n.known[o]; known {
		return r
	}
	r := n.register(came, false)
	n.known[o] = r
	o.to = r
	n.path.ops = append(n.path.ops, o)
	return r
}

// have reports whether every number that an operation works on was noted.
func (n *Notes) have(o op) bool {
	for _, r := range n.path.operands(&o) {
		if r == 0 {
			return false
		}
	}
	return true
}

func (n *Notes) allFixed(o op) bool {
	for _, r := range n.path.operands(&o) {
		if !n.fixed[r] {
			return false
		}
	}
	return true
}

// binary notes an operation on two numbers.
func (n *Notes) binary(what Op, l, r Value, came float64) int32 {
	if n == nil {
		return 0
	}
	return n.note(op{do: opOf(what), a: l.register, b: r.register}, came)
}

// negated notes a number with a minus before it.
func (n *Notes) negated(v Value) int32 {
	if n == nil || v.State != Known || v.Word != "" {
		return 0
	}
	return n.note(op{do: negateOp, a: v.register}, v.Number)
}

// called notes a built-in function of numbers.
func (n *Notes) called(f *function, args []Value, came float64) int32 {
	if n == nil {
		return 0
	}
	return n.note(n.withArgs(op{do: callOp, function: f}, args), came)
}

// lookedUp notes a cell found in a table. The words among its keys stay as
// they are.
func (n *Notes) lookedUp(c *Column, args []Value, came float64) int32 {
	if n == nil {
		return 0
	}
	var numbers []Value
	for _, a := range args {
		if a.Word == "" {
			numbers = append(numbers, a)
		}
	}
	if len(numbers) == 0 {
		return n.constant(came)
	}
	n.path.lookups = append(n.path.lookups, narrowed(c, args))
	return n.note(n.withArgs(op{do: lookUpOp, column: int32(len(n.path.lookups))}, numbers), came)
}

// withArgs is an operation on so many numbers: up to two of them stand in the
// operation itself, so that the same one is seen to be the same.
func (n *Notes) withArgs(o op, args []Value) op {
	n.path.widest = max(n.path.widest, len(args))
	switch len(args) {
	case 1:
		o.a, o.count = args[0].register, 1
	case 2:
		o.a, o.b, o.count = args[0].register, args[1].register, 2
	default:
		o.from, o.count = int32(len(n.path.args)), int32(len(args))
		for _, a := range args {
			n.path.args = append(n.path.args, a.register)
		}
	}
	return o
}

// compared notes how two known numbers compare.
func (n *Notes) compared(how Relation, l, r Value, holds bool) {
	if n == nil || n.spoilt {
		return
	}
	o := op{do: failsOp, relation: how, a: l.register, b: r.register}
	if holds {
		o.do = holdsOp
	}
	switch _, known := n.known[o]; {
	case !n.have(o):
		n.spoilt = true
	case !known && !n.allFixed(o):
		n.known[o] = 0
		n.path.ops = append(n.path.ops, o)
	}
}

// failed is the value of a piece that could not be worked. Elsewhere it may be
// one that can.
func (m *machine) failed(n Node, format string, args ...any) Value {
	m.notes.Spoil()
	return FailedAt(fault.At(n.Place(), format, args...))
}
