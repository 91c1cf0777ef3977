package bind

import (
	"slices"
	"strings"

	"bindpost/calc/method"
	"bindpost/site/guide"
)

// WorkingsPath is the page that lists the workings of all guides; those of one
// guide stand on a page of their own, so that no page grows with the book.
const WorkingsPath = "workings.html"

// workingsFolder holds the workings of guides.
const workingsFolder = "workings/"

// Workings tell how the tables of a guide were made.
type Workings struct {
	Leaf   *Leaf
	Path   string         // of their page
	Tables []*guide.Table // with the block of each, in order
	Rules  []Rule         // those of the methods that the tables were made with, and of those that these borrow from
}

// Rule is what can be told of a method to somebody who checks it.
type Rule struct {
	Name      string
	Asks      string
	Takes     []RuleValue
	Needs     []string // what must hold between its values, in words
	Working   []string // its lines, as they are written
	Verdicts  []string // the lines of its verdicts, as they are written
	Gives     []RuleValue
	Sources   []RuleSource
	CoversNot string
	Cases     []RuleCase // worked outside the program
	Uncased   string     // why it has none; "" where it has
}

// RuleValue is a value that a method takes or gives.
type RuleValue struct {
	Name     string
	Says     string
	Sense    string
	From, To string   // between which it must lie; "" where there is no such bound
	Choice   []string // the words that it may be
	Usually  string   // what stands where none is given
	Unit     string
	Round    string // of a result: "up", "down", or "" for the nearest
}

// RuleSource is a reference under the name by which lines of a working call it.
type RuleSource struct {
	guide.Source
	Name string
}

// RuleCase is a case worked outside the program.
type RuleCase struct {
	Given []string // "run 9 m"
	Wants []string // "loss 0.2537 dB"
	Where guide.Source
}

// HasWorkings reports whether the book tells how the tables of a guide were
// made.
func (l *Leaf) HasWorkings() bool {
	return l.Edition.Workings && slices.ContainsFunc(l.Guide.Tables, hasBlock)
}

func hasBlock(t *guide.Table) bool { return t.Block.Text != nil }

// WorkingsPath returns the path of the page of the guide's workings.
func (l *Leaf) WorkingsPath() string { return workingsFolder + l.Guide.Docket.Code + ".html" }

// HasWorkings reports whether the book tells of any guide how its tables were
// made.
func (b *Book) HasWorkings() bool { return slices.ContainsFunc(b.Leaves, (*Leaf).HasWorkings) }

// Workings returns those of a guide, and nil where the book tells none.
func (b *Book) Workings(l *Leaf) *Workings {
	if !l.HasWorkings() {
		return nil
	}
	w := &Workings{Leaf: l, Path: l.WorkingsPath()}
	told := map[string]bool{}
	for _, t := range l.Guide.Tables {
		if hasBlock(t) {
			w.Tables = append(w.Tables, t)
			w.tell(b.Library, t.Method, told)
		}
	}
	return w
}

// tell adds the rules of a method and of those it borrows from, each once.
func (w *Workings) tell(library *method.Library, name string, told map[string]bool) {
	if library == nil || told[name] {
		return
	}
	told[name] = true
	m, ok := library.Method(name)
	if !ok {
		return // a table that decides has no method
	}
	s := m.Sheet()
	w.Rules = append(w.Rules, ruleOf(library, s))
	for _, borrowed := range s.Borrows {
		w.tell(library, borrowed, told)
	}
}

func ruleOf(library *method.Library, s *method.Sheet) Rule {
	r := Rule{
		Name: s.Name, Asks: s.Asks, Needs: s.Needs, Working: s.Working, Verdicts: s.Verdicts,
		CoversNot: s.CoversNot, Uncased: s.Uncased,
	}
	for _, in := range s.Takes {
		r.Takes = append(r.Takes, taken(in))
	}
	for _, res := range s.Gives {
		r.Gives = append(r.Gives, RuleValue{Name: res.Name, Says: res.Caption(), Sense: res.Sense, Unit: res.Unit.Symbol(), Round: res.Format.Round.Way()})
	}
	for _, id := range s.References {
		if ref, ok := library.Reference(id); ok {
			r.Sources = append(r.Sources, RuleSource{sourceOf(ref), id})
		}
	}
	for _, c := range s.Cases {
		r.Cases = append(r.Cases, caseOf(s, c))
	}
	return r
}

func taken(in *method.Input) RuleValue {
	v := RuleValue{Name: in.Name, Says: in.Fact(), Sense: in.Sense, Unit: in.Unit.Symbol()}
	if in.From != nil && in.To != nil {
		v.From, v.To = in.From.Text, in.To.Text
	}
	if in.Choice != nil {
		v.Choice = in.Offered()
	}
	for _, p := range in.Among {
		v.Choice = append(v.Choice, p.Text)
	}
	if in.Usually != nil {
		v.Usually = in.Usually.Text
	}
	return v
}

func sourceOf(r *method.Reference) guide.Source {
	return guide.Source{ID: r.ID, Title: r.Title, Clause: r.Clause, Date: r.Date, Mark: r.Mark, Says: r.Says}
}

// caseOf tells a case by the values that were given and wanted.
func caseOf(s *method.Sheet, c *method.Case) RuleCase {
	var told RuleCase
	for _, in := range s.Takes {
		if p, ok := c.Values[in.Name]; ok {
			told.Given = append(told.Given, spaced(in.Name)+" "+p.Text)
		}
	}
	for _, w := range c.Wants {
		told.Wants = append(told.Wants, spaced(w.Result)+" "+strings.TrimSpace(w.Place.String()))
	}
	if c.Reference != nil {
		told.Where = sourceOf(c.Reference)
	}
	return told
}

// spaced returns a name in words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
