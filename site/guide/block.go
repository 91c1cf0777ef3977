package guide

import (
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// block is a calc block as it is being read and computed.
type block struct {
	label  // its info is the method's name
	sheet  *method.Sheet
	method method.Method

	rows, columns                      axis
	show                               fault.Place
	caption                            fault.Place
	valueLines                         []line
	limitLines, figureLines, workLines []fault.Place
	claimLines                         []fault.Place
	orderLines                         []line
	chartLines                         []fault.Place
	noSide                             bool // rows or columns name no value: told
	unsure                             bool // a line could not be read, so that a value may only seem to be missing

	fixed   method.Values             // the first case of every value
	cases   map[string][]method.Point // all cases of each
	results []*method.Result          // shown, in order
	limits  []*limit
	figures []*figureLine
	works   []picked
	orders  []order
	charts  []*chartLine
	limited bool // a value has limits
	matters []mattering
	claims  []*claim
	proved  []Claim

	askLines  []askLine
	asks      []*backward
	backwards bool // the table holds answers to its most and least lines only

	stood []*Standing // the standing figures among its values

	agree  bool            // its values go together at every point, and are asked for at all or none
	scoped *formula.Scope  // what its conditions may name, once one asks
	partly []*method.Input // typed values that are asked for at some points only
	points [][]*point      // [row][column of the axes]
	table  *Table

	addresses strings.Builder // of its cells; those written stay when it begins anew
}

// readBlocks reads every block that prints a table, and sets the table in its
// place in the tree.
func (r *reader) readBlocks() {
	for _, f := range r.fences {
		var node *TableNode
		switch f.word.String() {
		case calcWord:
			node = r.computed(f)
		case decideWord:
			node = r.decided(f)
		case hookupWord:
			node = r.hooked(f)
		}
		if node == nil {
			continue
		}
		if code := r.guide.Docket.Code; code != "" {
			node.Table.Number = code + r.nextNumber(node.Table)
		}
		node.SetPos(f.node.Pos())
		f.node.Parent().ReplaceChild(f.node.Parent(), f.node, node)
		r.guide.Tables = append(r.guide.Tables, node.Table)
	}
}

// nextNumber numbers a table behind the tables before it, and a drawing behind
// the drawings.
func (r *reader) nextNumber(t *Table) string {
	letter, before := "-T", 1
	if t.Hookup != nil {
		letter = "-D"
	}
	for _, other := range r.guide.Tables {
		if (other.Hookup != nil) == (t.Hookup != nil) {
			before++
		}
	}
	return letter + strconv.Itoa(before)
}

// computed reads and computes a calc block; nil where a fault stands in it.
func (r *reader) computed(f fence) *TableNode {
	b := &block{label: label{reader: r}, cases: map[string][]method.Point{}, fixed: method.Values{}}
	b.label.noFigure = b.noFigure
	if !b.open(f) {
		r.lost = true
		return nil
	}
	lines, whole := r.lines(f)
	b.unsure, b.broken = !whole, !whole
	b.read(lines)
	if b.broken {
		return nil
	}
	if b.compute(); !b.broken {
		b.checkOrders()
		b.checkClaims()
	}
	if b.broken {
		return nil
	}
	b.fill(f)
	return &TableNode{Table: b.table}
}

// open finds the method that the block names.
func (b *block) open(f fence) bool {
	b.info = f.rest
	name := f.rest.String()
	if name == "" {
		b.reader.faults.Add(fault.At(f.info, "this block names no method").Want("calc and the name of a method").Fix("calc speaker-wire"))
		return false
	}
	m, ok := b.reader.method(name)
	if !ok {
		b.reader.faults.Add(b.reader.kit.Library.NoMethod(name, f.rest))
		return false
	}
	if b.reader.kit.Library.Broken(name) {
		return false // which was told where the method stands
	}
	b.method, b.sheet = m, m.Sheet()
	return true
}

// read reads the lines of the block, each part of them even where another is
// wrong, so that all faults are told at once.
func (b *block) read(lines []line) {
	b.readLines(lines)
	b.readName("my-" + b.sheet.Name)
	b.readCaption()
	b.readValues()
	b.readAxis(&b.rows, "rows")
	b.readAxis(&b.columns, "columns")
	b.readAsks()
	b.readShow()
	b.readLimits()
	b.readClaims()
	b.readOrders()
	b.readCharts()
	b.readFigures()
	b.readWorks()
	b.checkLimited()
	b.checkSweeps()
	if b.checkSize() && !b.unsure {
		b.checkPoints()
	}
}

// readValues reads the values, and the cases of those that have several.
func (b *block) readValues() {
	for _, l := range b.valueLines {
		in := b.sheet.Input(l.word.String())
		points, faults := b.readCases(in, l.rest)
		b.join(faults)
		if len(points) == 0 || faults.Stopped() {
			b.unsure = true
			continue
		}
		b.join(doubles(in, points))
		b.cases[in.Name] = points
		b.fixed[in.Name] = points[0]
	}
}

func (b *block) readCases(in *method.Input, p fault.Place) ([]method.Point, *fault.List) {
	if holdsFigure(p) {
		return b.readHanded(in, p)
	}
	return in.ReadSweep(p)
}

// doubles finds the cases of a value that stand more than once: two rows of a
// table would be the same.
func doubles(in *method.Input, points []method.Point) *fault.List {
	faults := &fault.List{}
	for n, p := range points {
		same := func(q method.Point) bool {
			number := p.Value.List == nil && p.Value.Word == "" && q.Value.List == nil && q.Value.Word == ""
			return p.Text == q.Text || number && p.Known() && q.Known() && p.Value.Number == q.Value.Number
		}
		if slices.ContainsFunc(points[:n], same) {
			faults.Add(fault.At(p.Place, "%s is %s twice", in.Name, p.Text).Fix("take one of the two out"))
		}
	}
	return faults
}

// mostCells is the largest table that is computed: more than any printed page
// holds.
const mostCells = 2000

// mostColumns is how many columns of figures a sheet holds: with twelve the
// browser sets the sheet smaller and prints all of them, with twenty it cuts
// the last ones off without a word.
const mostColumns = 12

// checkSize refuses a table that is too large, before anything is computed.
func (b *block) checkSize() bool {
	cells := max(1, len(b.rows.points)) * max(1, len(b.columns.points)) * max(1, len(b.results))
	if cells <= mostCells {
		return b.fitsAcross()
	}
	at := b.info
	if b.rows.named.Text != nil {
		at = b.rows.named
	}
	b.fault(fault.At(at, "this table would have %d cells", cells).Want("at most %d", mostCells).Fix("fewer values, or a longer step"))
	return false
}

// fitsAcross sees that no sheet of paper cuts columns off.
func (b *block) fitsAcross() bool {
	if across := len(b.columns.points); across > mostColumns {
		b.fault(fault.At(b.columns.named, "this table would have %d columns beside its heads, and a sheet of paper cuts them off", across).
			Want("at most %d", mostColumns).Fix("let %s run down the rows, or give it fewer values", b.columns.named))
		return false
	}
	return true
}

// readShow finds the results that the table prints. Without a show line it
// prints all that the method gives.
func (b *block) readShow() {
	if b.backwards {
		return
	}
	if b.show.Text == nil {
		b.results = b.sheet.Gives
	} else {
		for _, p := range parted(b.show) {
			b.shown(p)
		}
	}
	if b.columns.named.Text == nil {
		return
	}
	at := b.show
	if at.Text == nil {
		at = b.columns.named
	}
	switch {
	case len(b.sheet.Gives) == 0:
		b.fault(fault.At(at, "%s gives a verdict and no figure that could stand in columns", b.sheet.Name).Want("rows"))
	case len(b.results) > 1:
		b.fault(fault.At(at, "this table has columns, and would show %d results in each cell", len(b.results)).
			Want("one result").Fix("show: %s", b.results[0].Name))
	}
}

func (b *block) shown(p fault.Place) {
	res := b.sheet.Result(p.String())
	switch {
	case res == nil:
		b.fault(b.sheet.NoResult(p.String(), p))
	case slices.Contains(b.results, res):
		b.fault(fault.At(p, "%s is shown twice", p).Fix("take one of the two out"))
	default:
		b.results = append(b.results, res)
	}
}

// parted parts a place at its commas.
func parted(p fault.Place) []fault.Place {
	var parts []fault.Place
	s, at := p.String(), 0
	for {
		i := strings.IndexByte(s[at:], ',')
		if i < 0 {
			return append(parts, p.Sub(at, len(s)).Trim())
		}
		parts = append(parts, p.Sub(at, at+i).Trim())
		at += i + 1
	}
}
