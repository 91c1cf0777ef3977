package formula

import (
	"strings"

	"bindpost/calc/fault"
)

func (m *machine) call(n *Call, f *frame) Value {
	if b := builtin(n.Function); b != nil {
		if b.folds(len(n.Args)) {
			return m.fold(n, b, f)
		}
		return m.apply(n, b, m.args(n, f))
	}
	own := m.scope.Functions[n.Function]
	if own.Column != nil {
		return m.lookUp(n, own.Column, m.args(n, f))
	}
	return m.value(own.Body, called(own, n, f))
}

func (m *machine) args(n *Call, f *frame) []Value {
	args := make([]Value, len(n.Args))
	for i, a := range n.Args {
		args[i] = m.value(a, f)
	}
	return args
}

// apply works a built-in function on its arguments.
func (m *machine) apply(n *Call, b *function, args []Value) Value {
	all := Value{}
	numbers := make([]float64, len(args))
	for i, a := range args {
		all = worse(all, a)
		numbers[i] = a.Number
	}
	if all.State != Known {
		return all
	}
	x, why := b.value(numbers)
	switch {
	case why != "":
		return m.failed(n.Args[0], "%s has no value here: %q %s", b.name, quote(n.Args[0]), why).with(all.Assumed)
	case unworkable(x):
		return m.failed(n, "%q comes to a number too large to be worked with", quote(n)).with(all.Assumed)
	}
	v := Quantity(x).with(all.Assumed)
	v.register = m.notes.called(b, args, v.Number)
	return v
}

// fold makes one value of a list: each member of the argument is worked by
// itself. Members that are not known are counted all the same.
func (m *machine) fold(n *Call, b *function, f *frame) Value {
	arg := n.Args[0]
	length := m.length(arg, f)
	outer := m.member
	defer func() { m.member = outer }()
	if length < 0 {
		m.member = whole
		return m.apply(n, b, []Value{m.value(arg, f)})
	}
	if b.rule == countRule {
		return m.constant(float64(length))
	}
	members := make([]Value, length)
	for i := range members {
		m.member = i
		members[i] = m.value(arg, f)
	}
	if length == 0 && b.rule == equalRule {
		return NoValue("the list has no members")
	}
	return m.apply(n, b, members)
}

// lookUp finds the row of a table.
func (m *machine) lookUp(n *Call, col *Column, args []Value) Value {
	all := Value{}
	for _, a := range args {
		all = worse(all, a)
	}
	if all.State != Known {
		return all
	}
	for _, row := range col.Rows {
		if !row.matches(args) {
			continue
		}
		if row.Empty {
			m.notes.Spoil()
			return CannotTell(col.emptyCell(row)).with(all.Assumed)
		}
		v := Quantity(row.Value).with(all.Assumed)
		v.register = m.notes.lookedUp(col, args, v.Number)
		return v
	}
	m.notes.Spoil()
	return FailedAt(col.noRow(n, args)).with(all.Assumed)
}

func (r Row) matches(args []Value) bool {
	for i, k := range r.Keys {
		if !k.is(args[i]) {
			return false
		}
	}
	return true
}

func (k Key) is(v Value) bool {
	if k.Word != "" || v.Word != "" {
		return k.Word == v.Word
	}
	return same(k.Number, v.Number)
}

// emptyCell says why a cell that is empty has no value.
func (c *Column) emptyCell(r Row) string {
	return "the table " + c.Table + " has no " + spaced(c.Name) + " for " + r.text()
}

// text writes the keys of a row for a sentence.
func (r Row) text() string {
	texts := make([]string, len(r.Keys))
	for i, k := range r.Keys {
		texts[i] = k.show()
	}
	return strings.Join(texts, " and ")
}

func (k Key) show() string {
	if k.Word != "" {
		return k.Word
	}
	return k.Text
}

// noRow is the fault of keys that no row of the table has. It is told at the
// first key of which no row exists with the keys before it, and names the
// neighbours.
func (c *Column) noRow(n *Call, args []Value) *fault.Fault {
	rows := c.Rows
	for i, arg := range n.Args {
		var left []Row
		for _, r := range rows {
			if r.Keys[i].is(args[i]) {
				left = append(left, r)
			}
		}
		if len(left) == 0 {
			f := fault.At(arg.Place(), "the table %s has no row for this value of %q", c.Table, quote(arg))
			if near := neighbours(rows, i, args[i]); near != "" {
				f.Want("one of its rows; nearest: %s", near)
			}
			return f
		}
		rows = left
	}
	return fault.At(n.Place(), "the table %s has no row for %q", c.Table, quote(n))
}

// neighbours names the keys next to a value, or all words of a choice.
func neighbours(rows []Row, key int, v Value) string {
	var below, above *Key
	words := []string{}
	for i := range rows {
		k := &rows[i].Keys[key]
		switch {
		case k.Word != "":
			words = merged(words, []string{k.Word})
		case k.Number < v.Number && (below == nil || k.Number > below.Number):
			below = k
		case k.Number > v.Number && (above == nil || k.Number < above.Number):
			above = k
		}
	}
	for _, k := range []*Key{below, above} {
		if k != nil {
			words = append(words, k.Text)
		}
	}
	return strings.Join(words, " and ")
}

// spaced turns a name into words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
