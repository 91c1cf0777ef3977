package guide

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// A figure typed by hand goes stale, and nobody traces it. The words of a guide
// are looked through for them, and for words that say more than one figure can.

// typedFigure is a figure with a unit that stands in the words of a guide.
type typedFigure struct {
	quantity unit.Quantity
	known    bool   // the quantity could be read
	places   int    // digits behind the point, as typed
	text     string // in one line, with its unit
	at       fault.Place
	words    []string // of its sentence, in small letters
}

// part is a part of a guide from one heading to the next. What it is about are
// its tables and those of the parts above and below it: a section goes to the
// next heading of its level or a higher one.
type part struct {
	level   int
	above   *part // nil at the head of the guide, and for what stands under no other heading
	sayings []*saying
	tables  []*Table
	about   []*Table
}

// checkTyped looks through the words of the guide.
func (r *reader) checkTyped() {
	answer := &part{}
	if q, ok := r.guide.Docket.Places["question"]; ok {
		s := &saying{}
		s.sayPlain(q, r)
		answer.sayings = append(answer.sayings, s)
	}
	if n := r.guide.Docket.Answer; n != nil {
		answer.sayings = append(answer.sayings, r.saying(n))
	}
	var all []*saying
	for _, p := range append([]*part{answer}, r.parts()...) {
		all = append(all, p.sayings...)
		for _, s := range p.sayings {
			for _, f := range s.typed(r) {
				r.tellTyped(f, p)
			}
			r.tellSweeping(s)
		}
	}
	all = append(all, r.drawn...)
	r.checkSaid(all)
	r.tellIdleStets()
}

// parts parts the guide at its headings.
func (r *reader) parts() []*part {
	all := []*part{{}}
	_ = ast.Walk(r.guide.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		if h, ok := n.(*ast.Heading); ok {
			all = append(all, under(all[len(all)-1], h.Level))
		}
		last := all[len(all)-1]
		switch t, ok := n.(*TableNode); {
		case ok:
			last.tables = append(last.tables, t.Table)
		case n.Kind() == ast.KindFencedCodeBlock || n.Kind() == ast.KindCodeBlock:
			return ast.WalkSkipChildren, nil
		case n.FirstChild() != nil && n.FirstChild().Type() == ast.TypeInline:
			words := r.saying(n)
			words.headUnit(n, r.source)
			words.marked = r.underMark(n)
			last.sayings = append(last.sayings, words)
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	for _, p := range all {
		p.about = append(p.about, p.tables...)
		for up := p.above; up != nil; up = up.above {
			p.about = append(p.about, up.tables...)
			up.about = append(up.about, p.tables...)
		}
	}
	return all
}

// under opens the part of a heading behind another part.
func under(before *part, level int) *part {
	up := before
	for up != nil && up.level >= level {
		up = up.above
	}
	if up != nil && up.level == 0 {
		up = nil // the head of the guide is a section by itself
	}
	return &part{level: level, above: up}
}

// typed finds the figures with a unit among the words.
func (s *saying) typed(r *reader) []typedFigure {
	var all []typedFigure
	text := s.text.String()
	for _, f := range findFigures(text) {
		at := s.place(r, f.start, f.end)
		all = append(all, typedFigure{
			quantity: f.q, known: f.known, places: f.places, at: at, text: f.typed(at), words: wordsAbout(text, f.start, f.end),
		})
	}
	return all
}

// nearWords is how many words before and behind a figure are looked at.
const nearWords = 4

func wordsAbout(text string, start, end int) []string {
	split := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(c rune) bool { return !unicode.IsLetter(c) })
	}
	before, after := split(text[:start]), split(text[end:])
	return slices.Concat(before[max(0, len(before)-nearWords):], after[:min(nearWords, len(after))])
}

// tellTyped tells of one typed figure: a stop where it stands beside a table
// of its kind and is none of its figures, a warning otherwise.
func (r *reader) tellTyped(f typedFigure, p *part) {
	if r.isTradeName(f) || r.isStet(f) {
		return
	}
	shown, equal := f.beside(p.about)
	if shown != nil && !equal {
		r.faults.Add(fault.At(f.at, "%q stands beside the table %s, and is none of its figures", f.text, shown.Number).
			Want("a figure of the table, called by its name%s", f.nearest(shown)).Fix("name it in the block with a figure line, and write <figure:%s.NAME>", shown.Name))
		return
	}
	told := fault.At(f.at, "%q is typed by hand, and no calculation keeps it true", f.text).Want("a figure that a block names, or a standing figure").Graded(fault.Warn)
	if name := r.sameFigure(f); name != "" {
		told.Fix("<figure:%s>", name)
	} else {
		told.Fix("or say in the docket why it stands: stet: %s, because …", f.text)
	}
	r.faults.Add(told)
}

func (r *reader) isTradeName(f typedFigure) bool {
	for _, t := range r.kit.Library.TradeNames() {
		if t.Means(f.quantity, f.words) {
			return true
		}
	}
	return false
}

// nearShare is how far a value may lie from a typed figure that is rounded to
// few digits.
const nearShare = 0.02

// is reports whether a value is the typed figure, as far as its digits go.
func (f typedFigure) is(v formula.Value) bool {
	if !f.known || v.State != formula.Known || v.Word != "" {
		return false
	}
	if v.List != nil {
		return slices.ContainsFunc(v.List, f.is)
	}
	u := f.quantity.Unit
	typed, other := u.FromBase(f.quantity.Value), u.FromBase(v.Number)
	within := math.Min(0.5000001*math.Pow(10, -float64(f.places)), nearShare*math.Abs(typed))
	return math.Abs(typed-other) <= math.Max(within, sameWithin*math.Abs(typed))
}

// beside finds, among tables, one that shows a result of the figure's kind,
// and whether the figure is one of its cells, values or limits.
func (f typedFigure) beside(tables []*Table) (shown *Table, equal bool) {
	for _, t := range tables {
		if !f.known || !slices.ContainsFunc(t.Results, func(h Heading) bool {
			return h.Unit.Kind() == f.quantity.Unit.Kind() || plainLevel(h.Unit, f.quantity.Unit)
		}) {
			continue
		}
		shown = t
		for _, v := range t.Values() {
			if f.is(v) {
				return t, true
			}
		}
	}
	return shown, false
}

// nearest names the printed cells of a table that lie nearest to the figure.
func (f typedFigure) nearest(t *Table) string {
	type near struct {
		text string
		off  float64
	}
	var all []near
	for _, row := range t.Cells {
		for j, c := range row {
			h := t.Shown(j)
			if c.Value.State != formula.Known || c.Value.List != nil || c.Number == "" || h.Unit.Kind() != f.quantity.Unit.Kind() && !plainLevel(h.Unit, f.quantity.Unit) {
				continue
			}
			all = append(all, near{c.Number + " " + h.Unit.Symbol(), math.Abs(c.Value.Number - f.quantity.Value)})
		}
	}
	slices.SortStableFunc(all, func(a, b near) int { return cmp.Compare(a.off, b.off) })
	all = slices.CompactFunc(all, func(a, b near) bool { return a.text == b.text })
	switch len(all) {
	case 0:
		return ""
	case 1:
		return "; the nearest is " + all[0].text
	}
	return "; the nearest are " + all[0].text + " and " + all[1].text
}

// plainLevel reports whether a typed dB is meant for a level on a scale.
func plainLevel(u, typed unit.Unit) bool {
	return typed.Symbol() == "dB" && u.Kind().IsPoint() && u.Step().Symbol() == "dB"
}

// sameFigure returns the address of a figure of the guide, or of a standing
// one, that is the typed figure; "" where there is none.
func (r *reader) sameFigure(f typedFigure) string {
	for _, s := range r.kit.Standing.All() {
		if s.Point.Unit.Kind() == f.quantity.Unit.Kind() && f.is(s.Point.Value) {
			return s.Source.ID
		}
	}
	var found []string
	for address, g := range r.guide.Figures {
		if g.Unit.Kind() == f.quantity.Unit.Kind() && f.is(g.Value) {
			found = append(found, address)
		}
	}
	if len(found) == 0 {
		return ""
	}
	return slices.Min(found)
}
