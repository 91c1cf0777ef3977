package bind

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/site/guide"
)

// quotes finds the figures of other guides that each guide names. A quote of
// a block in which a fault stands is passed over: the fault is told already.
func quotes(leaves []*Leaf, faults *fault.List) {
	q := quoter{figures: map[string]*guide.Figure{}, blocks: map[string][]string{}, broken: map[string]bool{}, faults: faults}
	for _, l := range leaves {
		q.know(l.Guide)
	}
	for _, l := range leaves {
		for _, quote := range l.Guide.Quotes {
			f := q.figures[quote.Address]
			if f == nil {
				q.missing(quote)
				continue
			}
			if l.Quoted == nil {
				l.Quoted = map[string]*guide.Figure{}
			}
			l.Quoted[quote.Address] = f
		}
	}
}

type quoter struct {
	figures map[string]*guide.Figure
	blocks  map[string][]string // names of the figures of each block
	broken  map[string]bool
	lost    bool
	faults  *fault.List
}

func (q *quoter) know(g *guide.Guide) {
	q.lost = q.lost || g.Lost
	for _, name := range g.Broken {
		q.broken[name] = true
	}
	for _, t := range g.Tables {
		if _, known := q.blocks[t.Name]; !known {
			q.blocks[t.Name] = nil
		}
	}
	for address, f := range g.Figures {
		block, name, _ := strings.Cut(address, ".")
		q.figures[address] = f
		q.blocks[block] = append(q.blocks[block], name)
	}
}

func (q *quoter) missing(quote guide.Quote) {
	block, name, _ := strings.Cut(quote.Address, ".")
	names, known := q.blocks[block]
	switch {
	case q.broken[block]:
	case known:
		slices.Sort(names)
		f := fault.At(quote.Place, "the block %q names no figure %q", block, name)
		if len(names) == 0 {
			f.Want("a figure line in the block")
		} else {
			f.Want("one of: %s; or a figure line in the block", strings.Join(names, ", "))
		}
		if near := fault.Near(name, names); near != "" {
			f.Fix("<figure:%s.%s>", block, near)
		}
		q.faults.Add(f)
	case !q.lost:
		f := fault.At(quote.Place, "there is no block %q in the copy", block).Want("the name of a block, or standing for a standing figure")
		var all []string
		for b := range q.blocks {
			all = append(all, b)
		}
		slices.Sort(all)
		if near := fault.Near(block, all); near != "" {
			f.Fix("<figure:%s.%s>", near, name)
		}
		q.faults.Add(f)
	}
}
