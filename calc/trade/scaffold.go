package trade

import (
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// takenOf lists the values of a sheet as a method in Go takes them, and the same
// by name: what was typed and is known, else the usual value. A value of which
// there is neither is left out of both.
func takenOf(s *method.Sheet, v method.Values) (taken []method.Taken, at method.Values) {
	at = method.Values{}
	for _, in := range s.Takes {
		p, typed := v[in.Name]
		switch {
		case typed && p.Known():
			taken = append(taken, method.Taken{Input: in, Point: p})
		case in.Usually != nil:
			p = *in.Usually
			taken = append(taken, method.Taken{Input: in, Point: p, Usual: !typed, Assumed: typed})
		default:
			continue
		}
		at[in.Name] = p
	}
	return taken, at
}

// workedOf is the one step by which a method in Go shows a result: the value, and
// in words how it was found, for there is no formula whose names could be given
// their numbers. A result that is not there has no step.
func workedOf(s *method.Sheet, name, how string, value formula.Value, from []*method.Reference) []method.Worked {
	if value.State == formula.Failed || value.State == formula.Unknown {
		return nil
	}
	return []method.Worked{{
		Name: name, Method: s.Name, Borrowed: how, Value: value, Text: s.Result(name).Text(value), References: from,
		Given:  func(string) (string, bool) { return "", false },
		Symbol: func(string) string { return "" },
	}}
}
