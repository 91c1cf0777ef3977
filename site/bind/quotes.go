package bind

import (
	"slices"
	"strings"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/site/guide"
)

// quote finds the figures of other guides that a leaf names. A quote of a block
// in which a fault stands is passed over: the fault is told already.
func (q *quoter) quote(l *Leaf) {
	q.find(l, q.missing)
	q.sweeps(l)
}

// find takes into a leaf the figures of other guides that it names, and hands on
// those that are not known. It returns how many are.
func (q *quoter) find(l *Leaf, missing func(guide.Quote)) int {
	found := 0
	for _, quote := range l.Guide.Quotes {
		from, known := q.figures[quote.Address]
		if !known {
			missing(quote)
			continue
		}
		if l.Quoted == nil {
			l.Quoted = map[string]*guide.Figure{}
		}
		l.Quoted[quote.Address] = from.figure
		from.heed(l, quote)
		found++
	}
	gravestFirst(l.Cautions)
	return found
}

// quotable is a figure with the guide and the table that it comes from.
type quotable struct {
	figure *guide.Figure
	table  *guide.Table
	guide  *guide.Guide
}

// heed brings the warnings of a quoted figure's table: whoever reads of the
// figure elsewhere must meet them too. A value that was only taken brings none.
func (from quotable) heed(l *Leaf, quote guide.Quote) {
	if from.table == nil || from.figure.Of != "" {
		return
	}
	for _, c := range from.guide.Cautions {
		if c.Signal != warning || !slices.Contains(from.table.Cautions, c.ID) {
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
func (q *quoter) sweeps(l *Leaf) {
	told := map[fault.Place]bool{}
	for _, w := range l.Guide.Sweeps {
		from, known := q.figures[w.Address]
		if !known || !from.figure.Sweepable() || told[w.Place] {
			continue
		}
		if from.table != nil && !from.table.Proves(from.figure) {
			told[w.Place] = true
			q.faults.Add(w.Unproved(from.table, from.figure))
		}
	}
}

// quoter knows the figures of all guides.
type quoter struct {
	making  sync.RWMutex        // over the figures, while guides are made, see Book.Made
	figures map[string]quotable // by address
	leaves  []*Leaf
	blocks  map[string][]string // names of the figures of each block, once they are asked for
	broken  map[string]bool
	lost    bool
	faults  *fault.List
}

func newQuoter(leaves []*Leaf) *quoter {
	figures := 0
	for _, l := range leaves {
		figures += len(l.Guide.Figures)
	}
	q := &quoter{figures: make(map[string]quotable, figures), leaves: leaves, broken: map[string]bool{}}
	for _, l := range leaves {
		q.know(l.Guide)
	}
	return q
}

func (q *quoter) know(g *guide.Guide) {
	q.lost = q.lost || g.Lost
	for _, name := range g.Broken {
		q.broken[name] = true
	}
	q.knowFigures(g)
}

// named returns the names of the figures of each block. They are wanted only to
// tell what is missing.
func (q *quoter) named() map[string][]string {
	if q.blocks != nil {
		return q.blocks
	}
	q.blocks = map[string][]string{}
	for _, l := range q.leaves {
		for _, t := range l.Guide.Tables {
			if _, known := q.blocks[t.Name]; !known {
				q.blocks[t.Name] = nil
			}
		}
		for address := range l.Guide.Figures {
			block, name, _ := strings.Cut(address, ".")
			q.blocks[block] = append(q.blocks[block], name)
		}
	}
	return q.blocks
}

// knowFigures takes in the figures of a guide, in the place of any that had
// their addresses.
func (q *quoter) knowFigures(g *guide.Guide) {
	for address, f := range g.Figures {
		q.figures[address] = quotable{f, tableOf(g, address), g}
	}
}

func (q *quoter) missing(quote guide.Quote) {
	block, name, _ := strings.Cut(quote.Address, ".")
	names, known := q.named()[block]
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
		for b := range q.named() {
			all = append(all, b)
		}
		slices.Sort(all)
		if near := fault.Near(block, all); near != "" {
			f.Fix("<figure:%s.%s>", near, name)
		}
		q.faults.Add(f)
	}
}
