// Package decide is the arithmetic of decision tables: conditions that are
// answered yes, no or don't know, rules that say what then is so, and the proof
// that no case is missed and none answered twice. It knows nothing of how a
// table is written or printed.
package decide

import "slices"

// Reply is what somebody answers to a condition.
type Reply uint8

const (
	Yes Reply = iota
	No
	DontKnow
)

// String returns the reply in words.
func (r Reply) String() string { return [...]string{"yes", "no", "don't know"}[r] }

// replies are all replies, in the order in which a question path names them.
var replies = []Reply{Yes, No, DontKnow}

// Set is a set of replies.
type Set uint8

// SetOf returns the set of some replies.
func SetOf(some ...Reply) Set {
	var s Set
	for _, r := range some {
		s |= 1 << r
	}
	return s
}

// Any is the set of all replies.
const Any Set = 1<<Yes | 1<<No | 1<<DontKnow

// Replies returns the replies of a set: yes, no, don't know, in that order.
func (s Set) Replies() []Reply {
	return slices.DeleteFunc(slices.Clone(replies), func(r Reply) bool { return !s.Has(r) })
}

// Has reports whether a reply is in the set.
func (s Set) Has(r Reply) bool { return s>>r&1 == 1 }

// first returns the first reply of a set that holds one.
func (s Set) first() Reply { return s.Replies()[0] }

// Rule is one rule of a table: it holds where each condition is answered by
// one of its replies.
type Rule struct{ When []Set } // by condition

// Table is a decision table. Its conditions are known by their places.
type Table struct {
	Conditions int
	Rules      []Rule
	Otherwise  bool // what no rule answers has an answer of its own

	// Answers numbers the answer that each rule gives, and behind them that of
	// the otherwise; rules that give the same answer have the same number. Nil
	// gives each an answer of its own.
	Answers []int
}

// answer returns the number of the answer that a rule gives.
func (t *Table) answer(rule int) int {
	if t.Answers == nil {
		return rule
	}
	return t.Answers[rule]
}

// Case is one way to answer all conditions.
type Case []Reply

// region is a set of cases: of each condition the replies that are in it.
type region []Set

func (t *Table) whole() region {
	r := make(region, t.Conditions)
	for i := range r {
		r[i] = Any
	}
	return r
}

// meet returns the cases that lie in two regions, nil for none.
func (r region) meet(when []Set) region {
	m := make(region, len(r))
	for i := range r {
		if m[i] = r[i] & when[i]; m[i] == 0 {
			return nil
		}
	}
	return m
}

// without returns the cases of a region that do not lie in another, as regions
// that do not meet.
func (r region) without(when []Set) []region {
	if r.meet(when) == nil {
		return []region{r}
	}
	var left []region
	rest := slices.Clone(r)
	for i := range r {
		if outside := rest[i] &^ when[i]; outside != 0 {
			part := slices.Clone(rest)
			part[i] = outside
			left = append(left, part)
		}
		rest[i] &= when[i]
	}
	return left
}

// Some returns one case that the rule answers.
func (r Rule) Some() Case { return region(r.When).some() }

// some returns one case of a region.
func (r region) some() Case {
	c := make(Case, len(r))
	for i, s := range r {
		c[i] = s.first()
	}
	return c
}

// Overlap is where two rules answer both: all cases of When.
type Overlap struct {
	First, Second int
	When          []Set
}

// Found is what is wrong with a table; a table is sound where all is empty.
type Found struct {
	Holes       []Rule // where no rule answers, and there is no otherwise: rules that would; a few of them
	Overlaps    []Overlap
	Unreachable []int // rules that can never be reached; len(Rules) is the otherwise
}

// Sound reports whether nothing was found.
func (f Found) Sound() bool {
	return len(f.Holes) == 0 && len(f.Overlaps) == 0 && len(f.Unreachable) == 0
}

// mostHoles is how many holes are named: the same mistake often leaves many.
const mostHoles = 3

// Check proves a table complete and consistent, or finds where it is not. A
// rule of which every case is answered by rules before it can never be
// reached, and is told so rather than as overlapping each of these.
func (t *Table) Check() Found {
	var found Found
	left := []region{t.whole()}
	for i, rule := range t.Rules {
		reached := false
		var next []region
		for _, r := range left {
			reached = reached || r.meet(rule.When) != nil
			next = append(next, r.without(rule.When)...)
		}
		left = next
		if !reached {
			found.Unreachable = append(found.Unreachable, i)
			continue
		}
		for j, earlier := range t.Rules[:i] {
			if both := region(earlier.When).meet(rule.When); both != nil && !slices.Contains(found.Unreachable, j) {
				found.Overlaps = append(found.Overlaps, Overlap{j, i, both})
			}
		}
	}
	switch {
	case t.Otherwise && len(left) == 0:
		found.Unreachable = append(found.Unreachable, len(t.Rules))
	case !t.Otherwise:
		for _, r := range left[:min(mostHoles, len(left))] {
			found.Holes = append(found.Holes, Rule{r})
		}
	}
	return found
}

// Answer returns the rule that answers a case, the first of them in a table
// that is not sound; len(t.Rules) is the otherwise, and -1 no answer.
func (t *Table) Answer(c Case) int {
	for i, rule := range t.Rules {
		holds := true
		for n, s := range rule.When {
			holds = holds && s.Has(c[n])
		}
		if holds {
			return i
		}
	}
	if t.Otherwise {
		return len(t.Rules)
	}
	return -1
}

// Inside reports whether all cases of one region lie in another.
func Inside(inner, outer []Set) bool {
	for i := range inner {
		if inner[i]&^outer[i] != 0 {
			return false
		}
	}
	return true
}

// Matters reports whether any rule asks a condition.
func (t *Table) Matters(condition int) bool {
	return slices.ContainsFunc(t.Rules, func(r Rule) bool { return r.When[condition] != Any })
}
