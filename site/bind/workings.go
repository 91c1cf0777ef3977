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

// The folders of the manual that hold the workings: those of guides, and the
// rules of methods, each of which stands once however many guides rest on it.
const (
	workingsFolder = "workings/"
	rulesFolder    = "rules/"
)

// Workings tell how the tables of a guide were made.
type Workings struct {
	Leaf   *Leaf
	Path   string         // of their page
	Tables []*guide.Table // with the block of each, in order
	Rules  []string       // the methods that the tables were made with, and those that these borrow from
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
	Borrows   []string   // methods whose results it uses
	Where     []Spot     // the tables that were made with it
}

// RulePath returns the path of the page of a method's rule.
func RulePath(name string) string { return rulesFolder + name + ".html" }

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
	for _, t := range l.Guide.Tables {
		if hasBlock(t) {
			w.Tables = append(w.Tables, t)
			w.Rules = b.withRules(w.Rules, t.Method)
		}
	}
	return w
}

// withRules adds a method and those that it borrows from to names, each once.
// A table that decides has no method.
func (b *Book) withRules(names []string, name string) []string {
	if b.Library == nil || slices.Contains(names, name) {
		return names
	}
	m, ok := b.Library.Method(name)
	if !ok {
		return names
	}
	names = append(names, name)
	for _, borrowed := range m.Sheet().Borrows {
		names = b.withRules(names, borrowed)
	}
	return names
}

// Rules returns the rules that the workings of the book name, by name.
func (b *Book) Rules() []Rule {
	var names []string
	where := map[string][]Spot{}
	for _, l := range b.Leaves {
		w := b.Workings(l)
		if w == nil {
			continue
		}
		for _, t := range w.Tables {
			names = b.withRules(names, t.Method)
			where[t.Method] = append(where[t.Method], Spot{t.Number, l.Path + "#" + t.Number})
		}
	}
	slices.Sort(names)
	var rules []Rule
	for _, name := range names {
		m, _ := b.Library.Method(name)
		r := ruleOf(b.Library, m.Sheet())
		r.Where = where[name]
		rules = append(rules, r)
	}
	return rules
}

func ruleOf(library *method.Library, s *method.Sheet) Rule {
	r := Rule{
		Name: s.Name, Asks: s.Asks, Needs: s.Needs, Working: s.Working, Verdicts: s.Verdicts,
		CoversNot: s.CoversNot, Uncased: s.Uncased, Borrows: s.Borrows,
	}
	for _, in := range s.Takes {
		r.Takes = append(r.Takes, taken(in))
	}
	for _, res := range s.Gives {
		r.Gives = append(r.Gives, RuleValue{Name: res.Name, Says: res.Caption(), Sense: res.Meaning(), Unit: res.Unit.Symbol(), Round: res.Format.Round.Way()})
	}
	for _, id := range s.References {
		if ref, ok := library.Reference(id); ok {
			r.Sources = append(r.Sources, RuleSource{ref.Citation, id})
		}
	}
	for _, c := range s.Cases {
		r.Cases = append(r.Cases, caseOf(s, c))
	}
	return r
}

func taken(in *method.Input) RuleValue {
	v := RuleValue{Name: in.Name, Says: in.Fact(), Sense: in.Meaning(), Unit: in.Unit.Symbol()}
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
		told.Where = c.Reference.Citation
	}
	return told
}

// spaced returns a name in words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
