package bind

import (
	"bytes"
	"cmp"
	"slices"
	"strings"
	"sync"

	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// Ledger is the record of what a press printed: guide by guide every figure
// with its address and the places that use it, every verdict and caution, and
// the sentences that hold figures. It is kept between presses and is no part
// of the manual.
type Ledger struct {
	Head    LedgerHead
	Entries []LedgerEntry // in the order of codes
}

// LedgerHead opens the file of a ledger.
type LedgerHead struct {
	Format  int    `json:"format"`
	Program string `json:"program"`
	Title   string `json:"title"`
	Date    string `json:"date"` // of the edition
}

// LedgerFormat is the format of ledgers that this program writes and reads.
const LedgerFormat = 1

// LedgerEntry is one guide.
type LedgerEntry struct {
	Code      string           `json:"code"`
	File      string           `json:"file"`
	Hash      string           `json:"hash"` // of everything the guide was made from
	Figures   []LedgerFigure   `json:"figures,omitempty"`
	Verdicts  []LedgerVerdict  `json:"verdicts,omitempty"`
	Cautions  []string         `json:"cautions,omitempty"`
	Sentences []LedgerSentence `json:"sentences,omitempty"`
}

// LedgerFigure is a cell of a table, or a figure that a block names.
type LedgerFigure struct {
	Address string   `json:"address"`
	Value   string   `json:"value,omitempty"` // in base units to twelve figures, or a word; "" where there is none
	Unit    string   `json:"unit,omitempty"`  // in which it is printed
	Text    string   `json:"text"`            // as it is printed, with its unit, or why there is none
	Method  string   `json:"method,omitempty"`
	Rule    string   `json:"rule,omitempty"` // hash of the method
	Used    []string `json:"used,omitempty"` // the codes of the tables, sections and answers that print it
}

// LedgerVerdict is the worst verdict of a table under one name.
type LedgerVerdict struct {
	Table string `json:"table"`
	Name  string `json:"name"`
	Grade string `json:"grade"`
	Words string `json:"words"`
}

// LedgerSentence is a sentence that holds figures: as it was written, with
// their addresses, and as it is printed.
type LedgerSentence struct {
	Where string `json:"where"` // the code of the section, or of the guide for its short answer
	Form  string `json:"form"`
	Text  string `json:"text"`
}

// Ledger returns the record of the book.
func (b *Book) Ledger(program string) *Ledger {
	l := &Ledger{Head: LedgerHead{Format: LedgerFormat, Program: program, Title: b.Edition.Title, Date: b.Edition.Date}}
	var found []sentence
	for _, leaf := range b.Leaves {
		said := sentences(leaf)
		l.Entries = append(l.Entries, entry(leaf, said))
		found = append(found, said...)
	}
	l.setUses(found)
	slices.SortFunc(l.Entries, func(x, y LedgerEntry) int { return strings.Compare(x.Code, y.Code) })
	return l
}

func entry(l *Leaf, said []sentence) LedgerEntry {
	g := l.Guide
	e := LedgerEntry{Code: g.Docket.Code, File: g.File, Hash: g.Hash, Figures: entryFigures(g)}
	for _, t := range g.Tables {
		for _, v := range t.Verdicts {
			e.Verdicts = append(e.Verdicts, LedgerVerdict{Table: t.Number, Name: v.Name, Grade: v.Grade, Words: v.Words})
		}
	}
	for _, c := range l.Cautions {
		e.Cautions = append(e.Cautions, c.ID)
	}
	for _, s := range said {
		e.Sentences = append(e.Sentences, LedgerSentence{Where: s.where, Form: s.form, Text: s.text})
	}
	return e
}

// entryFigures returns the figures of a guide by their addresses. Where a named
// figure has the address of a cell, the cell comes first.
func entryFigures(g *guide.Guide) []LedgerFigure {
	room := figureRooms.Get().(*[]LedgerFigure)
	defer figureRooms.Put(room)
	all := (*room)[:0]
	for _, t := range g.Tables {
		all = appendCells(all, t)
	}
	for address, f := range g.Figures {
		entry := LedgerFigure{Address: address, Value: guide.KeptValue(f.Value), Unit: f.Unit.Symbol(), Text: withUnit(f.Number, f.Unit, f.Why)}
		if t := tableOf(g, address); t != nil {
			entry.Method, entry.Rule = t.Method, t.Rule
		}
		all = append(all, entry)
	}
	for _, s := range g.Standing {
		all = append(all, LedgerFigure{
			Address: s.Source.ID, Value: guide.KeptValue(s.Point.Value), Unit: s.Point.Unit.Symbol(), Text: s.Point.Text,
		})
	}
	sorted := byAddress(all)
	clear(all)
	*room = all
	return sorted
}

// figureRooms keeps the room in which the figures of guides were gathered.
var figureRooms = sync.Pool{New: func() any { return new([]LedgerFigure) }}

// byAddress returns figures in the order of their addresses. They are large, so
// that their places are sorted, and each is moved once.
func byAddress(all []LedgerFigure) []LedgerFigure {
	places := make([]int, len(all))
	for i := range places {
		places[i] = i
	}
	slices.SortFunc(places, func(x, y int) int { return cmp.Or(strings.Compare(all[x].Address, all[y].Address), x-y) })
	sorted := make([]LedgerFigure, len(all))
	for i, at := range places {
		sorted[i] = all[at]
	}
	return sorted
}

// appendCells appends the cells of a table, each as used in it.
func appendCells(all []LedgerFigure, t *guide.Table) []LedgerFigure {
	used := []string{t.Number}
	add := func(c guide.Cell, u unit.Unit) {
		all = append(all, LedgerFigure{
			Address: c.Address, Value: guide.KeptValue(c.Value), Unit: u.Symbol(), Text: withUnit(c.Number, u, c.Why),
			Method: t.Method, Rule: t.Rule, Used: used[:1:1],
		})
	}
	for _, row := range t.Cells {
		for j, c := range row {
			add(c, t.Shown(j).Unit)
		}
	}
	for _, s := range t.Beside {
		for _, c := range s.Cells {
			add(c, s.Unit)
		}
	}
	return all
}

func tableOf(g *guide.Guide, address string) *guide.Table {
	block, _, _ := strings.Cut(address, ".")
	for _, t := range g.Tables {
		if t.Name == block {
			return t
		}
	}
	return nil
}

func withUnit(number string, u unit.Unit, why string) string {
	switch {
	case number == "":
		return why
	case u.Symbol() == "":
		return number
	}
	return number + " " + u.Symbol()
}

// setUses notes where sentences print figures. A standing figure stands under
// every guide that uses it, each time with all its uses.
func (l *Ledger) setUses(found []sentence) {
	figures := map[string][]*LedgerFigure{}
	for i := range l.Entries {
		for j := range l.Entries[i].Figures {
			f := &l.Entries[i].Figures[j]
			figures[f.Address] = append(figures[f.Address], f)
		}
	}
	for _, s := range found {
		for _, address := range s.figures {
			for _, f := range figures[address] {
				f.use(s.where)
			}
		}
	}
}

// Write writes the ledger, a line for its head and one for each guide.
func (l *Ledger) Write() []byte {
	out, err := headText(l.Head)
	if err != nil {
		panic("bind: a ledger cannot be written: " + err.Error()) // its head holds only texts
	}
	for i := range l.Entries {
		out = appendEntry(out, &l.Entries[i])
	}
	return out
}

// ReadLedger reads what [Ledger.Write] wrote. Another format is an error, and
// so is a file that is not whole.
func ReadLedger(data []byte) (*Ledger, error) {
	lines := newLedgerLines(bytes.NewReader(data))
	l := &Ledger{}
	var err error
	if l.Head, err = lines.head(); err != nil {
		return nil, err
	}
	for line, is := lines.next(); is; line, is = lines.next() {
		if err := l.take(line, lines.number); err != nil {
			return nil, err
		}
	}
	return l, lines.Err()
}
