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

// Own is what a table of a formula method asks a reader for who has numbers of
// his own, with the book's example: the point that the table works through, or
// its first.
type Own struct {
	Fields   []OwnField // in the order in which the method takes them
	OneOf    [][]string // names of fields, of each group of which exactly one is given
	Results  []Heading  // what is answered; none where the method gives verdicts only
	Verdicts []Heading  // with their names and labels
	Cautions []*Caution // every one that the method may bring
	Limits   []OwnLimit // of the table's, those on one result
	Along    string     // the name of the value that the table's rows hold; "" where none can be put in for another
	Points   []string   // then, those values, as they are typed
}

// OwnField is one value to be asked for.
type OwnField struct {
	Heading            // its unit is that of the example
	Choice   []OwnWord // the words to choose from, where it is a choice
	List     bool      // several values, joined by a word
	Optional bool      // it may be left out
	Usual    bool      // a usual value stands where it is left out
	Only     string    // when it is asked for at all: "metal is clad"; "" for always
	From, To string    // hard bounds with their units, each "" where there is none
	Among    []string  // the only values that there are, where they are listed
	Given    bool      // the book's example has a value of its own for it
	Example  string    // as it is typed: "9", "c5", "8 and 4"; "" for none
}

// OwnWord is a word of a choice, as it is typed and as it is printed.
type OwnWord struct{ Word, Text string }

// OwnLimit is a limit on one result: it stands to a level in a relation.
type OwnLimit struct {
	Result   string
	Relation formula.Relation
	Level    float64 // in base units
	Text     string  // "loss at most 0.5 dB"
	Beyond   string  // "" leaves the words to the phrases
}

// fillOwn finds what a reader is asked for under the table. A method that
// a page cannot work, being in Go or borrowing from one that is, has none.
func (b *block) fillOwn() {
	data, ok := b.method.(*method.Data)
	if !ok || b.table.Scripted == nil {
		return
	}
	o := &Own{Results: b.ownResults()}
	names := make([]string, len(o.Results))
	for i, r := range o.Results {
		names[i] = r.Name
	}
	values, facts := b.ownExample(), data.Facts(append(names, b.limitResults()...)...)
	if len(names) == 0 {
		facts = data.Facts()
	}
	o.Fields = make([]OwnField, 0, len(facts))
	for _, in := range b.sheet.Takes {
		if slices.Contains(facts, in.Name) {
			o.Fields = append(o.Fields, ownField(in, values))
		}
	}
	for _, group := range b.sheet.OneOf {
		if kept := slices.DeleteFunc(slices.Clone(group), func(n string) bool { return !slices.Contains(facts, n) }); len(kept) > 1 {
			o.OneOf = append(o.OneOf, kept)
		}
	}
	o.Verdicts = b.verdictHeads(b.points[0][0])
	for _, id := range b.sheet.Cautions {
		if c, ok := b.reader.kit.Library.Caution(id); ok {
			o.Cautions = append(o.Cautions, &Caution{CautionText: &c.CautionText})
		}
	}
	o.Limits = b.ownLimits(names)
	if in := b.rows.input; in != nil && in.Group == "" && !b.backwards && len(names) > 0 {
		o.Along = in.Name
		for _, p := range b.rows.points {
			text, u := asTyped(p, in)
			o.Points = append(o.Points, strings.TrimSpace(text+" "+u.Symbol()))
		}
	}
	b.table.Own = o
}

// ownLimits are the limits that hold one of the results to a level. What else
// a limit may say can only be told of the table itself.
func (b *block) ownLimits(results []string) []OwnLimit {
	var all []OwnLimit
	for _, l := range b.limits {
		c, ok := l.holds.Node().(*formula.Compare)
		if !ok {
			continue
		}
		name, named := c.Left.(*formula.Name)
		level, fixed := c.Right.(*formula.Number)
		if named && fixed && slices.Contains(results, name.Text) && b.sheet.Result(name.Text).Group == "" {
			all = append(all, OwnLimit{name.Text, c.Relation, level.Value, l.text, l.beyond})
		}
	}
	return all
}

// ownResults are the results that the table shows, or of a table of answers
// those that its conditions are about.
func (b *block) ownResults() []Heading {
	if !b.backwards {
		if len(b.results) == 0 {
			return nil
		}
		return b.table.Results
	}
	var all []Heading
	for _, r := range b.sheet.Gives {
		if slices.ContainsFunc(b.asks, func(a *backward) bool { return slices.Contains(a.Holds.Uses(), r.Name) }) {
			all = append(all, resultHeading(r))
		}
	}
	return all
}

// limitResults are the results that the limits of the table are about.
func (b *block) limitResults() []string {
	var names []string
	for _, l := range b.limits {
		for _, name := range l.holds.Uses() {
			if b.sheet.Result(name) != nil {
				names = append(names, name)
			}
		}
	}
	return names
}

// ownExample are the values of the point that the table works through, or of
// its first.
func (b *block) ownExample() method.Values {
	if len(b.table.Work) > 0 {
		return b.table.Work[0].Values.Middle()
	}
	if b.partly == nil && !b.backwards {
		return b.fixed.Middle() // the first case of each
	}
	return b.points[0][0].Values().Middle()
}

// ownField describes one value, with what stands for it in the example.
func ownField(in *method.Input, values method.Values) OwnField {
	f := OwnField{Heading: heading(in), List: in.Group != "", Optional: in.Optional, Usual: in.Usually != nil}
	for _, word := range in.Choice {
		f.Choice = append(f.Choice, OwnWord{word, in.Printed(word)})
	}
	for _, p := range in.Among {
		f.Among = append(f.Among, p.Text)
	}
	if in.From != nil {
		f.From = in.From.Text
	}
	if in.To != nil {
		f.To = in.To.Text
	}
	if in.When != nil {
		f.Only = formula.Text(in.When.Node())
	}
	p, given := values[in.Name]
	if f.Given = given; !given && in.Usually != nil && in.When == nil {
		p, given = *in.Usually, true
	}
	if given {
		f.Example, f.Unit = asTyped(p, in)
	}
	return f
}

// asTyped is a value as a reader would type it, with the unit that stands
// beside it.
func asTyped(p method.Point, in *method.Input) (string, unit.Unit) {
	u := in.Unit
	if p.Known() && in.Choice == nil && p.Unit.Kind() == u.Kind() {
		u = p.Unit
	}
	switch {
	case !p.Known():
		return method.DontKnow, u
	case p.Value.List == nil:
		return memberTyped(p.Value, p.Text, in, u), u
	}
	texts := make([]string, len(p.Value.List))
	for i, m := range p.Value.List {
		texts[i] = memberTyped(m, "", in, u)
	}
	return strings.Join(texts, " and "), u
}

// memberTyped is one number without its unit, as it was typed where that says
// all of it; or a word as it is printed.
func memberTyped(v formula.Value, text string, in *method.Input, u unit.Unit) string {
	switch {
	case v.State != formula.Known:
		return method.DontKnow
	case in.Choice != nil && in.Group != "":
		return in.Printed(v.Word)
	case in.Choice != nil:
		return v.Word
	}
	if plain := method.PointOf(unit.Quantity{Value: v.Number, Unit: u}, fault.Place{}).Text; plain != text {
		if q, f := unit.Read(fault.NewText("", text).All()); f != nil || math.Abs(q.Value-v.Number) > sameWithin*math.Abs(v.Number) {
			text = plain
		}
	}
	return strings.TrimSpace(strings.TrimSuffix(text, u.Symbol()))
}
