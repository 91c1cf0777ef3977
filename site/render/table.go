package render

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"bindpost/calc/formula"
	"bindpost/site/guide"
)

// tableView is what the template of a table is filled with.
type tableView struct {
	words
	Number   string
	Name     template.HTML
	Title    template.HTML
	Scrolls  template.HTML
	Heed     template.HTML
	Taken    []template.HTML
	Limits   []template.HTML
	Claims   []template.HTML
	Rounded  []template.HTML
	Solved   []template.HTML
	Verdicts []verdictLine
	Form     string // classes of the region that the grid stands in, each with a space before it
	stretch
	More      []stretch // more columns, where one stretch has no room for all
	Notes     []template.HTML
	Work      []workView
	Charts    []chartView
	Sources   []sourceLine
	CoversNot template.HTML
	Own       *ownMark
}

// cell is one cell of the grid.
type cell struct {
	Head  bool
	Class string
	Text  template.HTML
}

// verdictLine is a verdict above the grid.
type verdictLine struct {
	Label template.HTML
	Value string
}

// sourceLine is one reference at the foot of a table.
type sourceLine struct {
	ID   string
	Mark string
	Text template.HTML
}

// tableNode sets the table of a block.
func (s *setter) tableNode(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	names, view, err := s.gridAndBelow(node.(*guide.TableNode).Table)
	for i := 0; i < len(names) && err == nil; i++ {
		err = s.templates.execute(w.(*forme), names[i], view)
	}
	return ast.WalkSkipChildren, err
}

func (s *setter) table(t *guide.Table) tableView {
	v := tableView{
		words: s.words, Number: t.Number,
		Name:    s.fill("table", "number", t.Number),
		Title:   s.tableTitle(t),
		Scrolls: s.fill("table-scrolls", "number", t.Number),
		Heed:    s.heed(t),
		Sources: s.sources(t),
	}
	for _, taken := range t.Taken {
		v.Taken = append(v.Taken, s.taken(taken))
	}
	for _, l := range t.Limits {
		v.Limits = append(v.Limits, s.fill("limit", "limit", s.computed(l.Text), "beyond", s.beyond(l.Beyond)))
	}
	for _, c := range t.Claims {
		v.Claims = append(v.Claims, s.claim(c))
	}
	v.Limits = append(v.Limits, s.fromTo(t)...)
	v.Rounded = s.rounded(t)
	for _, d := range t.Verdicts {
		grade := s.sayOr("grade-", d.Grade)
		label := s.fill("verdict", "name", capital(d.Name), "grade", grade)
		if t.Rows != nil || t.Columns != nil {
			label = s.fill("verdict-worst", "name", capital(d.Name), "grade", grade)
		}
		v.Verdicts = append(v.Verdicts, verdictLine{label, sentence(d.Words)})
	}
	g := &grid{setter: s, table: t, decimals: decimalsOf(t)}
	parts := g.stretches()
	v.Form = g.form(len(parts[0].Rows))
	v.stretch, v.More = parts[0], parts[1:]
	v.Solved = g.single()
	v.Charts = s.charts(t)
	v.Notes = append(g.notes, s.solved(t)...)
	v.Own = s.own(t)
	for i := range t.Work {
		v.Work = append(v.Work, s.work(t, i))
	}
	if t.CoversNot != "" {
		v.CoversNot = s.fill("covers-not", "what", strings.TrimSuffix(t.CoversNot, "."))
	}
	return v
}

// tableTitle says what the grid holds and along what: "Loss in decibels, by
// gauge and by run (one way)".
func (s *setter) tableTitle(t *guide.Table) template.HTML {
	title, known := s.titles[t]
	if !known {
		title = s.newTitle(t)
		s.titles[t] = title
	}
	return title
}

func (s *setter) newTitle(t *guide.Table) template.HTML {
	switch {
	case t.Decision != nil:
		return asHTML(t.Decision.Question)
	case t.Hookup != nil:
		return asHTML(t.Hookup.Title)
	}
	if t.Caption != "" {
		return s.signs(t.Caption)
	}
	if len(t.Results) > manyResults {
		return s.asked(t)
	}
	var what []template.HTML
	for i, r := range t.Results {
		label := s.sensed(r)
		if i == 0 {
			label = capitalHTML(label)
		}
		result := s.fill("table-of-plain", "result", label)
		if len(t.Results) == 1 && r.Unit.Symbol() != "" {
			result = s.fill("table-of", "result", label, "unit", s.Spoken(r.Unit))
		}
		what = append(what, result)
	}
	return s.along(s.joined(what), t)
}

// manyResults is the most results that the title of a table lists; of more the
// question that its method answers says more.
const manyResults = 3

// asked is the title of a table of many results: the question that its method
// answers. Such a table has a column for each result.
func (s *setter) asked(t *guide.Table) template.HTML {
	if t.Rows == nil {
		return asHTML(t.Asks)
	}
	return s.fill("table-question", "what", t.Asks, "axis", s.sensed(t.Rows.Heading))
}

// along says along what the grid goes, behind what it holds.
func (s *setter) along(what template.HTML, t *guide.Table) template.HTML {
	switch {
	case t.Rows != nil && t.Columns != nil:
		return s.fill("table-along-both", "what", what, "rows", s.sensed(t.Rows.Heading), "columns", s.sensed(t.Columns.Heading))
	case t.Rows != nil:
		return s.fill("table-along", "what", what, "axis", s.sensed(t.Rows.Heading))
	case t.Columns != nil:
		return s.fill("table-along", "what", what, "axis", s.sensed(t.Columns.Heading))
	}
	return what
}

// sensed returns a heading's label with its sense: "run (one way)".
func (s *setter) sensed(h guide.Heading) template.HTML {
	if h.Sense == "" || h.Sense == h.Label { // a name that is its own sense, as of a leg, says it once
		return asHTML(h.Label)
	}
	return s.fill("table-sense", "label", h.Label, "sense", h.Sense)
}

// heed names the cautions that go with a table, gravest first, for a table
// may be copied out of its page.
func (s *setter) heed(t *guide.Table) template.HTML { return s.heedOf(t.Cautions) }

// heedOf names cautions, gravest first.
func (s *setter) heedOf(ids []string) template.HTML {
	var named []template.HTML
	for _, on := range s.leaf.Cautions {
		if slices.Contains(ids, on.ID) {
			c := s.cautions[on.ID]
			named = append(named, link("#"+c.ID, asHTML(c.Signal+" "+c.ID)))
		}
	}
	if named == nil {
		return ""
	}
	return s.fill("heed", "cautions", s.joined(named))
}

// taken sets one value that holds for the whole table.
func (s *setter) taken(t guide.Taken) template.HTML {
	set := s.fill("taken-value", "label", capitalHTML(s.sensed(t.Heading)), "value", "<b>"+s.computed(t.Text)+"</b>")
	switch {
	case t.Guess:
		return s.fill("taken-marked", "value", set, "mark", s.Say("taken-guess"))
	case t.Usual:
		return s.fill("taken-marked", "value", set, "mark", s.Say("taken-usual"))
	}
	return set
}

// rounded names the results that are rounded one way only, so that a reader
// with a calculator knows why the last digit is another.
func (s *setter) rounded(t *guide.Table) []template.HTML {
	var lines []template.HTML
	if t.FromTo {
		return nil // each end is rounded outwards
	}
	for _, way := range []string{"up", "down"} {
		var named []template.HTML
		for _, r := range t.Results {
			if r.Round == way {
				named = append(named, asHTML(r.Label))
			}
		}
		for _, r := range t.Beside {
			if r.Round == way {
				named = append(named, asHTML(r.Label))
			}
		}
		if named != nil {
			lines = append(lines, s.fill("rounded-"+way, "results", s.joined(named)))
		}
	}
	return lines
}

// fromTo tells that values have limits, which of them matters most, and which
// results may jump between.
func (s *setter) fromTo(t *guide.Table) []template.HTML {
	if !t.FromTo {
		return nil
	}
	lines := []template.HTML{asHTML(s.Say("from-to"))}
	for _, m := range t.Matters {
		switch {
		case m.Results != nil:
			lines = append(lines, s.fill("from-to-matters-to", "value", m.Value, "results", strings.Join(m.Results, ", ")))
		case m.Figures > 0:
			lines = append(lines, s.fill("from-to-matters-in", "value", m.Value, "count", strconv.Itoa(m.Figures), "all", strconv.Itoa(m.Of)))
		default:
			lines = append(lines, s.fill("from-to-matters", "value", m.Value))
		}
	}
	if t.Jumps != nil {
		lines = append(lines, s.fill("from-to-jumps", "results", strings.Join(t.Jumps, ", ")))
	}
	return lines
}

// claim tells a claim that was proved, and over what.
func (s *setter) claim(c guide.Claim) template.HTML {
	if c.Over == nil {
		return s.fill("claim-here", "claim", s.computed(c.Text))
	}
	return s.fill("claim", "claim", s.computed(c.Text), "range", s.computed(strings.Join(c.Over, "; ")))
}

// beyond returns the word for a figure beyond a limit.
func (s *setter) beyond(word string) string {
	if word == "" {
		return s.Say("limit-beyond")
	}
	return word
}

// stateWord returns the word for a figure that is no number.
func (w words) stateWord(state formula.State) string {
	if state == formula.None {
		return w.Say("cell-none")
	}
	return w.Say("cell-unknown")
}

// sources sets the references of a table with their marks. One that stands in
// full at an earlier table of the guide is named again, and told where: seven
// tables that rest on one rule need not print it seven times.
func (s *setter) sources(t *guide.Table) []sourceLine {
	var lines []sourceLine
	for i, r := range t.Sources {
		full := sourceText(r)
		text := asHTML(full)
		if first, at := s.firstCited(r); first != t && full != sentence(r.Title) {
			where := link("#"+sourceID(first, at), s.fill("source-at", "table", first.Number, "number", strconv.Itoa(at+1)))
			text = s.fill("source-again", "title", r.Title, "where", where)
		}
		lines = append(lines, sourceLine{ID: sourceID(t, i), Mark: s.sayOr("mark-", r.Mark), Text: text})
	}
	return lines
}

// firstCited returns the first table of the guide that rests on a reference, and
// the reference's place under it.
func (s *setter) firstCited(r *guide.Source) (first *guide.Table, at int) {
	for _, t := range s.leaf.Guide.Tables {
		if at := slices.IndexFunc(t.Sources, func(s *guide.Source) bool { return *s == *r }); at >= 0 {
			return t, at
		}
	}
	panic("a reference that no table of its guide has: " + r.ID)
}

// sourceText is a reference in words, without its mark.
func sourceText(r *guide.Source) string {
	text := r.Title
	for _, more := range []string{r.Clause, r.Date} {
		if more != "" {
			text += ", " + more
		}
	}
	if text = sentence(text); r.Says != "" {
		text += " " + sentence(r.Says)
	}
	return text
}

func sourceID(t *guide.Table, i int) string {
	return t.Number + "-R" + strconv.Itoa(i+1)
}
