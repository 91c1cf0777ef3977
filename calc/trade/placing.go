package trade

import (
	"slices"
	"strconv"

	"bindpost/calc/fault"
	"bindpost/calc/record"
	"bindpost/calc/wiring"
)

// The names of the file that the search knows by itself.
const (
	lineInput       = "line"
	switchBox       = "switch box"
	ownPreamplifier = "record player with preamplifier"
	preamplified    = 1 // a preamplifier between is one box more than one inside
)

// Placing is what each kind of source costs on each kind of input, as its file
// states it.
type Placing struct {
	Inputs  []string // kinds of input, the switch box among them
	Sources []string
	says    map[string]string // the words for an input
	cost    map[string][]int  // by source, along the inputs
	rule    string            // the reference of the table
	search  string            // the reference of the search
	text    *fault.Text
	said    said
}

// ReadPlacing reads the costs from their file.
func ReadPlacing(t *fault.Text) (*Placing, *fault.List) {
	n, faults := record.Parse(t)
	p := &Placing{says: map[string]string{}, cost: map[string][]int{}, text: t, said: placingSays()}
	if faults.Join(n.Keys("a table of places", "reference", "search", "inputs", "sources")); faults.Stopped() {
		return p, faults
	}
	for name, to := range map[string]*string{"reference": &p.rule, "search": &p.search} {
		if r := n.Get(name); r != nil {
			*to = r.Text
		}
	}
	for _, e := range entries(n.Get("inputs")) {
		p.Inputs = append(p.Inputs, e.Key.Text)
		p.says[e.Key.Text] = e.Value.Text
	}
	for _, e := range entries(n.Get("sources")) {
		p.source(e, faults)
	}
	for _, must := range []string{lineInput, switchBox} {
		if !slices.Contains(p.Inputs, must) {
			faults.Add(fault.At(n.Place, "there is no input %q", must).Want("it among the inputs"))
		}
	}
	if !faults.Stopped() && p.cost[ownPreamplifier] == nil {
		faults.Add(fault.At(n.Place, "there is no source %q", ownPreamplifier).Want("it among the sources: a player with a preamplifier between costs by it"))
	}
	return p, faults
}

// source reads what one source costs on each input.
func (p *Placing) source(e record.Entry, faults *fault.List) {
	cells, fs := e.Value.Words("costs")
	faults.Join(fs)
	if len(cells) != len(p.Inputs) {
		faults.Add(fault.At(e.Key.Place, "%s has %d costs", e.Key.Text, len(cells)).Want("%d, one for each input", len(p.Inputs)))
		return
	}
	var costs []int
	for _, c := range cells {
		x, err := strconv.Atoi(c.Text)
		switch {
		case c.Text == "-":
			x = wiring.Forbidden
		case err != nil || x < 0 || x > mostCost:
			faults.Add(fault.At(c.Place, "%q is no cost", c.Text).Want("a whole number to %d, or a dash", mostCost))
			return
		}
		costs = append(costs, x)
	}
	p.Sources = append(p.Sources, e.Key.Text)
	p.cost[e.Key.Text] = costs
}

const mostCost = 1000

// stock is what may be put between sources and inputs.
type stock struct{ boxes, ports, preamplifiers int }

// placed is a plan: of each source the kind of input on which it stands, ""
// where it has none, and whether through a preamplifier.
type placed struct {
	on      []string
	through []bool
	count   int
	cost    int
}

// better reports whether a plan places more sources, or as many at less cost.
func (p placed) better(q placed) bool {
	return p.count > q.count || p.count == q.count && p.cost < q.cost
}

// placingOf is one question: sources on inputs with a stock of boxes, one
// source perhaps kept off the kind of input on which it stood.
type placingOf struct {
	table           *Placing
	sources, inputs []string
	stock           stock
	off             int // the source that is kept off, -1 for none
	from            string
}

// best returns the plan that places most sources, and of those the one of
// least cost: exactly, by an assignment for every number of boxes put to use
// and every choice of the sources that get a preamplifier.
func (q placingOf) best() placed {
	best := placed{count: -1}
	lines := 0
	for _, in := range q.inputs {
		if in == lineInput {
			lines++
		}
	}
	for boxes := range min(q.stock.boxes, lines) + 1 {
		columns := q.columns(boxes)
		q.eachChoice(0, q.stock.preamplifiers, make([]bool, len(q.sources)), func(through []bool) {
			if p := q.assigned(columns, through); p.better(best) {
				best = p
			}
		})
	}
	return best
}

// columns are the inputs when some boxes are in use: each takes a line input
// and gives its ports.
func (q placingOf) columns(boxes int) []string {
	var all []string
	taken := boxes
	for _, in := range q.inputs {
		if in == lineInput && taken > 0 {
			taken--
			continue
		}
		all = append(all, in)
	}
	for range boxes * q.stock.ports {
		all = append(all, switchBox)
	}
	return all
}

// wantsPhono reports whether a source is a cartridge without a preamplifier.
func (q placingOf) wantsPhono(source int) bool {
	costs := q.table.cost[q.sources[source]]
	return costs[slices.Index(q.table.Inputs, lineInput)] == wiring.Forbidden
}

// eachChoice calls do for every choice of the sources that get a preamplifier.
func (q placingOf) eachChoice(from, left int, through []bool, do func([]bool)) {
	if from == len(through) {
		do(slices.Clone(through))
		return
	}
	q.eachChoice(from+1, left, through, do)
	if left > 0 && q.wantsPhono(from) {
		through[from] = true
		q.eachChoice(from+1, left-1, through, do)
		through[from] = false
	}
}

// price is what a source costs on a kind of input.
func (q placingOf) price(source int, through bool, on string) int {
	if source == q.off && on == q.from {
		return wiring.Forbidden
	}
	name, more := q.sources[source], 0
	if through {
		name, more = ownPreamplifier, preamplified
	}
	if x := q.table.cost[name][slices.Index(q.table.Inputs, on)]; x != wiring.Forbidden {
		return x + more
	}
	return wiring.Forbidden
}

// assigned is the best plan for some columns and preamplifiers.
func (q placingOf) assigned(columns []string, through []bool) placed {
	cost := make([][]int, len(q.sources))
	for s := range cost {
		cost[s] = make([]int, len(columns))
		for c, on := range columns {
			cost[s][c] = q.price(s, through[s], on)
		}
	}
	got, total := wiring.Assign(cost)
	p := placed{on: make([]string, len(got)), through: through, cost: total}
	for s, c := range got {
		if c >= 0 {
			p.on[s] = columns[c]
			p.count++
		}
	}
	return p
}

// next returns the best plan in which at least one source stands on another
// kind of input than in the best, if one places as many.
func (q placingOf) next(best placed) (placed, bool) {
	second := placed{count: -1}
	for s, on := range best.on {
		if on == "" {
			continue
		}
		other := q
		other.off, other.from = s, on
		if p := other.best(); p.better(second) {
			second = p
		}
	}
	return second, second.count == best.count
}

// mostHelp is how many boxes of a kind are thought of as a help.
const mostHelp = 3

// cure returns the smallest stock beyond what is there that places every
// source, a preamplifier before a switch box. Where it is to be of other ports,
// it is instead of the boxes that are there.
func (q placingOf) cure(ports int) (boxes, preamplifiers int, found bool) {
	for n := 1; n <= 2*mostHelp; n++ {
		for preamplifiers = min(n, mostHelp); preamplifiers >= max(0, n-mostHelp); preamplifiers-- {
			more := q
			if ports != q.stock.ports {
				more.stock.boxes, more.stock.ports = 0, ports
			}
			more.stock.boxes += n - preamplifiers
			more.stock.preamplifiers += preamplifiers
			if more.best().count == len(q.sources) {
				return n - preamplifiers, preamplifiers, true
			}
		}
	}
	return 0, 0, false
}
