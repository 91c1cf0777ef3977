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

// Line returns the entry of a leaf whose guide is whole.
func (l *Leaf) Line() (Line, error) {
	said := sentences(l)
	one := &Ledger{Entries: []LedgerEntry{entry(l, said)}}
	one.setUses(said)
	line := Line{}
	for _, s := range said {
		for _, address := range s.figures {
			line.Uses = append(line.Uses, Use{address, s.where})
		}
	}
	var err error
	line.Text, err = lineText(one.Entries[0])
	return line, err
}

// lineText writes one line of the file of a ledger.
func lineText(entry any) ([]byte, error) {
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	if err := e.Encode(entry); err != nil {
		return nil, fmt.Errorf("writing the ledger: %w", err)
	}
	return out.Bytes(), nil
}

// WriteLedger writes the ledger of the book as [Ledger.Write] does, of the lines
// of its leaves.
func (b *Book) WriteLedger(w io.Writer, program string, line func(*Leaf) (Line, error)) error {
	head, err := lineText(LedgerHead{Format: LedgerFormat, Program: program, Title: b.Edition.Title, Date: b.Edition.Date})
	if err != nil {
		return err
	}
	if _, err := w.Write(head); err != nil {
		return err
	}
	abroad, err := b.usedAbroad(line)
	if err != nil {
		return err
	}
	leaves := slices.Clone(b.Leaves)
	slices.SortStableFunc(leaves, func(x, y *Leaf) int { return strings.Compare(x.Guide.Docket.Code, y.Guide.Docket.Code) })
	for _, l := range leaves {
		one, err := line(l)
		if err != nil {
			return err
		}
		if uses := abroad[l]; uses != nil {
			if one.Text, err = usedAt(one.Text, uses); err != nil {
				return err
			}
		}
		if _, err := w.Write(one.Text); err != nil {
			return err
		}
	}
	return nil
}

// usedAbroad returns, for each guide with a figure that another guide prints
// too, every use of its figures in the order of the book.
func (b *Book) usedAbroad(line func(*Leaf) (Line, error)) (map[*Leaf][]Use, error) {
	homes := b.homes()
	abroad := map[*Leaf][]Use{}
	all := map[*Leaf][]Use{}
	for _, l := range b.Leaves {
		one, err := line(l)
		if err != nil {
			return nil, err
		}
		for _, u := range one.Uses {
			for _, home := range homes(u.Address) {
				all[home] = append(all[home], u)
				if home != l {
					abroad[home] = nil
				}
			}
		}
	}
	for home := range abroad {
		abroad[home] = all[home]
	}
	return abroad, nil
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

// usedAt returns a line with the uses of its figures as they are in the book.
func usedAt(text []byte, uses []Use) ([]byte, error) {
	var e LedgerEntry
	if err := json.Unmarshal(text, &e); err != nil {
		return nil, fmt.Errorf("reading a line of the ledger again: %w", err)
	}
	figures := map[string]*LedgerFigure{}
	for i := range e.Figures {
		figures[e.Figures[i].Address] = &e.Figures[i]
	}
	for _, u := range uses {
		if f := figures[u.Address]; f != nil {
			f.Used = nil
		}
	}
	for _, u := range uses {
		if f := figures[u.Address]; f != nil && !slices.Contains(f.Used, u.Where) {
			f.Used = append(f.Used, u.Where)
		}
	}
	return lineText(e)
}
