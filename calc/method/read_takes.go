package method

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
	"bindpost/calc/unit"
)

// inputFields are the keys of an entry under takes.
var inputFields = []string{
	"unit", "choice", "whole", "from", "to", "usual", "among", "book", "usually", "optional", "only when", "each", "sense",
	"says", "symbol", "head",
}

func (d *Data) readTakes(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind == record.Empty {
		return
	}
	if n.Kind != record.Map {
		faults.Add(fault.At(n.Place, "takes holds %s", n.Kind).Want("values by name"))
		return
	}
	for _, e := range n.Entries {
		if why := formula.ReservedName(e.Key.Text); why != "" {
			d.unread = append(d.unread, e.Key.Text)
			faults.Add(fault.At(e.Key.Place, "%q may not name a value: %s", e.Key.Text, why).Fix("another name"))
			continue
		}
		if in := d.library.readInput(e, faults); in != nil {
			d.sheet.Takes = append(d.sheet.Takes, in)
		} else {
			d.unread = append(d.unread, e.Key.Text)
		}
	}
	d.passed = len(d.sheet.Takes)
}

// description looks a key up in an input's own entry first and then in the
// description that many methods share. An entry that says itself what kind of
// value it is shares nothing.
type description struct{ own, shared *record.Node }

func (d description) get(key string) *record.Node {
	if n := d.own.Get(key); n != nil {
		return n
	}
	return d.shared.Get(key)
}

// Shared returns the input that many methods take under a name, as it is
// described once for all of them; nil where none is, with the faults of its
// description.
func (l *Library) Shared(name string) (*Input, *fault.List) {
	faults := &fault.List{}
	n, ok := l.values[name]
	if !ok {
		return nil, faults
	}
	return l.readInput(record.Entry{Key: &record.Node{Kind: record.Scalar, Text: name, Place: n.Place}, Value: n}, faults), faults
}

func (l *Library) readInput(e record.Entry, faults *fault.List) *Input {
	shared := l.values[e.Key.Text]
	if e.Value.Get("unit") != nil || e.Value.Get("choice") != nil || e.Value.Get("whole") != nil {
		shared = nil
	}
	wrong := e.Value.Keys("an input", inputFields...)
	faults.Join(wrong)
	faults.Join(shared.Keys("an input", inputFields...))
	checkTexts(e.Value, faults, "says", "sense", "symbol", "each", "head")
	d := description{e.Value, shared}
	in := &Input{
		Name: e.Key.Text, Says: text(d.get("says")), Sense: text(d.get("sense")), Symbol: text(d.get("symbol")),
		Group: text(d.get("each")), Head: text(d.get("head")), Whole: yes(d.get("whole"), faults), Optional: yes(d.get("optional"), faults), Place: e.Key.Place,
	}
	if wrong.Stopped() && d.get("unit") == nil && d.get("choice") == nil && !in.Whole {
		return nil // a key that is not known was to say what kind of value it is
	}
	if !in.readKind(d, faults) {
		return nil
	}
	in.readBounds(d, faults)
	if n := d.get("usually"); n != nil {
		p, fs := in.Read(n.Place)
		faults.Join(fs)
		in.Usually = &p
	}
	if n := d.get("book"); n != nil {
		in.Book = in.readBook(n, faults)
	}
	if n := d.get("only when"); n != nil {
		node, fs := formula.ParseCond(n.Place)
		faults.Join(fs)
		if !fs.Stopped() {
			in.whenNode = node
		}
	}
	return in
}

// readKind reads whether an input is a quantity, a choice or a whole number.
func (i *Input) readKind(d description, faults *fault.List) bool {
	i.Unit = unit.Must("number")
	if n := d.get("choice"); n != nil {
		i.Choice, i.Print = readChoice(n, faults)
		return len(i.Choice) > 0
	}
	n := d.get("unit")
	if n == nil && !i.Whole {
		faults.Add(fault.At(i.Place, "the input %q has no unit", i.Name).Want("unit, choice or whole"))
		return false
	}
	if n == nil {
		return true
	}
	u, f := unit.Parse(n.Place)
	if f != nil {
		faults.Add(f)
		return false
	}
	i.Unit = u
	return true
}

func (i *Input) readBounds(d description, faults *fault.List) {
	if n := d.get("from"); n != nil {
		i.From = i.bound(n.Place, faults)
	}
	if n := d.get("to"); n != nil {
		i.To = i.bound(n.Place, faults)
	}
	if i.Choice == nil && d.get("among") == nil && (d.get("from") == nil || d.get("to") == nil) {
		faults.Add(fault.At(i.Place, "the input %q has no bounds", i.Name).Want("from and to, such as from: 0.1, to: 100; beyond them a value is refused"))
	}
	if i.From != nil && i.To != nil && i.To.Value < i.From.Value {
		faults.Add(fault.At(d.get("to").Place, "the bounds of %q are upside down", i.Name).Want("from below to"))
	}
	if n := d.get("usual"); n != nil {
		ends := split(n.Place, " to ")
		if len(ends) != 2 {
			faults.Add(fault.At(n.Place, "the usual range of %q is not whole", i.Name).Want("usual: 1 to 30"))
		} else if from, to := i.bound(ends[0], faults), i.bound(ends[1], faults); from != nil && to != nil {
			i.Usual = &Usual{From: *from, To: *to}
		}
	}
	if n := d.get("among"); n != nil {
		i.readAmong(n, faults)
	}
}

// readAmong reads the listed values of an input; they are not checked against
// the list that they make.
func (i *Input) readAmong(n *record.Node, faults *fault.List) {
	points, fs := i.ReadSweep(n.Place)
	faults.Join(fs)
	i.Among = points
}

// bound reads an end of a range: a bare number stands in the input's unit.
func (i *Input) bound(p fault.Place, faults *fault.List) *Bound {
	q, f := unit.Read(p)
	if f != nil {
		faults.Add(f)
		return nil
	}
	if q.Unit.Symbol() == "" {
		q = unit.Quantity{Value: i.Unit.ToBase(q.Value), Unit: i.Unit, Text: q.Text + " " + i.Unit.Symbol()}
	}
	if q.Unit.Kind() != i.Unit.Kind() {
		faults.Add(fault.At(p, "%s is %s, and %s is %s", p, q.Unit.Kind(), i.Name, i.Unit.Kind()).Want("%s, such as %s", i.Unit.Kind(), i.Unit.Kind().Example()))
		return nil
	}
	return &Bound{Value: q.Value, Text: typed(q)}
}

// readBook reads the book's example: the values that fill the reader's own
// numbers, and never an author's block.
func (i *Input) readBook(n *record.Node, faults *fault.List) []Point {
	points, fs := i.ReadSweep(n.Place)
	faults.Join(fs)
	return points
}

// yes reads a yes or no; nothing typed is no.
func yes(n *record.Node, faults *fault.List) bool {
	switch t := text(n); t {
	case "yes":
		return true
	case "", "no":
		return false
	default:
		faults.Add(fault.At(n.Place, "%q is neither yes nor no", t).Want("yes or no"))
		return false
	}
}

// readTables reads lookup tables: each column becomes a function of the keys.
func (d *Data) readTables(n *record.Node, faults *fault.List) {
	if n == nil || n.Kind == record.Empty {
		return
	}
	for _, e := range n.Entries {
		faults.Join(e.Value.Keys("a table", "keys", "columns", "rows", "reference"))
		t := tableReader{data: d, name: e.Key.Text, place: e.Key.Place, faults: faults}
		t.read(e.Value)
	}
}

type tableReader struct {
	data   *Data
	name   string
	place  fault.Place
	faults *fault.List
	keys   []*Input
}

func (t *tableReader) read(n *record.Node) {
	names, fs := n.Get("keys").Words("keys")
	t.faults.Join(fs)
	for _, k := range names {
		in := t.data.sheet.Input(k.Text)
		if in == nil {
			if !slices.Contains(t.data.unread, k.Text) {
				t.faults.Add(t.data.sheet.Unknown(k.Text, k.Place))
			}
			return
		}
		t.keys = append(t.keys, in)
	}
	columns, rows := n.Get("columns"), n.Get("rows")
	if len(names) == 0 || columns == nil || rows == nil || len(columns.Entries) == 0 {
		t.faults.Add(fault.At(t.place, "the table %q is not whole", t.name).Want("keys, columns and rows"))
		return
	}
	references := t.references(n.Get("reference"))
	for c, e := range columns.Entries {
		u, f := unit.Parse(e.Value.Place)
		if f != nil {
			t.faults.Add(f)
			continue
		}
		column := &formula.Column{Table: t.name, Name: e.Key.Text, Unit: u}
		params := make([]string, len(t.keys))
		for i, k := range t.keys {
			column.Keys = append(column.Keys, k.Type())
			params[i] = k.Name
		}
		for _, row := range rows.Items {
			t.row(column, row, c, len(columns.Entries))
		}
		t.data.functions[e.Key.Text] = &formula.Function{Name: e.Key.Text, Params: params, Column: column}
		t.data.sources[e.Key.Text] = references
	}
}

func (t *tableReader) references(n *record.Node) []*Reference {
	words, fs := n.Words("reference")
	t.faults.Join(fs)
	if len(words) == 0 {
		t.faults.Add(fault.At(t.place, "the table %q has no reference", t.name).Want("reference: the entry it was taken from"))
	}
	named := make([]formula.Reference, len(words))
	for i, w := range words {
		named[i] = formula.Reference{ID: w.Text, At: w.Place}
	}
	return t.data.library.referred(named, t.faults)
}

// row reads one row for column c of width columns.
func (t *tableReader) row(column *formula.Column, n *record.Node, c, width int) {
	cells, fs := n.Words("a row")
	t.faults.Join(fs)
	if len(cells) != len(t.keys)+width {
		t.faults.Add(fault.At(n.Place, "this row has %d cells", len(cells)).Want("%d: the keys and the columns", len(t.keys)+width))
		return
	}
	row := formula.Row{}
	for i, k := range t.keys {
		row.Keys = append(row.Keys, t.key(k, cells[i]))
	}
	cell := cells[len(t.keys)+c]
	if cell.Text == "-" {
		row.Empty = true
	} else if q, f := unit.Read(cell.Place); f != nil {
		t.faults.Add(f)
		return
	} else if row.Value = q.Value; q.Unit.Symbol() == "" {
		row.Value = column.Unit.ToBase(q.Value)
	} else if q.Unit.Kind() != column.Unit.Kind() {
		t.faults.Add(fault.At(cell.Place, "%s is %s, and the column %s is %s", cell.Text, q.Unit.Kind(), column.Name, column.Unit.Kind()).
			Want("a number in %s, or a value with such a unit", column.Unit.Symbol()))
		return
	}
	column.Rows = append(column.Rows, row)
}

// key reads a row's key: a choice's word, or a number in the input's unit.
func (t *tableReader) key(in *Input, cell *record.Node) formula.Key {
	if in.Choice != nil {
		if !strings.Contains(" "+strings.Join(in.Choice, " ")+" ", " "+cell.Text+" ") {
			t.faults.Add(fault.At(cell.Place, "%s cannot be %q", in.Name, cell.Text).Want("one of: %s", strings.Join(in.Choice, ", ")))
		}
		return formula.Key{Word: cell.Text, Text: cell.Text}
	}
	b := in.bound(cell.Place, t.faults)
	if b == nil {
		return formula.Key{}
	}
	return formula.Key{Number: b.Value, Text: b.Text}
}
