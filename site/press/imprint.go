package press

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/phrase"
	"bindpost/calc/record"
	"bindpost/site/guide"
	"bindpost/site/render"
)

// imprintKeys are the lines of imprint.yaml.
var imprintKeys = []string{"title", "publisher", "language", "date", "paper", "type", "measures", "topics", "workings", "format"}

// imprintFormat is the only format of imprints so far.
const imprintFormat = "1"

const imprintExample = "title: What the manual is called"

// readImprint reads what holds for the whole manual. The date stands in the
// imprint and never comes from a clock, so that a copy gives the same manual
// tomorrow.
func readImprint(t *fault.Text, r *render.Renderer, faults *fault.List) guide.Edition {
	if t == nil {
		faults.Add(fault.At(fault.Place{Text: fault.NewText("imprint.yaml", "")}, "is missing from the copy").
			Want("a file that says what the manual is called, and its date").
			Fix("put a file imprint.yaml beside the guides, with the lines title, publisher, language, date and topics"))
		return guide.Edition{}
	}
	n, fs := record.Parse(t)
	faults.Join(fs)
	if n == nil || fs.Stopped() {
		return guide.Edition{}
	}
	faults.Join(n.Keys("the imprint", imprintKeys...))
	e := guide.Edition{
		Title: n.Line("title"), Publisher: n.Line("publisher"), Language: phrase.Tag(n.Line("language")),
		Date: n.Line("date"), Paper: n.Line("paper"), Type: n.Line("type"), Measures: n.Line("measures"),
		Workings: n.Line("workings") == "yes",
	}
	topics, fs := n.Get("topics").Words("topics")
	faults.Join(fs)
	for _, w := range topics {
		e.Topics = append(e.Topics, w.Text)
	}
	checkImprint(t, n, e, faults)
	if e.Language != "" {
		faults.Add(checkLanguage(n.Get("language").Place, e.Language, r))
	}
	e.Paper, _ = guide.Listed(e.Paper, guide.Papers)
	e.Type, _ = guide.Listed(e.Type, guide.TypeSizes)
	return e
}

// checkLanguage tells a language for which there are no words, and notes one
// that is printed in the words of another.
func checkLanguage(at fault.Place, language string, r *render.Renderer) *fault.Fault {
	as, ok := r.SpeaksAs(language)
	are := strings.Join(r.Editions(), ", ")
	switch {
	case !ok:
		return fault.At(at, "there are no words for the language %q", at).Want("one of: %s", are)
	case !strings.HasPrefix(as, language):
		return fault.At(at, "there are no words of its own for %q, and those of %s are printed", at, as).Graded(fault.Note).
			Want("one of: %s; or leave it, if these words will do", are)
	}
	return nil
}

func checkImprint(t *fault.Text, n *record.Node, e guide.Edition, faults *fault.List) {
	for _, must := range []struct{ key, value, example string }{
		{"title", e.Title, imprintExample},
		{"language", e.Language, "language: en-GB"},
		{"date", e.Date, `date: "2026-11-25"`},
	} {
		if must.value == "" && !mistyped(n, must.key) {
			faults.Add(fault.At(t.Place(0, 0), "the imprint has no %s", must.key).Fix("%s", must.example))
		}
	}
	if e.Date != "" && !guide.IsDate(e.Date) {
		faults.Add(fault.At(n.Get("date").Place, "%q is no date", e.Date).
			Want("the day of this edition: year, month and day in quotes").Fix(`date: "2026-11-25"`))
	}
	if f := n.Line("format"); f != "" && f != imprintFormat {
		faults.Add(fault.At(n.Get("format").Place, "format %s is not known to this program", f).
			Want("format: %s", imprintFormat).Fix("press it with the program it was written for, or a newer one"))
	}
	setAs(n, "paper", guide.Papers, faults)
	setAs(n, "type", guide.TypeSizes, faults)
	oneOf(n, "measures", []string{"metric"}, faults)
	oneOf(n, "workings", []string{"yes", "no"}, faults)
}

// mistyped reports whether a line stands in the imprint that is told to be
// another one mistyped: then that one is not told to be missing.
func mistyped(n *record.Node, key string) bool {
	return slices.ContainsFunc(n.Entries, func(e record.Entry) bool {
		return !slices.Contains(imprintKeys, e.Key.Text) && fault.Near(e.Key.Text, imprintKeys) == key
	})
}

// setAs checks a line that knows only some words, however these are spaced and
// whatever their capitals.
func setAs(n *record.Node, key string, words []string, faults *fault.List) {
	if _, ok := guide.Listed(n.Line(key), words); !ok {
		oneOf(n, key, words, faults)
	}
}

// oneOf checks a line that knows only some words.
func oneOf(n *record.Node, key string, words []string, faults *fault.List) {
	v := n.Line(key)
	if v == "" || slices.Contains(words, v) {
		return
	}
	f := fault.At(n.Get(key).Place, "%s cannot be %q", key, v).Want("%s", strings.Join(words, " or "))
	if near := fault.Near(v, words); near != "" {
		f.Fix("%s: %s", key, near)
	}
	faults.Add(f)
}
