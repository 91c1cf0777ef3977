package formula

import "slices"

// Path is the arithmetic that noted evaluations came to: what was worked, in
// order, with every choice made on the way. At other numbers it comes to the
// same values as the evaluations would, to the bit, or it does not hold: where
// a choice falls otherwise, or something cannot be worked. It never changes,
// and may be gone along by several goroutines.
type Path struct {
	ops     []op
	start   []float64 // what each register holds before: constants are in place; the first, 0, is none
	args    []int32   // registers of operations on more than two numbers
	widest  int       // the most numbers that one of them works on
	lookups []lookup
	tests   []func(number float64) bool
}

// op is one operation: what it works on, and what it comes to, are registers.
type op struct {
	do       opCode
	relation Relation
	to, a, b int32
	from     int32 // of its numbers among the path's args, or of its test
	count    int32 // how many numbers a function or a lookup works on
	column   int32 // of a lookup, counted from 1
	function *function
}

type opCode uint8

const (
	addOp opCode = iota
	subOp
	mulOp
	divOp
	powerOp
	negateOp
	callOp
	lookUpOp
	holdsOp // a test: a comparison must hold
	failsOp // a test: a comparison must not hold
	askOp   // a test from outside
)

func opOf(o Op) opCode {
	switch o {
	case Add:
		return addOp
	case Sub:
		return subOp
	case Mul:
		return mulOp
	case Div:
		return divOp
	}
	return powerOp
}

// Start returns registers to go along the path with, in room that is given
// where it is enough.
func (p *Path) Start(room []float64) []float64 {
	size := len(p.start) + p.widest
	if cap(room) < size {
		room = make([]float64, size)
	}
	copy(room[:size], p.start)
	return room[:size]
}

// Plain returns the number of a value that is no more than one that can be
// worked with: no word, no list, and nothing stands in for anything.
func (v *Value) Plain() (number float64, plain bool) {
	return v.Number, v.State == Known && v.Word == "" && v.List == nil && v.Assumed == nil && finite(v.Number)
}

// Register returns which of the registers holds a value that is plain; 0 where
// none does.
func (v *Value) Register() int {
	if _, plain := v.Plain(); !plain {
		return 0
	}
	return int(v.register)
}

// Enter puts the numbers of a value in the place of those of one that was
// entered into the notes, and is of the same shape. It returns false for what
// is no number that can be worked with.
func (p *Path) Enter(registers []float64, noted, v *Value) bool {
	for i := range noted.List {
		if !p.Enter(registers, &noted.List[i], &v.List[i]) {
			return false
		}
	}
	if noted.register > 0 {
		registers[noted.register] = v.Number
		return finite(v.Number)
	}
	return true
}

// Read sets a value to one that was noted, as it is now.
func (p *Path) Read(registers []float64, noted, v *Value) {
	*v = *noted
	if v.List != nil {
		v.List = make([]Value, len(noted.List))
		for i := range v.List {
			p.Read(registers, &noted.List[i], &v.List[i])
		}
	}
	if v.register > 0 {
		v.Number, v.register = registers[v.register], 0
	}
}

// Unnoted returns a value as if nothing had been noted of it.
func (v Value) Unnoted() Value {
	v.register, v.List = 0, slices.Clone(v.List)
	for i, m := range v.List {
		v.List[i] = m.Unnoted()
	}
	return v
}

// Run works the path with the numbers that were entered. It returns false where
// it does not hold; nothing can then be read.
func (p *Path) Run(registers []float64) bool {
	for i := range p.ops {
		o := &p.ops[i]
		var x float64
		switch o.do {
		case addOp:
			x = registers[o.a] + registers[o.b]
		case subOp:
			x = registers[o.a] - registers[o.b]
		case mulOp:
			x = registers[o.a] * registers[o.b]
		case divOp:
			if registers[o.b] == 0 {
				return false
			}
			x = registers[o.a] / registers[o.b]
		case negateOp:
			x = -registers[o.a]
		default:
			y, ok := p.other(o, registers)
			if !ok {
				return false
			}
			x = y
		}
		if o.to == 0 {
			continue
		}
		if x += 0; !finite(x) {
			return false
		}
		registers[o.to] = x
	}
	return true
}

// finite reports whether a number can be worked with: what is none, or has no
// end, less itself is no number.
func finite(x float64) bool { return x-x == 0 }

// other works an operation that is no plain arithmetic; ok is false where the
// path ends.
func (p *Path) other(o *op, registers []float64) (x float64, ok bool) {
	switch o.do {
	case powerOp:
		x, why := power(registers[o.a], registers[o.b])
		return x, why == ""
	case callOp:
		x, why := o.function.value(p.numbers(o, registers))
		return x, why == ""
	case lookUpOp:
		return p.lookups[o.column-1].find(p.numbers(o, registers))
	case holdsOp:
		return 0, o.relation.holds(registers[o.a], registers[o.b])
	case failsOp:
		return 0, !o.relation.holds(registers[o.a], registers[o.b])
	}
	return 0, p.tests[o.from](registers[o.a])
}

// numbers gathers what a function or a lookup works on, behind the registers
// where it is not one of them.
func (p *Path) numbers(o *op, registers []float64) []float64 {
	if o.count == 1 {
		return registers[o.a : o.a+1]
	}
	into := registers[len(p.start):]
	for i, r := range p.operands(o) {
		into[i] = registers[r]
	}
	return into[:o.count]
}

// operands returns the registers that an operation works on.
func (p *Path) operands(o *op) []int32 {
	switch {
	case o.count > 2 || o.do == callOp && o.count == 0:
		return p.args[o.from : o.from+o.count]
	case o.count == 1 || o.do == negateOp || o.do == askOp:
		return []int32{o.a}
	}
	return []int32{o.a, o.b}
}

// From returns the part of the path that rests on values entered into the
// notes, for when all others stay as they were at a run of the whole.
func (p *Path) From(entered ...*Value) *Path {
	moving := make([]bool, len(p.start))
	for _, v := range entered {
		mark(moving, v)
	}
	part := *p
	part.ops = nil
	for _, o := range p.ops {
		for _, r := range p.operands(&o) {
			if moving[r] {
				moving[o.to] = o.to > 0
				part.ops = append(part.ops, o)
				break
			}
		}
	}
	return &part
}

func mark(moving []bool, v *Value) {
	for i := range v.List {
		mark(moving, &v.List[i])
	}
	moving[v.register] = v.register > 0
}

// lookup is a column of a table, as the words among the keys leave it.
type lookup struct {
	rows []Row // whose words fit
	keys []int // of the keys that are numbers
}

func narrowed(c *Column, args []Value) lookup {
	var l lookup
	for i, a := range args {
		if a.Word == "" {
			l.keys = append(l.keys, i)
		}
	}
	for _, row := range c.Rows {
		fits := true
		for i, k := range row.Keys {
			fits = fits && (args[i].Word == "" || k.is(args[i]))
		}
		if fits {
			l.rows = append(l.rows, row)
		}
	}
	return l
}

// find returns the cell of the first row that has these numbers; it is not ok
// where there is none, or the cell is empty.
func (l lookup) find(numbers []float64) (x float64, ok bool) {
	for _, row := range l.rows {
		if l.matches(row, numbers) {
			return row.Value, !row.Empty
		}
	}
	return 0, false
}

func (l lookup) matches(row Row, numbers []float64) bool {
	for i, k := range l.keys {
		if key := row.Keys[k]; key.Word != "" || !same(key.Number, numbers[i]) {
			return false
		}
	}
	return true
}
