package guide

import (
	"math"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// A claim line says what must hold, not in the cells of the table but over all
// that its values run through: `3 m to 15 m by 3 m` is every run from 3 m to
// 15 m. It is proved, or the press stops.

// Claim is a claim that was proved.
type Claim struct {
	Text    string   // "loss at most 0.5 dB"
	Over    []string // "run from 3 m to 15 m", "gauge 12 AWG"; nil where nothing runs
	Results []string // names of the results that it is about
	Place   fault.Place
}

// claim is a claim line.
type claim struct {
	holds *formula.Formula
	at    fault.Place // of the whole line
	when  []*narrowing
}

// narrowing is one test behind the when of a claim, about one value.
type narrowing struct {
	input *method.Input
	test  *formula.Formula
	at    fault.Place
}

// domain is what a value of a claim runs through: its cases one by one, or all
// from one bound to another.
type domain struct {
	input      *method.Input
	points     []method.Point // one by one
	continuous bool
	lo, hi     float64
	unit       unit.Unit // in which the bounds are printed
}

const claimWhen = " when "

// readClaims reads the claim lines.
func (b *block) readClaims() {
	for _, p := range b.claimLines {
		if c := b.readClaim(p); c != nil {
			b.claims = append(b.claims, c)
		}
	}
}

func (b *block) readClaim(p fault.Place) *claim {
	cond, when, s := p, fault.Place{}, p.String()
	if i := strings.Index(s, claimWhen); i >= 0 {
		cond, when = p.Sub(0, i).Trim(), p.Sub(i+len(claimWhen), len(s)).Trim()
	}
	if strings.HasSuffix(s, strings.TrimRight(claimWhen, " ")) {
		b.fault(fault.At(p, "nothing stands after when").Want("for which values it holds, such as gauge is 12 AWG, or no when"))
		return nil
	}
	c := &claim{at: p}
	if c.holds = b.condition(cond); c.holds == nil {
		return nil
	}
	if len(b.claimed(c.holds)) == 0 {
		f := fault.At(cond, "this claim is about no result of %s", b.sheet.Name)
		if len(b.sheet.Gives) > 0 {
			f.Want("one of: %s", names(b.sheet.Gives))
		}
		b.fault(f)
		return nil
	}
	if when.Text == nil {
		return c
	}
	whole := b.condition(when)
	if whole == nil {
		return nil
	}
	for _, test := range conjuncts(whole.Node()) {
		n := b.narrows(test)
		if n == nil {
			return nil
		}
		c.when = append(c.when, n)
	}
	return c
}

// claimed returns the results that a condition is about.
func (b *block) claimed(holds *formula.Formula) []string {
	var all []string
	for _, r := range b.sheet.Gives {
		if slices.Contains(holds.Uses(), r.Name) {
			all = append(all, r.Name)
		}
	}
	return all
}

func conjuncts(n formula.Node) []formula.Node {
	and, ok := n.(*formula.And)
	if !ok {
		return []formula.Node{n}
	}
	return and.Tests
}

// narrows reads one test about one value.
func (b *block) narrows(test formula.Node) *narrowing {
	f, faults := formula.Check(test, b.scope())
	b.join(faults)
	if faults.Stopped() {
		return nil
	}
	uses := f.Uses()
	if len(uses) != 1 || b.sheet.Input(uses[0]) == nil {
		b.fault(fault.At(test.Place(), "what a claim runs through is told by one value at a time").
			Want("values of the block, joined by and: gauge is 12 AWG and run at most 9 m"))
		return nil
	}
	return &narrowing{input: b.sheet.Input(uses[0]), test: f, at: test.Place()}
}

// checkClaims proves the claims, or stops at the first that does not hold.
func (b *block) checkClaims() {
	for _, c := range b.claims {
		domains, ok := b.domains(c)
		if !ok {
			continue
		}
		if f := b.prove(c, domains); f != nil {
			b.fault(f)
			continue
		}
		b.proved = append(b.proved, Claim{Text: words(formula.Text(c.holds.Node())), Over: b.spans(domains), Results: b.claimed(c.holds), Place: c.at})
	}
}

// domains returns what each swept value runs through, as the claim narrows it.
func (b *block) domains(c *claim) ([]*domain, bool) {
	var all []*domain
	for _, l := range b.valueLines {
		in := b.sheet.Input(l.word.String())
		d := &domain{input: in, points: b.cases[in.Name]}
		if first, last := d.points[0], d.points[len(d.points)-1]; len(d.points) > 1 && method.RunsThrough(l.rest) &&
			!in.Whole && len(in.Among) == 0 && in.Group == "" && in.Choice == nil {
			d.continuous, d.lo, d.hi, d.unit = true, first.Value.Number, last.Value.Number, first.Unit
			if end, ok := in.RangeEnd(l.rest); ok {
				d.hi = end
			}
		}
		for _, n := range c.when {
			if n.input == in && !b.narrow(d, n) {
				return nil, false
			}
		}
		all = append(all, d)
	}
	for _, n := range c.when {
		if !slices.ContainsFunc(all, func(d *domain) bool { return d.input == n.input }) {
			b.fault(fault.At(n.at, "%s has no value in this block", n.input.Name).Want("one of the values that stand in it"))
			return nil, false
		}
	}
	return all, true
}

// narrow keeps of a domain what a test leaves.
func (b *block) narrow(d *domain, n *narrowing) bool {
	if !d.continuous {
		d.points = slices.Clone(d.points)
		d.points = slices.DeleteFunc(d.points, func(p method.Point) bool {
			truth, _ := n.test.Truth(typed{b.sheet, method.Values{d.input.Name: p}})
			return truth != formula.True
		})
		if len(d.points) == 0 {
			var stand []string
			for _, p := range b.cases[d.input.Name] {
				stand = append(stand, p.Text)
			}
			b.fault(fault.At(n.at, "no %s of this block is so", d.input.Label()).Want("one that stands in it: %s", strings.Join(stand, ", ")))
			return false
		}
		return true
	}
	lo, hi, ok := bounds(n.test.Node())
	if !ok {
		b.fault(fault.At(n.at, "this does not say from where to where %s goes", d.input.Label()).Want("such as %s at most %s", d.input.Name, method.Rough(d.hi, d.unit)))
		return false
	}
	lo, hi = math.Max(lo, d.lo), math.Min(hi, d.hi)
	if lo > hi {
		b.fault(fault.At(n.at, "no %s of this block is so", d.input.Label()).
			Want("from %s to %s", method.Rough(d.lo, d.unit), method.Rough(d.hi, d.unit)))
		return false
	}
	d.lo, d.hi = lo, hi
	return true
}

// bounds reads a test of a name against a number.
func bounds(n formula.Node) (lo, hi float64, ok bool) {
	lo, hi = math.Inf(-1), math.Inf(1)
	switch n := n.(type) {
	case *formula.Is:
		if v, isNumber := n.Value.(*formula.Number); isNumber {
			return v.Value, v.Value, true
		}
	case *formula.Compare:
		v, isNumber := n.Right.(*formula.Number)
		_, isName := n.Left.(*formula.Name)
		switch {
		case !isNumber || !isName:
			return lo, hi, false
		case n.Relation == formula.Less || n.Relation == formula.AtMost:
			return lo, v.Value, true
		case n.Relation == formula.Greater || n.Relation == formula.AtLeast:
			return v.Value, hi, true
		}
		return v.Value, v.Value, true
	}
	return lo, hi, false
}

// boxes returns a box for each combination of the values that run one by one.
func (b *block) boxes(domains []*domain) []method.Box {
	all := []method.Box{{Values: method.Values{}}}
	for _, d := range domains {
		var more []method.Box
		for _, box := range all {
			if d.continuous {
				p := d.points[0]
				p.Value = formula.Quantity(d.lo + (d.hi-d.lo)/2)
				moving := append(slices.Clone(box.Moving), method.Moving{Name: d.input.Name, Member: -1, Lo: d.lo, Hi: d.hi})
				more = append(more, method.Box{Values: box.Values.With(d.input.Name, p), Moving: moving})
				continue
			}
			for _, p := range d.points {
				more = append(more, method.Box{Values: box.Values.With(d.input.Name, p), Moving: box.Moving})
			}
		}
		all = more
	}
	for i, box := range all {
		all[i] = keptLimits(b.sheet, box)
		for _, in := range b.partly {
			if !asked(b.sheet, in, box.Values) {
				delete(box.Values, in.Name)
			}
		}
	}
	return all
}

// prove returns the fault of a claim that does not hold, or of one that cannot
// be proved; nil where it is proved.
func (b *block) prove(c *claim, domains []*domain) *fault.Fault {
	for _, box := range b.boxes(domains) {
		switch p := method.Prove(b.method, c.holds, box); p.Outcome {
		case method.Refuted:
			return b.refuted(c, domains, p)
		case method.NotProved:
			return fault.At(c.at, "this claim is not proved: %s", p.Why).Want("a claim that can be proved over all that it runs through").
				Fix("give it more room, or a narrower range behind when")
		}
	}
	return nil
}

// refuted tells where a claim does not hold, by how much, and what would.
func (b *block) refuted(c *claim, domains []*domain, p method.Proof) *fault.Fault {
	where := ""
	if at := b.texts(domains, p.At); len(at) > 0 {
		where = " at " + strings.Join(at, " and ")
	}
	if p.Why != "" {
		return fault.At(c.at, "this claim does not hold: it cannot be told%s: %s", where, p.Why).Want("a claim about figures that are there")
	}
	f := fault.At(c.at, "this claim does not hold%s%s", where, b.amiss(c, p.At))
	if would := b.would(c, domains); would != "" {
		return f.Want("a claim that holds").Fix("it would hold for %s", would)
	}
	return f.Want("a claim that holds over all that it runs through")
}

// texts says at which point, of the values that run.
func (b *block) texts(domains []*domain, v method.Values) []string {
	var all []string
	for _, d := range domains {
		switch p, ok := v[d.input.Name]; {
		case !ok || !d.continuous && len(b.cases[d.input.Name]) == 1:
		case d.continuous:
			all = append(all, method.Rough(p.Value.Number, d.unit))
		default:
			all = append(all, p.Text)
		}
	}
	return all
}

// amiss says what the result is at a point, and by how much that is too much
// or too little: ": loss is 0.531 dB, 0.031 dB more than 0.5 dB".
func (b *block) amiss(c *claim, v method.Values) string {
	o := b.method.Run(v, b.claimed(c.holds)...)
	for _, test := range conjuncts(c.holds.Node()) {
		n, ok := test.(*formula.Compare)
		if !ok {
			continue
		}
		name, isName := n.Left.(*formula.Name)
		limit, isNumber := n.Right.(*formula.Number)
		if !isName || !isNumber {
			continue
		}
		r := b.sheet.Result(name.Text)
		value, given := o.Results.Find(name.Text)
		if r == nil || !given || value.State != formula.Known || value.List != nil {
			continue
		}
		over := value.Number - limit.Value
		holds := over <= 0
		if n.Relation == formula.AtLeast || n.Relation == formula.Greater {
			holds = over >= 0
		}
		if holds && over != 0 {
			continue
		}
		how := " more than "
		if over < 0 {
			how = " less than "
		}
		unit := limit.Unit
		return ": " + r.Label() + " is " + method.Rough(value.Number, r.Unit) + ", " + method.Rough(math.Abs(over), unit.Step()) + how + formula.Text(limit)
	}
	return ""
}

// would says for which part of what the claim runs through it would hold.
func (b *block) would(c *claim, domains []*domain) string {
	for i, d := range domains {
		switch {
		case d.continuous:
			if s := b.wouldUpTo(c, domains, i); s != "" {
				return s
			}
		case len(d.points) > 1:
			var held []string
			for _, p := range d.points {
				one := *d
				one.points = []method.Point{p}
				if b.holdsOver(c, domains, i, &one) {
					held = append(held, p.Text)
				}
			}
			if len(held) > 0 {
				return d.input.Label() + " " + strings.Join(held, ", ")
			}
		}
	}
	return ""
}

// holdsOver reports whether the claim is proved with one domain changed.
func (b *block) holdsOver(c *claim, domains []*domain, i int, changed *domain) bool {
	tried := slices.Clone(domains)
	tried[i] = changed
	return !slices.ContainsFunc(b.boxes(tried), func(x method.Box) bool { return method.Prove(b.method, c.holds, x).Outcome != method.Proved })
}

// halvings is how often the end of a range that would hold is closed in: to
// about a millionth of the range, which is then rounded to three figures.
const halvings = 20

// wouldUpTo finds the largest range, from one of its ends on, over which the
// claim would hold, rounded so that it surely does; "" where there is none.
func (b *block) wouldUpTo(c *claim, domains []*domain, i int) string {
	d := domains[i]
	over := func(lo, hi float64) bool {
		part := *d
		part.lo, part.hi = lo, hi
		return lo <= hi && b.holdsOver(c, domains, i, &part)
	}
	part := func(t float64, up bool) bool {
		if up {
			return over(t, d.hi)
		}
		return over(d.lo, t)
	}
	for _, up := range []bool{false, true} {
		good, bad := d.lo, d.hi
		if up {
			good, bad = d.hi, d.lo
		}
		if !part(good, up) {
			continue
		}
		for range halvings {
			if mid := good + (bad-good)/2; part(mid, up) {
				good = mid
			} else {
				bad = mid
			}
		}
		round := unit.Down
		if up {
			round = unit.Up
		}
		f := unit.Format{Unit: d.unit, Figures: 3, Round: round}
		if at := f.Printed(good); part(at, up) {
			lo, hi := d.lo, at
			if up {
				lo, hi = at, d.hi
			}
			return d.input.Label() + " from " + method.Rough(lo, d.unit) + " to " + method.Rough(hi, d.unit)
		}
	}
	return ""
}

// spans says what a claim runs through, of the values that run; what stands
// still is told with the table.
func (b *block) spans(domains []*domain) []string {
	var all []string
	for _, d := range domains {
		switch {
		case !d.continuous && len(b.cases[d.input.Name]) == 1 && len(d.points[0].Limits) == 0:
		case d.continuous && d.lo == d.hi:
			all = append(all, d.input.Label()+" "+method.Rough(d.lo, d.unit))
		case d.continuous:
			all = append(all, "every "+d.input.Label()+" from "+method.Rough(d.lo, d.unit)+" to "+method.Rough(d.hi, d.unit))
		default:
			var texts []string
			for _, p := range d.points {
				texts = append(texts, p.Text)
			}
			all = append(all, d.input.Label()+" "+strings.Join(texts, ", "))
		}
	}
	return all
}
