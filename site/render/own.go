package render

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
	"bindpost/site/guide"
)

// OwnScript is the file among the templates that lets a reader put numbers of
// his own to a table. It finds the words for it on the page, and works with
// the scripts of the methods.
const OwnScript = "own-numbers.js"

// ownMark is what the page says at a table that can be worked with a reader's
// own numbers: which form it has, and what the book's example is. The form
// itself stands once on the page for all tables of the method, and the words
// of all forms once.
type ownMark struct {
	ID      string
	Method  string
	Results string // names of the results that are answered, with a space between
	// Example is name=value of each field, with "; " between: the name alone
	// where there is none, and ~ for a usual value. The unit stands behind, as
	// sign and in words, where it is not that of the form.
	Example string
	Limits  []ownLimit
	Along   string // name=points of the value that the table's rows hold, with "; " between
}

// ownLimit is a limit of the table as the script looks at it.
type ownLimit struct{ Result, Relation, Level, Text, Beyond string }

var ownRelations = map[formula.Relation]string{
	formula.Less: "below", formula.AtMost: "most", formula.Equal: "equal", formula.AtLeast: "least", formula.Greater: "above",
}

// ownForm is the form of one method as its template takes it.
type ownForm struct {
	Method   string
	Fields   []ownField
	Results  []ownSpoken
	Verdicts []ownSpoken
}

// ownField is one field. Its group is that of which exactly one is given.
type ownField struct {
	Name   string
	Plain  string // its label without the sense
	Label  template.HTML
	Words  []guide.OwnWord // of a choice
	Symbol string          // the unit in which a number alone stands
	Unit   string          // the same in words
	Note   template.HTML
	List   bool
	Group  string
	Free   bool // it may be left out, or has a usual value
}

// ownSpoken is a result or a verdict as it is spoken of.
type ownSpoken struct {
	Name  string
	Label template.HTML
	Unit  string
}

// ownCaution is a caution that a reader's numbers may bring. One that stands on
// the page is taken from there.
type ownCaution struct {
	Name string
	At   string // its id on the page; "" where it does not stand there
	Text caution
}

// ownUnit is a unit and how it is spoken.
type ownUnit struct{ Symbol, Words string }

// ownPage is all that the forms of a page share.
type ownPage struct {
	words
	Units    []ownUnit // every unit that the forms and their tables print, once
	Forms    []*ownForm
	Cautions []ownCaution
	Says     template.HTML // what the script speaks with, where there are forms
}

// own marks a table that can be worked with own numbers, and keeps its form
// for the end of the page. Of a table that cannot, the mark is nil.
func (s *setter) own(t *guide.Table) *ownMark {
	if t.Own == nil {
		return nil
	}
	form := s.ownForm(t)
	s.ownUnits(t)
	m := &ownMark{ID: t.Number + "-own", Method: t.Method}
	names, example := make([]string, 0, len(t.Own.Results)), make([]string, 0, len(t.Own.Fields))
	for _, r := range t.Own.Results {
		names = append(names, r.Name)
	}
	for _, f := range t.Own.Fields {
		if f.Example == "" {
			example = append(example, f.Name)
			continue
		}
		mark := "="
		if !f.Given {
			mark = "~"
		}
		one := f.Name + mark + f.Example
		if kept := form.field(f.Name); kept.Symbol != f.Unit.Symbol() {
			one += " | " + f.Unit.Symbol() + " | " + s.Spoken(f.Unit)
		}
		example = append(example, one)
	}
	for _, l := range t.Own.Limits {
		m.Limits = append(m.Limits, ownLimit{
			l.Result, ownRelations[l.Relation], strconv.FormatFloat(l.Level, 'g', -1, 64), l.Text, s.beyond(l.Beyond),
		})
	}
	if t.Own.Along != "" && len(t.Own.Points) > 1 {
		m.Along = t.Own.Along + "=" + strings.Join(t.Own.Points, "; ")
	}
	m.Results, m.Example = strings.Join(names, " "), strings.Join(example, "; ")
	return m
}

// ownForm returns the form of a table's method, with every field that this
// table asks for.
func (s *setter) ownForm(t *guide.Table) *ownForm {
	i := slices.IndexFunc(s.owns.Forms, func(f *ownForm) bool { return f.Method == t.Method })
	if i < 0 {
		i = len(s.owns.Forms)
		s.owns.Forms = append(s.owns.Forms, &ownForm{Method: t.Method})
		s.ownCautions(t.Own.Cautions)
	}
	form := s.owns.Forms[i]
	if form.Fields == nil {
		form.Fields = make([]ownField, 0, len(t.Own.Fields))
	}
	for _, f := range t.Own.Fields {
		if form.field(f.Name) == nil {
			form.Fields = append(form.Fields, s.ownField(f, t.Own.OneOf))
		}
	}
	for _, r := range t.Own.Results {
		form.Results = speak(form.Results, ownSpoken{r.Name, s.sensed(r), s.Spoken(r.Unit)})
	}
	for _, v := range t.Own.Verdicts {
		form.Verdicts = speak(form.Verdicts, ownSpoken{Name: v.Name, Label: asHTML(v.Label)})
	}
	return form
}

// ownUnits keeps the words of the units of a table, so that an answer can be
// listened to.
func (s *setter) ownUnits(t *guide.Table) {
	for _, r := range t.Own.Results {
		s.ownUnit(r.Unit)
	}
	for _, f := range t.Own.Fields {
		s.ownUnit(f.Unit)
	}
}

func (s *setter) ownUnit(u unit.Unit) {
	known := func(o ownUnit) bool { return o.Symbol == u.Symbol() }
	if u.Symbol() != "" && !slices.ContainsFunc(s.owns.Units, known) {
		s.owns.Units = append(s.owns.Units, ownUnit{u.Symbol(), s.Spoken(u)})
	}
}

func speak(all []ownSpoken, one ownSpoken) []ownSpoken {
	if slices.ContainsFunc(all, func(o ownSpoken) bool { return o.Name == one.Name }) {
		return all
	}
	return append(all, one)
}

func (f *ownForm) field(name string) *ownField {
	for i := range f.Fields {
		if f.Fields[i].Name == name {
			return &f.Fields[i]
		}
	}
	return nil
}

func (s *setter) ownField(f guide.OwnField, oneOf [][]string) ownField {
	field := ownField{
		Name: f.Name, Plain: f.Label, Label: capitalHTML(s.sensed(f.Heading)), Symbol: f.Unit.Symbol(), Unit: s.Spoken(f.Unit),
		Note: s.notes.note(s, f), List: f.List, Free: f.Optional || f.Usual,
	}
	if !f.List {
		field.Words = f.Choice
	}
	for _, group := range oneOf {
		if slices.Contains(group, f.Name) {
			field.Group = strings.Join(group, " ")
		}
	}
	return field
}

// ownCautions keeps the cautions that the numbers of a reader may bring, each
// once.
func (s *setter) ownCautions(all []*guide.Caution) {
	for _, c := range all {
		if slices.ContainsFunc(s.owns.Cautions, func(o ownCaution) bool { return o.Name == c.ID }) {
			continue
		}
		o := ownCaution{Name: c.ID, At: s.cautions[c.ID].ID}
		if o.At == "" {
			o.Text = caution{Signal: s.sayOr("signal-", c.Signal), Harm: s.sayOr("harm-", c.Signal), Lines: s.cautionLines(c)}
		}
		s.owns.Cautions = append(s.owns.Cautions, o)
	}
}

// ownScripts are the scripts that a page with forms needs, in the order in
// which they run.
func (s *setter) ownScripts() []string {
	if len(s.owns.Forms) == 0 {
		return nil
	}
	return append(figureScripts(s.leaf.Guide.Tables), OwnScript)
}

// ownSays are the phrases that the script of own numbers speaks with. Those of
// faults are named by what the methods' script says is wrong.
var ownSays = []string{
	"own-empty", "own-again", "own-one-of", "own-and", "own-value", "own-answer", "own-with",
	"own-result", "own-result-word", "own-result-none", "own-result-unknown", "own-verdict", "own-within", "own-passed", "own-along", "own-along-point", "own-assumed", "own-unusual", "own-worked", "work-more",
	"own-missing", "own-none-of", "own-several-of", "own-lengths", "own-no-word", "own-beyond", "own-beyond-least", "own-beyond-most",
	"own-not-whole", "own-not-among", "own-need", "own-borrowed", "own-no-number", "own-wrong-kind", "own-wrong-kind-plain", "own-unknown-unit",
	"own-unknown-too", "own-below", "own-below-one", "own-one-value", "own-too-large", "own-too-small", "own-too-long", "own-wrong-scale",
	"own-decimal-comma", "own-thousands", "own-unclear", "own-try",
	"reply-don't know", "table-join", "table-join-last", "verdict", "work-equals", "work-rounded", "work-rounded-up", "work-rounded-down", "cell-none", "cell-unknown",
	"grade-fits", "grade-doubtful", "grade-do not connect", "grade-ask first", "grade-cannot tell",
	"sign-minus", "sign-plus-minus", "sign-at-most", "sign-at-least", "sign-times", "sign-about",
}

// Intro says how the fields are filled in.
func (p *ownPage) Intro() template.HTML {
	return p.fill("own-intro", "unknown", p.Say("reply-don't know"))
}

// ownPhrase is one of them.
type ownPhrase struct{ Key, Words string }

// ownSaid is what the script speaks with.
type ownSaid struct{ Phrases []ownPhrase }

// ownSaid sets what the script of own numbers speaks with.
func (s *setter) ownSaid() (template.HTML, error) {
	var v ownSaid
	for _, key := range ownSays {
		v.Phrases = append(v.Phrases, ownPhrase{key, s.Say(key)})
	}
	text, err := setText(func(f *forme) error { return s.templates.execute(f, "own-says", &v) })
	return template.HTML(text), err
}
