package decide

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

// everyCase calls do for each of the 3^n cases.
func everyCase(n int, do func(Case)) {
	c := make(Case, n)
	var walk func(int)
	walk = func(i int) {
		if i == n {
			do(c)
			return
		}
		for _, r := range replies {
			c[i] = r
			walk(i + 1)
		}
	}
	walk(0)
}

// everyCaseOf calls do for each case of a region.
func everyCaseOf(when []Set, do func(Case)) {
	everyCase(len(when), func(c Case) {
		if !slices.ContainsFunc(seq(len(c)), func(n int) bool { return !when[n].Has(c[n]) }) {
			do(c)
		}
	})
}

// drawnTable draws rules that often leave holes and overlaps.
func drawnTable(r *rand.Rand) *Table {
	t := &Table{Conditions: 1 + r.IntN(5), Otherwise: r.IntN(3) == 0}
	for range 1 + r.IntN(6) {
		rule := Rule{When: make([]Set, t.Conditions)}
		for i := range rule.When {
			rule.When[i] = []Set{Any, Any, SetOf(Yes), SetOf(No), SetOf(DontKnow), SetOf(Yes, No), SetOf(No, DontKnow)}[r.IntN(7)]
		}
		t.Rules = append(t.Rules, rule)
	}
	return t
}

// split makes a sound table by splitting all cases again and again.
func split(r *rand.Rand, conditions int) *Table {
	t := &Table{Conditions: conditions}
	whole := make([]Set, conditions)
	for i := range whole {
		whole[i] = Any
	}
	parts := [][]Set{whole}
	for range 3 + r.IntN(8) {
		i, n := r.IntN(len(parts)), r.IntN(conditions)
		if parts[i][n] != Any {
			continue
		}
		one, rest := slices.Clone(parts[i]), slices.Clone(parts[i])
		one[n] = SetOf(replies[r.IntN(3)])
		rest[n] = Any &^ one[n]
		parts = append(append(parts[:i:i], parts[i+1:]...), one, rest)
	}
	for _, p := range parts {
		t.Rules = append(t.Rules, Rule{When: p})
	}
	return t
}

func (t *Table) holding(c Case) []int {
	var all []int
	for i, rule := range t.Rules {
		if !slices.ContainsFunc(seq(len(c)), func(n int) bool { return !rule.When[n].Has(c[n]) }) {
			all = append(all, i)
		}
	}
	return all
}

func seq(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// TestCheck holds what Check finds in random tables against looking at every
// case.
func TestCheck(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	seen := [3]int{}
	for range 3000 {
		table := drawnTable(r)
		found := table.Check()
		hole, reached := false, make([]bool, len(table.Rules)+1)
		overlapping := map[[2]int]bool{}
		everyCase(table.Conditions, func(c Case) {
			all := table.holding(c)
			switch {
			case len(all) == 0:
				hole = hole || !table.Otherwise
				reached[len(table.Rules)] = true
			default:
				reached[all[0]] = true
			}
			for n, i := range all {
				for _, j := range all[n+1:] {
					overlapping[[2]int{i, j}] = true
				}
			}
		})
		if hole != (len(found.Holes) > 0) {
			t.Fatalf("%+v: a hole is %v, and found are %v", table, hole, found.Holes)
		}
		for _, h := range found.Holes {
			everyCaseOf(h.When, func(c Case) {
				if len(table.holding(c)) > 0 {
					t.Fatalf("%+v: %v is no hole", table, c)
				}
			})
			seen[0]++
		}
		for i := range reached {
			want := !reached[i] && (i < len(table.Rules) || table.Otherwise)
			if got := slices.Contains(found.Unreachable, i); got != want {
				t.Fatalf("%+v: that rule %d is never reached is %v", table, i, want)
			}
			seen[1] += len(found.Unreachable)
		}
		for _, o := range found.Overlaps {
			everyCaseOf(o.When, func(c Case) {
				if both := table.holding(c); !slices.Contains(both, o.First) || !slices.Contains(both, o.Second) {
					t.Fatalf("%+v: %+v is no overlap", table, o)
				}
			})
			if slices.Contains(found.Unreachable, o.First) || slices.Contains(found.Unreachable, o.Second) {
				t.Fatalf("%+v: %+v is an overlap of a rule that is never reached, and told already", table, o)
			}
			if slices.Contains(found.Unreachable, o.First) || slices.Contains(found.Unreachable, o.Second) {
				t.Fatalf("%+v: %+v is told of a rule that is never reached: %v", table, o, found.Unreachable)
			}
			delete(overlapping, [2]int{o.First, o.Second})
			seen[2]++
		}
		for pair := range overlapping {
			if !slices.Contains(found.Unreachable, pair[0]) && !slices.Contains(found.Unreachable, pair[1]) {
				t.Fatalf("%+v: the overlap %v was not found", table, pair)
			}
		}
	}
	if slices.Contains(seen[:], 0) {
		t.Errorf("too little was met: %v", seen)
	}
}

// TestPath follows the question path of sound tables for every case: it
// reaches the rule that the table gives, asks nothing twice, and has no step
// that nothing leads to.
func TestPath(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	for range 400 {
		table := split(r, 2+r.IntN(5))
		if found := table.Check(); !found.Sound() {
			t.Fatalf("%+v is not sound: %+v", table, found)
		}
		if r.IntN(3) == 0 && len(table.Rules) > 2 { // the last rule as an otherwise
			table.Rules, table.Otherwise = table.Rules[:len(table.Rules)-1], true
		}
		if r.IntN(2) == 0 { // some rules give the same answer
			for range len(table.Rules) + 1 {
				table.Answers = append(table.Answers, r.IntN(3))
			}
		}
		path := table.Path()
		met := make([]bool, len(path))
		everyCase(table.Conditions, func(c Case) {
			if got, want := table.answer(Follow(path, c)), table.answer(table.Answer(c)); got != want {
				t.Fatalf("%+v: the path leads %v to %d, and the table to %d", table, c, got, want)
			}
			asked := map[int]bool{}
			for at := 0; len(path) > 0; {
				if asked[path[at].Condition] {
					t.Fatalf("%+v: %d is asked twice on the way of %v", table, path[at].Condition, c)
				}
				asked[path[at].Condition], met[at] = true, true
				turn := path[at].Next[c[path[at].Condition]]
				if turn.Step < 0 {
					break
				}
				at = turn.Step
			}
		})
		if slices.Contains(met, false) {
			t.Fatalf("%+v: a step of %+v is never met", table, path)
		}
	}
}

// TestAsksNoMore: where two rules give the same answer, the path does not ask
// what tells them apart.
func TestAsksNoMore(t *testing.T) {
	table := &Table{Conditions: 2, Rules: []Rule{
		{[]Set{SetOf(Yes), SetOf(Yes)}}, {[]Set{SetOf(Yes), SetOf(No, DontKnow)}}, {[]Set{SetOf(No, DontKnow), Any}},
	}, Answers: []int{0, 0, 1, 2}}
	if path := table.Path(); len(path) != 1 || path[0].Condition != 0 {
		t.Errorf("the path is %+v", path)
	}
}

// TestUnreachableIsToldOnce: a rule that is never reached lies over the rules
// before it, and over rules after it; neither is told as an overlap, but one
// between rules that are reached is.
func TestUnreachableIsToldOnce(t *testing.T) {
	yes, no, open := SetOf(Yes), SetOf(No), SetOf(DontKnow)
	table := &Table{Conditions: 2, Rules: []Rule{
		{[]Set{yes, Any}},
		{[]Set{no, Any}},
		{[]Set{yes | no, yes}},   // never reached: the two before it answer all of its cases
		{[]Set{open | no, yes}},  // overlaps the second rule
		{[]Set{open, no | open}}, // the rest
	}}
	found := table.Check()
	want := Found{Unreachable: []int{2}, Overlaps: []Overlap{{1, 3, []Set{no, yes}}}}
	if !reflect.DeepEqual(found, want) {
		t.Errorf("found %+v, want %+v", found, want)
	}
	table.Otherwise = true
	if found = table.Check(); !slices.Equal(found.Unreachable, []int{2, 5}) || len(found.Overlaps) != 1 {
		t.Errorf("with an otherwise that is never reached: %+v", found)
	}
}

// TestDontKnow: a reply that nobody named falls into no rule.
func TestDontKnow(t *testing.T) {
	table := &Table{Conditions: 1, Rules: []Rule{{[]Set{SetOf(Yes)}}, {[]Set{SetOf(No)}}}}
	found := table.Check()
	if len(found.Holes) != 1 || found.Holes[0].Some()[0] != DontKnow {
		t.Errorf("found %+v", found)
	}
	if got := table.Answer(Case{DontKnow}); got != -1 {
		t.Errorf("don't know is answered by rule %d", got)
	}
}

// TestLarge: twelve conditions are checked without looking at 531,441 cases.
func TestLarge(t *testing.T) {
	table := &Table{Conditions: 12, Otherwise: true}
	for i := range 12 {
		when := make([]Set, 12)
		for n := range when {
			switch {
			case n < i:
				when[n] = SetOf(No, DontKnow)
			case n == i:
				when[n] = SetOf(Yes)
			default:
				when[n] = Any
			}
		}
		table.Rules = append(table.Rules, Rule{when})
	}
	if found := table.Check(); !found.Sound() {
		t.Errorf("found %+v", found)
	}
	if path := table.Path(); len(path) != 12 {
		t.Errorf("the path has %d steps", len(path))
	}
}

// TestStopsFirst: what the first rule hangs on alone is asked first, though
// another condition would settle more; and the same of each rule after it.
func TestStopsFirst(t *testing.T) {
	yes, rest := SetOf(Yes), SetOf(No, DontKnow)
	table := &Table{Conditions: 4, Otherwise: true, Rules: []Rule{
		{[]Set{yes, Any, Any, Any}}, // somebody may be hurt
		{[]Set{rest, yes, Any, Any}},
		{[]Set{rest, rest, SetOf(No), Any}},
		{[]Set{rest, rest, yes, yes}},
		{[]Set{rest, rest, yes, rest}},
	}}
	var order []int
	for _, step := range table.Path() {
		order = append(order, step.Condition)
	}
	if !slices.Equal(order, []int{0, 1, 2, 3}) {
		t.Errorf("the conditions are asked in the order %v", order)
	}
}
