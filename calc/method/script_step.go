package method

import (
	"slices"
	"strconv"
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

// worked writes a step with its rules: how it comes to its value, which of its
// outcomes it comes to, and what a worked line of each of them is made from.
func (w *methodWriter) worked(st *step) string {
	var rules []string
	for _, n := range st.body.Outcomes() {
		rules = append(rules, w.rule(n))
	}
	choose, whole := "", ""
	if len(rules) > 1 {
		choose, whole = "v => "+st.body.ChoiceScript(), w.rule(st.body.Node())
	}
	return object("name", asJSON(st.line.Name.Text), "symbol", maybe(w.data.symbol(st.line.Name.Text)),
		"unit", w.unit(printer{}.format(&run{data: w.data}, st).Unit), "work", "v => "+st.body.Script(),
		"choose", choose, "rules", "["+strings.Join(rules, ", ")+"]", "whole", whole)
}

// rule writes what a worked line of a rule is made from: a template, in which
// numbers with a unit are named as values are, #0 and on, these numbers, and the
// rule as somebody works it who heeds no units.
func (w *methodWriter) rule(n formula.Node) string {
	var numbers []string
	scope := &formula.Scope{Values: map[string]formula.Symbol{}}
	named := formula.Replaced(n, func(number *formula.Number) formula.Node {
		if number.Unit.Symbol() == "" && !number.Typed {
			return nil
		}
		name := "#" + strconv.Itoa(len(numbers))
		numbers = append(numbers, w.point(Point{Value: formula.Quantity(number.Value), Text: formula.Text(number), Unit: number.Unit}))
		scope.Values[name] = formula.Symbol{Missing: true}
		return &formula.Name{At: number.At, Text: name}
	})
	names, bare := w.bare(n, named, scope)
	listed, sum := "", ""
	if numbers != nil {
		listed = "[" + strings.Join(numbers, ", ") + "]"
	}
	if bare != "" {
		sum = maybe(summed(n))
	}
	return object("set", asJSON(formula.MathTemplate(named)), "numbers", listed, "names", names, "bare", bare, "sum", sum)
}

// summed reports whether a rule wants brackets before a factor.
func summed(n formula.Node) bool {
	_, isGroup := formula.Scaled(n, &formula.Number{}).(*formula.Binary).Left.(*formula.Group)
	_, wasGroup := n.(*formula.Group)
	return isGroup && !wasGroup
}

// bare writes the rule for plain numbers, with the names of the values in it:
// both "" where units are not to be settled, as [newCalculator] has it.
func (w *methodWriter) bare(n, named formula.Node, scope *formula.Scope) (names, script string) {
	values := []string{}
	for _, name := range formula.Names(n) {
		if name == "pi" || slices.Contains(values, name) {
			continue
		}
		t := w.data.typeOf(name)
		if t.Words != nil {
			return "", ""
		}
		symbol := formula.Symbol{Missing: true}
		if t.Group != "" {
			symbol.Type.Group = "member"
		}
		scope.Values[name] = symbol
		values = append(values, name)
	}
	f, faults := formula.Check(named, scope)
	if f == nil || faults.Stopped() {
		return "", ""
	}
	return asJSON(values), "v => " + f.Script()
}

// typeOf is what the checker knows of a name of the working.
func (d *Data) typeOf(name string) formula.Type {
	if st := d.byName[name]; st != nil {
		return st.typ
	}
	if in := d.sheet.Input(name); in != nil {
		return in.Type()
	}
	return formula.Type{}
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
