package method

import (
	"slices"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// Words round values, here and in the reader's browser.
const (
	nothing  = "nothing" // a list without members
	noneFor  = "none: "  // and why
	unworked = "cannot be worked"
	members  = " and "         // between the members of a list
	notKnown = " is not known" // behind a fact
)

// text prints a value of the input in its own unit, with as few digits as it
// needs.
func (i *Input) text(v formula.Value) string {
	if v.Word != "" {
		return i.Printed(v.Word)
	}
	return typed(unit.Quantity{Value: v.Number, Unit: i.Unit})
}

// Text prints a value of the result as a sentence can hold it: with its unit,
// which stands once behind a list, or why there is no number.
func (r *Result) Text(v formula.Value) string {
	if r.Words == nil && allKnown(v.List) {
		last := len(v.List) - 1
		return r.Number(formula.ListOf(v.List[:last]...)) + members + r.Format.Text(v.List[last].Number)
	}
	return r.print(v, r.Format.Text)
}

// allKnown reports whether a list has several members and each is known.
func allKnown(list []formula.Value) bool {
	return len(list) > 1 && eachKnown(list)
}

// eachKnown reports whether every member of a list is known.
func eachKnown(list []formula.Value) bool {
	return !slices.ContainsFunc(list, func(m formula.Value) bool { return m.State != formula.Known })
}

// Number prints a value of the result without its unit. A value that is not
// known prints as in [Result.Text].
func (r *Result) Number(v formula.Value) string {
	return r.print(v, r.Format.Number)
}

// Members prints the members of a list, each as [Result.Number] prints it; nil
// of a value that is no list, or that has fewer than two members.
func (r *Result) Members(v formula.Value) []string {
	if v.State != formula.Known || len(v.List) < 2 {
		return nil
	}
	members := make([]string, len(v.List))
	for i, m := range v.List {
		members[i] = r.print(m, r.Format.Number)
	}
	return members
}

func (r *Result) print(v formula.Value, number func(float64) string) string {
	switch {
	case v.State == formula.None:
		return noneFor + v.Why
	case v.State == formula.Unknown:
		return CannotTell + ": " + v.Why
	case v.State == formula.Failed:
		return unworked
	case v.List != nil && len(v.List) == 0:
		return nothing
	case v.List != nil:
		texts := make([]string, len(v.List))
		for i, m := range v.List {
			texts[i] = r.print(m, number)
		}
		if r.Ordered {
			return strings.Join(texts, ", then ")
		}
		return strings.Join(texts, members)
	case r.Words != nil:
		return printed(r.Print, v.Word)
	}
	return number(v.Number)
}
