package method

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

//go:embed runtime.js
var scriptRuntime string

//go:embed settle.js
var scriptSettle string

//go:embed work.js
var scriptWork string

// ScriptRuntime is the JavaScript that methods are worked with in a reader's
// browser: the runtimes of formulas, of units and of methods, one behind the
// other. What it does and what a page may ask of it stands at the head of
// runtime.js. It names one object, bindpost, and touches neither a page nor a
// network.
func ScriptRuntime() string {
	return scriptHead + bared(formula.ScriptRuntime+unit.Script()+scriptRuntime+scriptSettle+scriptWork+"bindpost.words("+asJSON(scriptWords())+");\n")
}

// scriptHead tells somebody who opens the file what it is.
const scriptHead = "// What the methods of this manual are worked with in a reader's browser: formulas, units and their printing.\n"

// bared leaves out what a browser does not need: lines of comment, and the
// white space before a line. No text of the runtimes runs over a line's end.
func bared(script string) string {
	var lines []string
	for line := range strings.Lines(script) {
		line = strings.TrimLeft(line, " ")
		if !strings.HasPrefix(line, "//") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "")
}

// scriptWords are the words round values that stand in this package.
func scriptWords() map[string]string {
	return map[string]string{
		"dontKnow": DontKnow, "notKnown": notKnown, "none": noneFor, "cannotTell": CannotTell, "unworked": unworked,
		"nothing": nothing, "and": members, "fits": Fits, "doubtful": Doubtful, "standsIn": standsIn, "gap": lacking,
		"noRow": noRow, "stepOf": stepOf,
	}
}

// Scripted returns the methods whose scripts a page needs so that a reader can
// work one with numbers of his own: those that it borrows from, each before the
// one that borrows, and itself last. It is nil for a method that is written in
// Go, or borrows from one.
func (l *Library) Scripted(name string) []string {
	d, ok := l.methods[name].(*Data)
	if !ok || d.broken {
		return nil
	}
	var all []string
	for _, lender := range d.sheet.Borrows {
		before := l.Scripted(lender)
		if before == nil {
			return nil
		}
		for _, one := range before {
			if !slices.Contains(all, one) {
				all = append(all, one)
			}
		}
	}
	return append(all, name)
}

// Script returns the method of a name as a JavaScript file for [ScriptRuntime]
// to work; it is "" for a method that has none.
func (l *Library) Script(name string) string {
	if d, ok := l.methods[name].(*Data); ok && !d.broken {
		return d.Script()
	}
	return ""
}

// Script writes the method as a call that puts it on the list of those that the
// reader's browser works. Methods that it borrows from must be on the list
// before it. As of formulas, the text may stand in a script file and in a script
// element as it is.
func (d *Data) Script() string {
	w := &methodWriter{data: d}
	w.field("takes", w.takes())
	w.field("oneOf", asJSON(append([][]string{}, d.sheet.OneOf...)))
	w.field("needs", w.list(len(d.needs), func(i int) string {
		n := d.needs[i]
		return fmt.Sprintf("{holds: v => %s, why: %s, uses: %s}", n.holds.Script(), asJSON(n.why), asJSON(n.holds.Uses()))
	}))
	w.field("constants", w.constants())
	w.field("steps", w.steps())
	w.field("gives", w.list(len(d.sheet.Gives), func(i int) string { return w.result(d.sheet.Gives[i]) }))
	w.field("verdicts", w.list(len(d.verdicts), func(i int) string { return w.ruling(d.verdicts[i]) }))
	w.field("cautions", w.list(len(d.cautions), func(i int) string { return w.trigger(d.cautions[i]) }))
	return bared(fmt.Sprintf("\"use strict\";\nbindpost.method(%s, k => {\nconst u = %s;\nreturn {%s\n};\n});\n",
		asJSON(d.sheet.Name), w.units(), strings.Join(w.fields, ",")))
}

// methodWriter writes one method. Each unit is written once, and named by its
// place among them.
type methodWriter struct {
	data   *Data
	counts []unit.Unit
	fields []string
}

func (w *methodWriter) field(name, value string) {
	w.fields = append(w.fields, "\n    "+name+": "+value)
}

func (w *methodWriter) list(n int, item func(i int) string) string {
	items := make([]string, n)
	for i := range items {
		items[i] = "\n      " + item(i)
	}
	return "[" + strings.Join(items, ",") + "]"
}

func (w *methodWriter) unit(u unit.Unit) string {
	i := slices.Index(w.counts, u)
	if i < 0 {
		i = len(w.counts)
		w.counts = append(w.counts, u)
	}
	return fmt.Sprintf("u[%d]", i)
}

func (w *methodWriter) units() string {
	all := make([]string, len(w.counts))
	for i, u := range w.counts {
		all[i] = u.Script()
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// object writes the fields of an object, those left out that are "".
func object(fields ...string) string {
	var parts []string
	for i := 0; i < len(fields); i += 2 {
		if fields[i+1] != "" {
			parts = append(parts, fields[i]+": "+fields[i+1])
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// maybe writes a value, and "" for the zero one.
func maybe[T comparable](x T) string {
	var zero T
	if x == zero {
		return ""
	}
	return asJSON(x)
}

// takes writes the values that the method takes. One that is passed through to
// a borrowed method stands there, and here only its name.
func (w *methodWriter) takes() string {
	takes := w.data.sheet.Takes
	return w.list(len(takes), func(i int) string {
		if i >= w.data.passed {
			if lender := w.data.lender(takes[i]); lender != "" {
				return asJSON(lender + " " + takes[i].Name)
			}
		}
		return w.input(takes[i])
	})
}

// lender returns the borrowed method that takes an input, "" where none does.
func (d *Data) lender(in *Input) string {
	for _, s := range d.steps {
		if s.borrow != nil && slices.Contains(s.borrow.from.Sheet().Takes, in) {
			return s.borrow.from.Sheet().Name
		}
	}
	return ""
}

func (w *methodWriter) input(i *Input) string {
	when, usual, among := "", "", ""
	if i.When != nil {
		when = "v => " + i.When.Script()
	}
	if i.Usual != nil {
		usual = object("from", bound(&i.Usual.From), "to", bound(&i.Usual.To))
	}
	if len(i.Among) > 0 {
		among = w.points(i.Among)
	}
	usually, book := "", ""
	if i.Usually != nil {
		usually = w.point(*i.Usually)
	}
	if len(i.Book) > 0 {
		book = asJSON(i.bookTexts())
	}
	return object("key", asJSON(i.Name), "label", asJSON(i.Label()), "says", asJSON(i.Fact()), "sense", maybe(i.Sense),
		"symbol", maybe(i.Symbol), "unit", w.unit(i.Unit), "choice", choiceScript(i.Choice, i.Print), "whole", maybe(i.Whole),
		"optional", maybe(i.Optional), "each", maybe(i.Group), "from", bound(i.From), "to", bound(i.To), "usual", usual,
		"among", among, "usually", usually, "book", book, "when", when)
}

// bookTexts are the book's examples as they are typed.
func (i *Input) bookTexts() []string {
	texts := make([]string, len(i.Book))
	for k, p := range i.Book {
		if texts[k] = p.Text; i.Choice != nil && p.Known() {
			texts[k] = asTyped(p.Value)
		}
	}
	return texts
}

func bound(b *Bound) string {
	if b == nil {
		return ""
	}
	return object("x", asJSON(b.Value), "text", asJSON(b.Text))
}

func (w *methodWriter) points(all []Point) string {
	return w.list(len(all), func(i int) string { return w.point(all[i]) })
}

func (w *methodWriter) point(p Point) string {
	return object("x", valueScript(p.Value), "text", asJSON(p.Text), "unit", w.unit(p.Unit))
}

// valueScript writes a value as scripts of formulas have it.
func valueScript(v formula.Value) string {
	switch {
	case v.State == formula.Unknown:
		return object("unknown", asJSON(v.Why))
	case v.State != formula.Known:
		return object("none", asJSON(v.Why))
	case v.List != nil:
		all := make([]string, len(v.List))
		for i, m := range v.List {
			all[i] = valueScript(m)
		}
		return "[" + strings.Join(all, ", ") + "]"
	case v.Word != "":
		return asJSON(v.Word)
	}
	return asJSON(v.Number)
}

// choiceScript writes the words of a choice, each with what is printed for it.
func choiceScript(words []string, print map[string]string) string {
	if words == nil {
		return ""
	}
	var fields []string
	for _, word := range words {
		shown := ""
		if p := printed(print, word); p != word {
			shown = p
		}
		fields = append(fields, asJSON(word), asJSON(shown))
	}
	return object(fields...)
}

func (w *methodWriter) constants() string {
	var fields []string
	for _, name := range sortedKeys(w.data.constants) {
		n := w.data.constants[name].number
		p := Point{Value: formula.Quantity(n.Value), Text: typed(unit.Quantity{Value: n.Value, Unit: n.Unit, Text: n.Text}), Unit: n.Unit}
		fields = append(fields, name, w.point(p))
	}
	return object(fields...)
}

func (w *methodWriter) result(r *Result) string {
	format := ""
	if r.Words == nil {
		format = w.format(r.Format)
	}
	return object("name", asJSON(r.Name), "label", asJSON(r.Label()), "says", asJSON(r.Caption()), "sense", maybe(r.Sense),
		"of", asJSON(r.Of), "choice", choiceScript(r.Words, r.Print), "format", format)
}

func (w *methodWriter) format(f unit.Format) string {
	return object("unit", w.unit(f.Unit), "places", maybe(f.Places), "figures", maybe(f.Figures), "round", maybe(f.Round.Way()))
}

func (w *methodWriter) ruling(r *ruling) string {
	rows := make([]string, len(r.rows))
	for i, row := range r.rows {
		when, uses := "", ""
		if row.when != nil {
			when, uses = "v => "+row.when.Script(), asJSON(row.when.Uses())
		}
		rows[i] = object("grade", asJSON(row.grade), "words", asJSON(row.words), "when", when, "uses", uses)
	}
	return fmt.Sprintf("{name: %s, rows: [%s]}", asJSON(r.name), strings.Join(rows, ", "))
}

func (w *methodWriter) trigger(t *trigger) string {
	when := ""
	if t.when != nil {
		when = "v => " + t.when.Script()
	}
	return object("id", asJSON(t.caution.ID), "when", when)
}

// asJSON writes a value so that it may stand in a script file and in a script
// element alike.
func asJSON(v any) string {
	b, err := json.Marshal(v) // escapes <, >, & and the line separators too
	if err != nil {
		panic("method: a value that cannot be written: " + err.Error())
	}
	return string(b)
}
