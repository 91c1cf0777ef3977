package method

import (
	"strings"

	"bindpost/calc/formula"
)

// steps writes the lines of the working, in their order; own functions are
// written into the formulas that call them.
func (w *methodWriter) steps() string {
	var all []string
	for _, st := range w.data.steps {
		switch {
		case st.borrow != nil:
			all = append(all, w.borrowed(st))
		case st.body != nil:
			all = append(all, w.worked(st))
		}
	}
	return w.list(len(all), func(i int) string { return all[i] })
}

// worked writes a step with its rule: how it comes to its value, which of its
// outcomes it comes to, and how each of them is set.
func (w *methodWriter) worked(st *step) string {
	var rules []string
	for _, n := range st.body.Outcomes() {
		rules = append(rules, asJSON(formula.MathTemplate(n)))
	}
	choose, whole := "", ""
	if len(rules) > 1 {
		choose, whole = "v => "+st.body.ChoiceScript(), asJSON(formula.MathTemplate(st.body.Node()))
	}
	return object("name", asJSON(st.line.Name.Text), "symbol", maybe(w.data.symbol(st.line.Name.Text)),
		"unit", w.unit(printer{}.format(&run{data: w.data}, st).Unit), "work", "v => "+st.body.Script(),
		"choose", choose, "rules", "["+strings.Join(rules, ", ")+"]", "whole", whole)
}

// borrowed writes a step that borrows a result, with what it binds. Of a value
// that is bound to another step, the name of that step says how it is printed.
func (w *methodWriter) borrowed(st *step) string {
	var with, named []string
	for _, name := range sortedKeys(st.borrow.with) {
		b := st.borrow.with[name]
		if b.value == nil {
			with = append(with, name, asJSON(b.word))
			continue
		}
		with = append(with, name, "v => "+b.value.Script())
		if n, ok := b.value.Node().(*formula.Name); ok && w.data.byName[n.Text] != nil {
			named = append(named, name, asJSON(n.Text))
		}
	}
	as := ""
	if named != nil {
		as = object(named...)
	}
	from := st.borrow.from.Sheet()
	return object("name", asJSON(st.line.Name.Text), "symbol", maybe(w.data.symbol(st.line.Name.Text)), "of", asJSON(from.Name),
		"gives", asJSON(st.borrow.result.Of), "result", asJSON(st.borrow.result.Name), "loan", asJSON(st.borrow.key),
		"with", object(with...), "as", as, "unit", w.unit(printer{}.format(&run{data: w.data}, st).Unit))
}
