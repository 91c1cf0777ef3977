package guide

import (
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// block is a calc block as it is being read and computed.
type block struct {
	reader *reader
	sheet  *method.Sheet
	method method.Method
	info   fault.Place // of the method's name
	named  fault.Place
	name   string
	broken bool

	rows, columns                      axis
	show                               fault.Place
	valueLines                         []line
	limitLines, figureLines, workLines []fault.Place
	empty                              []string // words after which nothing stands: reported
	unsure                             bool     // a line could not be read, so that a value may only seem to be missing

	fixed   method.Values             // the first case of every value
	cases   map[string][]method.Point // all cases of each
	results []*method.Result          // shown, in order
	limits  []*limit
	figures []*figureLine
	works   []*workLine

	points [][]*point // [row][column of the axes]
	table  *Table
}

// axis is a value along which the table runs.
type axis struct {
	named  fault.Place
	input  *method.Input
	points []method.Point
}

// readBlocks reads and computes every calc block, and sets a table in its
// place in the tree.
func (r *reader) readBlocks() {
	for _, f := range r.fences("calc") {
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
		if b.compute(); b.broken {
			continue
		}
		b.fill(f)
		node := &TableNode{Table: b.table}
		f.Parent().ReplaceChild(f.Parent(), f, node)
		r.guide.Tables = append(r.guide.Tables, b.table)
	}
}

// open finds the method that the block names.
func (b *block) open(f *ast.FencedCodeBlock) bool {
	info := b.reader.info(f)
	word, rest, _ := strings.Cut(info.String(), " ")
	at := info.Sub(len(word), len(info.String())).Trim()
	b.info = at
	if rest == "" {
		b.reader.faults.Add(fault.At(info, "this block names no method").Want("calc and the name of a method").Fix("calc speaker-wire"))
		return false
	}
	m, ok := b.reader.kit.Library.Method(at.String())
	if !ok {
		b.reader.faults.Add(b.reader.kit.Library.NoMethod(at.String(), at))
		return false
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
	if !b.unsure {
		b.join(b.sheet.Check(b.fixed, b.info))
	}
	b.readAxis(&b.rows, "rows")
	b.readAxis(&b.columns, "columns")
	b.readShow()
	b.readLimits()
	b.readFigures()
	b.readWorks()
	b.checkSweeps()
	b.checkSize()
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
		b.fault(fault.At(b.named, "%q is no name for a block", b.name).Want("small letters, digits and -, beginning with a letter"))
		return
	}
	if other := b.reader.blocks[b.name]; other != nil {
		line, _ := b.reader.text.Position(other.named.Start)
		b.fault(fault.At(b.named, "a block of this name stands in line %d already", line).Fix("another name"))
		return
	}
	b.reader.blocks[b.name] = b
}

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
		points, faults := in.ReadSweep(l.rest)
		b.join(faults)
		if len(points) == 0 || faults.Stopped() {
			b.unsure = true
			continue
		}
		b.cases[in.Name] = points
		b.fixed[in.Name] = points[0]
	}
}

// readAxis finds the value along which the table runs.
func (b *block) readAxis(a *axis, word string) {
	if a.named.Text == nil {
		return
	}
	name := a.named.String()
	a.input = b.sheet.Input(name)
	switch {
	case a.input == nil:
		b.fault(b.sheet.Unknown(name, a.named))
	case b.typed(name) == nil:
		b.fault(fault.At(a.named, "%s run along %s, which has no value in this block", word, name).
			Want("a line for it").Fix("%s", a.input.Sample(": ")))
	case len(b.cases[name]) == 1:
		b.fault(fault.At(a.named, "%s run along %s, which has one value only", word, name).
			Want("several, such as 3 m to 15 m by 3 m").Fix("take this line out, or give %s more values", name))
	}
	a.points = b.cases[name]
	if word == "columns" && b.rows.input != nil && a.input == b.rows.input {
		b.fault(fault.At(a.named, "rows and columns both run along %s", name).Fix("name another value, or take one line out"))
	}
}

// typed returns the line of a value, nil where there is none.
func (b *block) typed(name string) *line {
	for i := range b.valueLines {
		if b.valueLines[i].word.String() == name {
			return &b.valueLines[i]
		}
	}
	return nil
}

// checkSweeps sees that every value with several cases runs along a side of
// the table.
func (b *block) checkSweeps() {
	for _, l := range b.valueLines {
		name := l.word.String()
		if len(b.cases[name]) < 2 || b.rows.named.String() == name || b.columns.named.String() == name {
			continue
		}
		b.fault(fault.At(l.word, "%s has %d values, and the table does not run along it", name, len(b.cases[name])).
			Want("rows: %s, or columns: %s, or one value", name, name))
	}
}

// mostCells is the largest table that is computed: more than any printed page
// holds.
const mostCells = 2000

func (b *block) checkSize() {
	cells := max(1, len(b.rows.points)) * max(1, len(b.columns.points)) * max(1, len(b.results))
	if cells > mostCells {
		at := b.named
		if b.rows.named.Text != nil {
			at = b.rows.named
		}
		b.fault(fault.At(at, "this table would have %d cells", cells).Want("at most %d", mostCells).Fix("fewer values, or a longer step"))
	}
}

// readShow finds the results that the table prints. Without a show line it
// prints all that the method gives.
func (b *block) readShow() {
	if b.show.Text == nil {
		b.results = b.sheet.Gives
	} else {
		for _, p := range parted(b.show) {
			b.shown(p)
		}
	}
	if b.columns.named.Text != nil && len(b.results) > 1 {
		at := b.show
		if at.Text == nil {
			at = b.columns.named
		}
		b.fault(fault.At(at, "this table has columns, and would show %s results in each cell", strconv.Itoa(len(b.results))).
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
