package bind

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/site/guide"
)

// quotes finds the figures of other guides that each guide names. A quote of
// a block in which a fault stands is passed over: the fault is told already.
func quotes(leaves []*Leaf, faults *fault.List) {
	q := quoter{figures: map[string]*guide.Figure{}, tables: map[string]*guide.Table{}, blocks: map[string][]string{}, broken: map[string]bool{}, faults: faults}
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
			q.heed(l, quote)
		}
		gravestFirst(l.Cautions)
	}
	q.sweeps(leaves)
}

// heed brings the warnings of a quoted figure's table: whoever reads of the
// figure elsewhere must meet them too. A value that was only taken brings none.
func (q *quoter) heed(l *Leaf, quote guide.Quote) {
	t := q.tables[quote.Address]
	if t == nil || q.figures[quote.Address].Of != "" {
		return
	}
	for _, c := range q.cautions {
		if c.Signal != warning || !slices.Contains(t.Cautions, c.ID) {
			continue
		}
		here := *c
		here.Guards = quote.Place.Start
		at := slices.IndexFunc(l.Cautions, func(k *guide.Caution) bool { return k.ID == c.ID })
		switch {
		case at < 0:
			l.Cautions = append(l.Cautions, &here)
		case here.Guards < l.Cautions[at].Guards:
			l.Cautions[at] = &here
		}
	}
}

// warning is the signal of what can hurt people.
const warning = "WARNING"

func gravestFirst(cautions []*guide.Caution) {
	slices.SortStableFunc(cautions, func(x, y *guide.Caution) int {
		return slices.Index(method.Signals, x.Signal) - slices.Index(method.Signals, y.Signal)
	})
}

// sweeps tells of sweeping words beside figures of other guides whose blocks
// prove nothing, each word once.
func (q *quoter) sweeps(leaves []*Leaf) {
	for _, l := range leaves {
		told := map[fault.Place]bool{}
		for _, w := range l.Guide.Sweeps {
			f := q.figures[w.Address]
			if f == nil || !f.Sweepable() || told[w.Place] {
				continue
			}
			if t := q.tables[w.Address]; t != nil && !t.Proves(f) {
				told[w.Place] = true
				q.faults.Add(w.Unproved(t, f))
			}
		}
	}
}

type quoter struct {
	figures  map[string]*guide.Figure
	tables   map[string]*guide.Table // of the block of each figure
	blocks   map[string][]string     // names of the figures of each block
	cautions []*guide.Caution        // of all guides, in their order
	broken   map[string]bool
	lost     bool
	faults   *fault.List
}

func (q *quoter) know(g *guide.Guide) {
	q.lost = q.lost || g.Lost
	q.cautions = append(q.cautions, g.Cautions...)
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
		q.figures[address], q.tables[address] = f, tableOf(g, address)
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
