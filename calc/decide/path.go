package decide

import (
	"fmt"
	"slices"
	"strings"
)

// Step is one step of a question path: a condition to ask, and where each
// reply leads.
type Step struct {
	Condition int
	Next      [3]Turn // by reply
}

// Turn is where a reply leads: to a step, or to an answer.
type Turn struct {
	Step int // its place in the path, from 0; -1 where an answer is reached
	Rule int // the rule that answers; len(Rules) is the otherwise
}

// Path returns a question path through a sound table: the steps in the order
// in which they are met, the first of them first. It asks only what still
// matters to the answer: first what the first rule hangs on alone, so that
// what stops somebody is asked before anything is tried, and else the
// condition that settles most before others. Parts that ask and answer alike
// stand once. It is empty where all rules give the same answer.
func (t *Table) Path() []Step {
	b := &pather{table: t, seen: map[string]int{}}
	b.walk(t.whole())
	return b.steps
}

// pather builds a path.
type pather struct {
	table *Table
	steps []Step
	seen  map[string]int // steps by the region's rules as they still matter
}

// walk returns where a region leads, and adds the steps it needs.
func (b *pather) walk(r region) Turn {
	rules := b.reached(r)
	if b.answers(rules) == 1 {
		return Turn{Step: -1, Rule: rules[0]}
	}
	key := b.key(r, rules)
	if at, ok := b.seen[key]; ok {
		return Turn{Step: at}
	}
	at := len(b.steps)
	b.seen[key] = at
	condition := b.alone(r, rules[0])
	if condition < 0 {
		condition = b.telling(r)
	}
	b.steps = append(b.steps, Step{Condition: condition})
	for _, reply := range replies {
		part := slices.Clone(r)
		part[b.steps[at].Condition] = SetOf(reply)
		turn := b.walk(part)
		b.steps[at].Next[reply] = turn
	}
	return Turn{Step: at}
}

// reached returns the rules that answer some case of a region.
func (b *pather) reached(r region) []int {
	var all []int
	left := []region{r}
	for i, rule := range b.table.Rules {
		var next []region
		for _, part := range left {
			if part.meet(rule.When) != nil && (len(all) == 0 || all[len(all)-1] != i) {
				all = append(all, i)
			}
			next = append(next, part.without(rule.When)...)
		}
		left = next
	}
	if len(left) > 0 {
		all = append(all, len(b.table.Rules))
	}
	return all
}

// answers counts the answers that some rules give.
func (b *pather) answers(rules []int) int {
	given := map[int]bool{}
	for _, i := range rules {
		given[b.table.answer(i)] = true
	}
	return len(given)
}

// key names what a region still has to settle: each rule that may answer, with
// what it asks of the conditions that are still open.
func (b *pather) key(r region, rules []int) string {
	var key strings.Builder
	for _, i := range rules {
		fmt.Fprintf(&key, "%d", i)
		if i < len(b.table.Rules) {
			for n, s := range b.table.Rules[i].When {
				open := Any
				if r[n] == Any {
					open = s
				}
				fmt.Fprintf(&key, " %d", open)
			}
		}
		key.WriteByte(';')
	}
	for _, s := range r {
		if s == Any {
			key.WriteByte('?')
		} else {
			key.WriteByte('.')
		}
	}
	return key.String()
}

// alone returns the open condition that a rule still asks if it asks no other,
// and -1 if not.
func (b *pather) alone(r region, rule int) int {
	if rule == len(b.table.Rules) {
		return -1
	}
	only := -1
	for n, s := range b.table.Rules[rule].When {
		if s == Any || r[n] != Any {
			continue
		}
		if only >= 0 {
			return -1
		}
		only = n
	}
	return only
}

// telling returns the open condition after which fewest answers are left to
// choose between, and of those alike the one that leaves fewest rules; the
// first of those.
func (b *pather) telling(r region) int {
	best, fewest := -1, [2]int{}
	for n, s := range r {
		if s != Any || !b.asks(r, n) {
			continue
		}
		var left [2]int // answers, rules
		for _, reply := range replies {
			part := slices.Clone(r)
			part[n] = SetOf(reply)
			rules := b.reached(part)
			left[0] += b.answers(rules)
			left[1] += len(rules)
		}
		if best < 0 || slices.Compare(left[:], fewest[:]) < 0 {
			best, fewest = n, left
		}
	}
	return best
}

// asks reports whether a rule that may answer in a region asks a condition.
func (b *pather) asks(r region, condition int) bool {
	return slices.ContainsFunc(b.reached(r), func(i int) bool {
		return i < len(b.table.Rules) && b.table.Rules[i].When[condition] != Any
	})
}

// Follow answers a case by a path: it returns the rule reached.
func Follow(path []Step, c Case) int {
	if len(path) == 0 {
		return 0
	}
	at := 0
	for {
		turn := path[at].Next[c[path[at].Condition]]
		if turn.Step < 0 {
			return turn.Rule
		}
		at = turn.Step
	}
}
