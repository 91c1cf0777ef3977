package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// block is a calc block as it is being read and computed.
type block struct {
	reader  *reader
	sheet   *method.Sheet
	method  method.Method
	info    fault.Place // of the method's name
	named   fault.Place
	name    string
	broken  bool
	doubled bool // another block has its name: a figure may be meant that is not here

	rows, columns                      axis
	show                               fault.Place
	valueLines                         []line
	limitLines, figureLines, workLines []fault.Place
	claimLines                         []fault.Place
	orderLines                         []line
	chartLines                         []fault.Place
	empty                              []string // words after which nothing stands: told
	noSide                             bool     // rows or columns name no value: told
	unsure                             bool     // a line could not be read, so that a value may only seem to be missing

	fixed   method.Values             // the first case of every value
	cases   map[string][]method.Point // all cases of each
	results []*method.Result          // shown, in order
	limits  []*limit
	figures []*figureLine
	works   []picked
	orders  []order
	charts  []*chartLine
	limited bool // a value has limits
	claims  []*claim
	proved  []Claim

	askLines  []askLine
	asks      []*backward
	backwards bool // the table holds answers to its most and least lines only

	stood []*Standing // the standing figures among its values

	partly []*method.Input // typed values that are asked for at some points only
	points [][]*point      // [row][column of the axes]
	table  *Table
}

// readBlocks reads and computes every calc block, and sets a table in its
// place in the tree.
func (r *reader) readBlocks() {
	for _, f := range r.fences {
		if f.word.String() != calcWord {
			continue
		}
		b := &block{reader: r, cases: map[string][]method.Point{}, fixed: method.Values{}}
		if !b.open(f) {
			r.lost = true
			continue
		}
		lines, whole := r.lines(f)
		b.unsure, b.broken = !whole, !whole
		b.read(lines)
		if b.broken {
			continue
		}
		if b.compute(); !b.broken {
			b.checkOrders()
			b.checkClaims()
		}
		if b.broken {
			continue
		}
		b.fill(f)
		node := &TableNode{Table: b.table}
		node.SetPos(f.node.Pos())
		f.node.Parent().ReplaceChild(f.node.Parent(), f.node, node)
		r.guide.Tables = append(r.guide.Tables, b.table)
	}
}

// open finds the method that the block names.
func (b *block) open(f fence) bool {
	b.info = f.rest
	name := f.rest.String()
	if name == "" {
		b.reader.faults.Add(fault.At(f.info, "this block names no method").Want("calc and the name of a method").Fix("calc speaker-wire"))
		return false
	}
	m, ok := b.reader.kit.Library.Method(name)
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

// fault reports a fault of the block; one that stops breaks the block.
func (b *block) fault(f *fault.Fault) {
	if f == nil {
		return
	}
	b.reader.faults.Add(f)
	b.broken = b.broken || f.Grade == fault.Stop
}

func (b *block) join(l *fault.List) {
	for _, f := range l.All() {
		b.fault(f)
	}
}

// read reads the lines of the block, each part of them even where another is
// wrong, so that all faults are told at once.
func (b *block) read(lines []line) {
	b.readLines(lines)
	b.readName()
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

func (b *block) readName() {
	b.name = b.named.String()
	switch {
	case b.named.Text == nil:
		b.reader.lost = true
		if !slices.Contains(b.empty, "name") {
			b.fault(fault.At(b.info, "this block has no name").Fix("name: %s", suggestedName(b.sheet.Name)))
		}
		return
	case !isName(b.name):
		b.reader.lost = true
		b.fault(fault.At(b.named, "%q is no name for a block", b.name).Want("%s", nameShape))
		return
	}
	if b.name == standingBlock {
		b.fault(fault.At(b.named, "%q may not name a block: standing figures are called by it", b.name).Fix("another name"))
		return
	}
	if other := b.reader.blocks[b.name]; other != nil {
		line, _ := b.reader.text.Position(other.named.Start)
		b.fault(fault.At(b.named, "a block of this name stands in line %d already", line).Fix("another name"))
		other.doubled = true
		return
	}
	b.reader.blocks[b.name] = b
}

const nameShape = "letters, digits and -, beginning with a letter"

func suggestedName(method string) string { return "my-" + method }

// isName reports whether a text may name a block or a figure.
func isName(s string) bool {
	for i, c := range []byte(s) {
		letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
		if !letter && (i == 0 || (c != '-' && (c < '0' || c > '9'))) {
			return false
		}
	}
	return s != ""
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
