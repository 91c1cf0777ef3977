package trade

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/record"
)

// drawer draws values of a method anew from all that it takes: any word of a
// choice, any number between the hard bounds and often the bounds themselves,
// with and without what is optional, and one of each "exactly one of".
type drawer struct {
	r *rand.Rand
	s *method.Sheet
}

// point draws values that the method takes, or gives up after a while.
func (d drawer) point() (method.Values, bool) {
	for range 40 {
		v := d.values()
		if !d.s.Check(v, fault.Place{}).Stopped() {
			return v, true
		}
	}
	return nil, false
}

func (d drawer) values() method.Values {
	v, long := method.Values{}, map[string]int{}
	for _, in := range d.s.Takes {
		if in.When != nil || (in.Optional || in.Usually != nil) && d.r.IntN(3) == 0 {
			continue
		}
		v[in.Name] = d.typed(in, long)
	}
	for _, group := range d.s.OneOf {
		one := group[d.r.IntN(len(group))]
		for _, name := range group {
			delete(v, name)
		}
		v[one] = d.typed(d.s.Input(one), long)
	}
	for _, in := range d.s.Takes {
		if in.When == nil {
			continue
		}
		with := v.With(in.Name, d.typed(in, long))
		if d.s.Check(with, fault.Place{}).Len() <= d.s.Check(v, fault.Place{}).Len() {
			v = with
		}
	}
	return v
}

// typed draws one value; lists of one group have one length.
func (d drawer) typed(in *method.Input, long map[string]int) method.Point {
	if in.Group == "" {
		return d.one(in)
	}
	n, ok := long[in.Group]
	if !ok {
		n = 1 + d.r.IntN(4)
		long[in.Group] = n
	}
	p := method.Point{Value: formula.Value{State: formula.Known}, Unit: in.Unit}
	var texts []string
	for range n {
		m := d.one(in)
		if in.Optional && d.r.IntN(4) == 0 {
			m = method.Point{Value: formula.Value{State: formula.Unknown, Why: "not given"}, Text: "-"}
		}
		p.Value.List = append(p.Value.List, m.Value)
		texts = append(texts, m.Text)
	}
	p.Text = strings.Join(texts, " and ")
	return p
}

func (d drawer) one(in *method.Input) method.Point {
	switch {
	case in.Choice != nil:
		w := in.Choice[d.r.IntN(len(in.Choice))]
		return method.Point{Value: formula.WordOf(w), Text: w}
	case len(in.Among) > 0:
		return in.Among[d.r.IntN(len(in.Among))]
	case in.From == nil || in.To == nil:
		return d.number(in, 1+9*d.r.Float64())
	}
	x := drawn(d.r, in.From.Value, in.To.Value)
	switch d.r.IntN(10) {
	case 0:
		x = in.From.Value
	case 1:
		x = in.To.Value
	}
	return d.number(in, x)
}

// number is a value in base units as a point; whole where the input is.
func (d drawer) number(in *method.Input, x float64) method.Point {
	if in.Whole {
		x = float64(int(x))
		if in.From != nil {
			x = max(x, in.From.Value)
		}
	}
	return method.Point{Value: formula.Quantity(x), Text: fmt.Sprintf("%g %s", in.Unit.FromBase(x), in.Unit.Symbol()), Unit: in.Unit}
}

// ownValues returns the names of the values that a method file itself lists
// under takes, and not only those it borrows with a rule.
func ownValues(t *testing.T, name string) map[string]bool {
	t.Helper()
	text, err := read(files, "methods/"+name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	n, _ := record.Parse(text)
	own := map[string]bool{}
	if takes := n.Get("takes"); takes != nil {
		for _, e := range takes.Entries {
			own[e.Key.Text] = true
		}
	}
	return own
}

// eachData calls do for each formula method, as a test of the method's name.
func eachData(t *testing.T, do func(t *testing.T, d *method.Data)) {
	t.Helper()
	for _, name := range namesHeld() {
		if d, ok := methodOf(t, name).(*method.Data); ok {
			t.Run(name, func(t *testing.T) {
				t.Parallel()
				do(t, d)
			})
		}
	}
}

// casesOf returns the cases of a method; of one that has none, its book's
// example.
func casesOf(s *method.Sheet) []*method.Case {
	if len(s.Cases) > 0 {
		return s.Cases
	}
	v := method.Values{}
	for _, in := range s.Takes {
		if len(in.Book) > 0 && in.When == nil {
			v[in.Name] = in.Book[0]
		}
	}
	return []*method.Case{{Values: v}}
}

// namesHeld are the methods that the long runs are about: all of them, and
// every fifth where the race detector watches.
func namesHeld() []string {
	all := Library().Names()
	if !raced {
		return all
	}
	var some []string
	for i := 0; i < len(all); i += 5 {
		some = append(some, all[i])
	}
	return some
}
