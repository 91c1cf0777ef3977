package guide

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// An order line says how a result goes along a side of the table: thicker wire
// must not lose more, and a ladder of equal steps must not skip one. It is held
// to the whole table; a method's own word of it is held to every table, too.

// order is what an order line says.
type order struct {
	word   string // rises, falls, ratios
	result *method.Result
	along  *axis
	at     fault.Place
	method bool // the method says so: equal neighbours are then allowed
}

// The words of order lines.
const (
	risesWord  = "rises"
	fallsWord  = "falls"
	ratiosWord = "ratios"
)

// orderLine keeps an order line.
func orderLine(b *block, l line) { b.orderLines = append(b.orderLines, l) }

// readOrders reads the order lines, and what the method says of its results.
func (b *block) readOrders() {
	for _, l := range b.orderLines {
		if o := b.readOrder(l); o != nil {
			b.orders = append(b.orders, *o)
		}
	}
	for _, m := range b.sheet.Moves {
		along := b.side(m.With)
		r := b.sheet.Result(m.Result)
		if m.Way != "neither" && along != nil && along.input.Choice == nil && along.input.Group == "" && slices.Contains(b.results, r) {
			b.orders = append(b.orders, order{word: m.Way, result: r, along: along, at: b.info, method: true})
		}
	}
}

// side returns the side of the table along which a value runs, nil for none.
func (b *block) side(name string) *axis {
	for _, a := range []*axis{&b.rows, &b.columns} {
		if a.input != nil && a.input.Name == name {
			return a
		}
	}
	return nil
}

func (b *block) readOrder(l line) *order {
	what, with, ok := strings.Cut(l.rest.String(), " with ")
	if !ok {
		b.fault(fault.At(l.rest, "this line does not say which result goes with which value").Want("a result with a value, such as loss with run"))
		return nil
	}
	name := l.rest.Sub(0, len(what)).Trim()
	value := l.rest.Sub(len(what)+len(" with "), len(what)+len(" with ")+len(with)).Trim()
	o := &order{word: l.word.String(), result: b.sheet.Result(name.String()), along: b.side(value.String()), at: l.rest}
	switch in := b.sheet.Input(value.String()); {
	case o.result == nil:
		b.fault(b.sheet.NoResult(name.String(), name))
	case o.result.Words != nil || o.result.Group != "":
		b.fault(fault.At(name, "%s is no number, and has no order", name).Want("a result that is one number"))
	case in == nil:
		b.fault(b.sheet.Unknown(value.String(), value))
	case in.Choice != nil || in.Group != "":
		b.fault(fault.At(value, "%s has no order", value).Want("a value that is one number"))
	case o.along == nil && b.noSide: // told already
	case o.along == nil:
		b.fault(fault.At(value, "the table does not run along %s", value).Want("rows: %s, or columns: %s, and several values of it", value, value))
	default:
		return o
	}
	return nil
}

// checkOrders holds every order to every row or column that runs along its
// value. Of each, the first place that breaks it is told.
func (b *block) checkOrders() {
	for _, o := range b.orders {
		lines := b.rowsAlong(o)
		if len(lines) == 0 && !o.method {
			b.fault(fault.At(o.at, "%s has too few figures along %s for this to be told", o.result.Label(), o.along.input.Label()).
				Want("at least %d", o.least()))
		}
		for _, cells := range lines {
			if f := o.broken(b, cells); f != nil {
				b.fault(f)
				break
			}
		}
	}
}

// ordered is one cell on the way along a side.
type ordered struct {
	at, value float64 // in base units
	point     string  // as printed
	outcome   *method.Outcome
}

// text is what a cell comes to, as it is printed.
func (o order) text(c ordered) string { return o.result.Text(c.outcome.Results.Of(o.result.Name)) }

// least is how many cells an order is about: neighbours, or two steps.
func (o order) least() int {
	if o.word == ratiosWord {
		return 3
	}
	return 2
}

// rowsAlong returns the known cells of an order's result along its side, by
// rising value of the side, once for each point of the other side that has
// enough of them.
func (b *block) rowsAlong(o order) [][]ordered {
	a, r := o.along, o.result
	lines := make([][]ordered, max(1, len(b.rows.points), len(b.columns.points)))
	room := make([]ordered, len(lines)*len(a.points))
	b.eachPoint(func(row, column int) {
		along, across := row, column
		if a == &b.columns {
			along, across = column, row
		}
		outcome := b.points[row][column].outcome
		v := outcome.Results.Of(r.Name)
		p := a.points[along]
		if v.State == formula.Known && p.Known() {
			if lines[across] == nil {
				lines[across], room = room[:0:len(a.points)], room[len(a.points):]
			}
			lines[across] = append(lines[across], ordered{at: p.Value.Number, value: v.Number, point: p.Text, outcome: outcome})
		}
	})
	all := lines[:0]
	for _, cells := range lines {
		if len(cells) >= o.least() {
			slices.SortFunc(cells, func(x, y ordered) int { return cmp.Compare(x.at, y.at) })
			all = append(all, cells)
		}
	}
	return all
}

// lastPlace is half of one in the last printed place of a value: what is looked
// up in a table of as many digits may be off by so much.
func lastPlace(f unit.Format, v float64) float64 {
	if v == 0 {
		return 0
	}
	places := f.Places
	if f.Figures > 0 {
		places = f.Figures - 1 - int(math.Floor(math.Log10(math.Abs(f.Unit.FromBase(v)))+1e-9))
	}
	return math.Abs(f.Unit.Step().ToBase(math.Pow(10, -float64(places)))) / 2
}

func (o order) broken(b *block, cells []ordered) *fault.Fault {
	if o.word == ratiosWord {
		return o.unequal(cells)
	}
	for i, c := range cells[1:] {
		before := cells[i]
		rise := c.value - before.value
		if o.word == fallsWord {
			rise = -rise
		}
		same := math.Abs(rise) <= sameWithin*math.Max(math.Abs(c.value), math.Abs(before.value))
		if same && o.method || rise > 0 && !same {
			continue
		}
		who := o.result.Label()
		if o.method {
			who = b.sheet.Name + " says that " + who + " " + o.word + " with " + o.along.input.Label() + ", and it"
		}
		return fault.At(o.at, "%s does not %s: at %s it is %s, and at %s %s", who, strings.TrimSuffix(o.word, "s"), before.point, o.text(before), c.point, o.text(c)).
			Want("one that %s with %s all along the table", o.word, o.along.input.Label())
	}
	return nil
}

// sameWithin is how near two values must be, relative to the larger, to count
// as the same, as everywhere in the language.
const sameWithin = 1e-9

// unequal finds two steps whose ratios differ for the same length of step, as
// far as the printed digits can tell.
func (o order) unequal(cells []ordered) *fault.Fault {
	type rate struct{ lo, hi float64 }
	rateOf := func(i int) rate {
		x, y := cells[i], cells[i+1]
		offX, offY := lastPlace(o.result.Format, x.value), lastPlace(o.result.Format, y.value)
		span := y.at - x.at
		lo := math.Log(max(0, y.value-offY)/(x.value+offX)) / span
		hi := math.Log((y.value+offY)/max(0, x.value-offX)) / span
		return rate{lo, hi}
	}
	for i, c := range cells {
		if c.value <= 0 {
			return fault.At(o.at, "%s is %s at %s, and has no ratio there", o.result.Label(), o.text(c), c.point).Want("values above nothing")
		}
		if i < 2 {
			continue
		}
		first, last := rateOf(i-2), rateOf(i-1)
		if first.hi < last.lo || last.hi < first.lo {
			x, y, z := cells[i-2], cells[i-1], c
			return fault.At(o.at, "equal steps of %s do not give equal ratios of %s: %s at %s, %s at %s, %s at %s",
				o.along.input.Label(), o.result.Label(), o.text(x), x.point, o.text(y), y.point, o.text(z), z.point).
				Want("the same ratio for each step, wherever in the table it is")
		}
	}
	return nil
}
