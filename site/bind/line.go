package bind

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"bindpost/site/guide"
)

// Line is the entry of one guide as it stands in the file of a ledger, made of
// the guide alone: places in other guides that print its figures are put in when
// the ledger is written.
type Line struct {
	Text []byte // ends with a newline
	Uses []Use  // the figures that the guide's sentences print, in their order
}

// Use is a place that prints a figure.
type Use struct{ Address, Where string }

// Line returns the entry of a leaf whose guide is whole, in a room that is free;
// nil for none.
func (l *Leaf) Line(room []byte) Line {
	said := sentences(l)
	e := entry(l, said)
	line := Line{Uses: make([]Use, 0, uses(said))}
	for _, s := range said {
		for _, address := range s.figures {
			line.Uses = append(line.Uses, Use{strings.Clone(address), strings.Clone(s.where)}) // cut out of the guide, they would hold its text
			for i, _ := e.find(address); i < len(e.Figures) && e.Figures[i].Address == address; i++ {
				e.Figures[i].use(s.where)
			}
		}
	}
	line.Text = appendEntry(room[:0], &e)
	return line
}

// uses returns how many figures some sentences print.
func uses(said []sentence) int {
	n := 0
	for _, s := range said {
		n += len(s.figures)
	}
	return n
}

// find returns where the first figure of an address stands in an entry.
func (e *LedgerEntry) find(address string) (int, bool) {
	return slices.BinarySearchFunc(e.Figures, address, func(f LedgerFigure, address string) int { return strings.Compare(f.Address, address) })
}

// use notes a place that prints the figure.
func (f *LedgerFigure) use(where string) {
	if !slices.Contains(f.Used, where) {
		f.Used = append(f.Used, where)
	}
}

// headText writes the first line of the file of a ledger.
func headText(h LedgerHead) ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	if err := e.Encode(h); err != nil {
		return nil, fmt.Errorf("writing the ledger: %w", err)
	}
	return out.Bytes(), nil
}

// WriteLedger writes the ledger of the book as [Ledger.Write] does, of the lines
// of its leaves. Their texts are asked for one after another, and what they use
// before that.
func (b *Book) WriteLedger(w io.Writer, program string, uses func(*Leaf) ([]Use, error), text func(*Leaf) ([]byte, error)) error {
	head, err := headText(LedgerHead{Format: LedgerFormat, Program: program, Title: b.Edition.Title, Date: b.Edition.Date})
	if err != nil {
		return err
	}
	if _, err := w.Write(head); err != nil {
		return err
	}
	abroad, err := b.usedAbroad(uses)
	if err != nil {
		return err
	}
	leaves := slices.Clone(b.Leaves)
	slices.SortStableFunc(leaves, func(x, y *Leaf) int { return strings.Compare(x.Guide.Docket.Code, y.Guide.Docket.Code) })
	for _, l := range leaves {
		line, err := text(l)
		for _, a := range abroad[l] {
			if err == nil {
				line, err = a.in(line)
			}
		}
		if err == nil {
			_, err = w.Write(line)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// abroad is a figure that another guide than its own prints too.
type abroad struct {
	address string
	where   []string // every place that prints it, in the order of the book, each once
}

// usedAbroad returns, for each guide, those of its figures that another guide
// prints too.
func (b *Book) usedAbroad(uses func(*Leaf) ([]Use, error)) (map[*Leaf][]*abroad, error) {
	homes, all := b.homes(), make([][]Use, len(b.Leaves))
	found, of := map[string]*abroad{}, map[*Leaf][]*abroad{}
	for i, l := range b.Leaves {
		var err error
		if all[i], err = uses(l); err != nil {
			return nil, err
		}
		for _, u := range all[i] {
			at := homes(u.Address)
			if found[u.Address] != nil || !slices.ContainsFunc(at, func(home *Leaf) bool { return home != l }) {
				continue
			}
			a := &abroad{address: u.Address}
			found[u.Address] = a
			for _, home := range at {
				of[home] = append(of[home], a)
			}
		}
	}
	for _, used := range all {
		for _, u := range used {
			if a := found[u.Address]; a != nil && !slices.Contains(a.where, u.Where) {
				a.where = append(a.where, u.Where)
			}
		}
	}
	return of, nil
}

// homes returns a function that finds the guides in whose entries a figure
// stands: that of its block, or all that use it where it is a standing one.
func (b *Book) homes() func(address string) []*Leaf {
	leaves := map[*guide.Guide]*Leaf{}
	standing := map[string][]*Leaf{}
	for _, l := range b.Leaves {
		leaves[l.Guide] = l
		for _, s := range l.Guide.Standing {
			standing[s.Source.ID] = append(standing[s.Source.ID], l)
		}
	}
	return func(address string) []*Leaf {
		if from, known := b.quoter.figures[address]; known {
			if l := leaves[from.guide]; l != nil {
				return []*Leaf{l}
			}
		}
		return standing[address]
	}
}

// in returns the line of a guide with the uses of the figure as they are in the
// book, behind the table that it stands in. A quote in a text of the line is
// escaped, so that no text can be taken for the head of a figure.
func (a *abroad) in(line []byte) ([]byte, error) {
	head := append(appendField([]byte{'{'}, "address", a.address), ',')
	for from := 0; ; {
		at := bytes.Index(line[from:], head)
		if at < 0 {
			return line, nil
		}
		from += at
		var f LedgerFigure
		d := json.NewDecoder(bytes.NewReader(line[from:]))
		if err := d.Decode(&f); err != nil {
			return nil, fmt.Errorf("reading a line of the ledger again: %w", err)
		}
		f.Used = slices.DeleteFunc(f.Used, func(where string) bool { return slices.Contains(a.where, where) })
		f.Used = append(f.Used, a.where...)
		now := appendFigure(nil, &f)
		line = slices.Concat(line[:from], now, line[from+int(d.InputOffset()):])
		from += len(now)
	}
}
