package trade

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// answer is what a method in Go says of the values at one point.
type answer struct {
	results    map[string]formula.Value
	how        map[string]string // by result, how it comes about: the rule of its worked line
	verdicts   []method.Verdict
	references []string
	cautions   []string // of these, the ones that the library has
}

// answered is a method in Go whose results all come of one answer.
type answered struct {
	sheet   *method.Sheet
	library *method.Library // nil until the entries are read
	answer  func(v method.Values) answer
	cases   func(a *answered, faults *fault.List)
	says    said
}

var (
	_ method.Method  = (*answered)(nil)
	_ method.Entried = (*answered)(nil)
	_ method.Worded  = (*answered)(nil)
)

// Texts implements [method.Worded].
func (a *answered) Texts(visit func(key string, text *string)) { a.says.texts(visit) }

// Sheet implements [method.Method].
func (a *answered) Sheet() *method.Sheet { return a.sheet }

// With implements [method.Entried]: the references and cautions that the
// library has not are left out of the sheet, and the cases name one each.
func (a *answered) With(l *method.Library) (method.Method, *fault.List) {
	faults, sheet := &fault.List{}, *a.sheet
	sheet.References = slices.DeleteFunc(slices.Clone(sheet.References), func(id string) bool { _, ok := l.Reference(id); return !ok })
	sheet.Cautions = slices.DeleteFunc(slices.Clone(sheet.Cautions), func(id string) bool { _, ok := l.Caution(id); return !ok })
	b := &answered{sheet: &sheet, library: l, answer: a.answer, cases: a.cases, says: a.says}
	if b.cases != nil {
		b.cases(b, faults)
	}
	return b, faults
}

// Run implements [method.Method].
func (a *answered) Run(v method.Values, results ...string) *method.Outcome {
	got := a.answer(a.standing(v))
	taken, _ := takenOf(a.sheet, v)
	o := method.NewOutcome(taken)
	o.Verdicts = got.verdicts
	for _, r := range a.sheet.Gives {
		if len(results) == 0 || slices.Contains(results, r.Name) {
			o.Results.Set(r.Name, got.results[r.Name])
		}
	}
	o.References = a.named(got.references)
	for _, id := range got.cautions {
		if c, ok := a.library.Caution(id); ok {
			o.Cautions = append(o.Cautions, c)
		}
	}
	return o
}

// standing returns the values with the usual ones where nothing is known.
func (a *answered) standing(v method.Values) method.Values {
	for _, in := range a.sheet.Takes {
		if p, typed := v[in.Name]; in.Usually != nil && (!typed || !p.Known()) {
			v = v.With(in.Name, *in.Usually)
		}
	}
	return v
}

func (a *answered) named(ids []string) []*method.Reference {
	var all []*method.Reference
	for _, id := range ids {
		if r, ok := a.library.Reference(id); ok {
			all = append(all, r)
		}
	}
	return all
}

// Work implements [method.Method]: one step for each result.
func (a *answered) Work(v method.Values, results ...string) [][]method.Worked {
	all, got := make([][]method.Worked, len(results)), a.answer(a.standing(v))
	for i, name := range results {
		all[i] = workedOf(a.sheet, name, got.how[name], got.results[name], a.named(got.references))
	}
	return all
}
