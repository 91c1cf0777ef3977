package trade

import (
	"cmp"
	"math/bits"
	"slices"
	"strconv"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// A plan tries every way for so many runs, and lays more of them out the
// longest first.
const (
	mostTried = 12
	mostRuns  = 40
)

// The words for how good a plan is.
const (
	planBest = "best"
	planGood = "good"
)

// sameLength is by how much a piece may be longer than what is left, in
// metres: what sums of lengths lose in the computer.
const sameLength = 1e-9

const reelCases = `runs=27 and 27 and 27 m; slack=10 %; ends=0.15 m; reels=50 m | count | 3 | 0 | every-cut
runs=27 and 27 and 27 m; slack=10 %; ends=0.15 m; reels=50 m | bought | 150 m | 0.000001 m | every-cut
runs=6 and 9 and 14 and 14 m; slack=10 %; ends=0.3 m; reels=25 and 50 m | bought | 50 m | 0.000001 m | every-cut
runs=12 and 12 and 8 and 8 and 5 m; slack=10 %; ends=0.3 m; reels=10 and 20 and 30 m | bought | 60 m | 0.000001 m | every-cut
`

// ReelPlan returns the method reel-plan: which lengths of wire to buy for some
// runs, and which run is cut from which. It takes the runs (at most 40), slack
// and ends, of which wire-to-buy, whose text is rule, makes the pieces, and the
// lengths on sale. A piece is never joined of two. The plan buys the least
// length, and of plans that buy the same the one with the fewest reels; up to
// 12 runs every plan was tried, and beyond that plan says "good" unless it is
// surely best. Where a piece is longer than all lengths on sale the results are
// none.
func ReelPlan(rule *fault.Text) method.Method {
	r := &ruled{sheet: &method.Sheet{
		Name: "reel-plan", Asks: "How many reels of wire, and which run from which?", Area: "wire",
		Gives: reelResults(), Moves: reelMoves(), Borrows: []string{"wire-to-buy"},
		CoversNot: "prices, and a shop that cuts to length: there, buy the pieces as they are",
		Hash:      hashOf("reel-plan 1", rule),
	}, shared: []string{"runs", "slack", "ends", "reels"}, references: []string{"wire-allowance", "whole-runs"}, cases: reelCases,
		rule: "pieces of wire-to-buy, laid out over the lengths on sale so that the least is bought", says: said{
			"runs": "one of the runs is not known", "reels": "one of the reels is not known",
			"too many": "a plan has at most {most} runs: plan room by room",
			"too long": "the piece for run {run} is longer than any length on sale, and it may not be joined of two",
		}}
	r.answer = func(l *method.Library, at method.Values) map[string]formula.Value { return reelAnswer(r.says, l, at) }
	return r
}

// reelMoves says how the results go with the runs and with what is allowed for
// each.
func reelMoves() []method.Move {
	var all []method.Move
	for _, with := range []string{"runs", "slack", "ends"} {
		all = append(all,
			method.Move{Result: "pieces", Way: "rises", With: with}, method.Move{Result: "bought", Way: "rises", With: with},
			method.Move{Result: "count", Way: "neither", With: with, Because: "longer pieces may want one long reel in the place of two short ones"},
			method.Move{Result: "left_over", Way: "neither", With: with, Because: "a longer piece leaves less of its reel, or wants a longer one"})
	}
	for _, result := range []string{"count", "bought", "left_over"} {
		all = append(all, method.Move{Result: result, Way: "neither", With: "reels", Because: "other lengths on sale make another plan"})
	}
	return all
}

func reelResults() []*method.Result {
	tenths := unit.Format{Places: 1, Round: unit.Up}
	pieces := giving("pieces", "piece to cut for each run, slack and ends included", "m", tenths)
	from := giving("from_reel", "the reel from which each run is cut", "number", unit.Format{Round: unit.Either})
	pieces.Group, from.Group = "run", "run"
	lengths := giving("reel_lengths", "the reels to buy, in order", "m", unit.Format{Figures: 3, Round: unit.Up})
	left := giving("left_over", "what is left on each of them", "m", unit.Format{Places: 1, Round: unit.Down})
	lengths.Group, left.Group = "bought", "bought"
	lengths.Ordered = true
	return []*method.Result{
		giving("count", "how many reels to buy", "number", unit.Format{Round: unit.Up}),
		giving("bought", "length of twin wire bought", "m", tenths),
		lengths, from, pieces, left,
		{Name: "plan", Of: "plan", Says: "whether no plan buys less (best), or not all were tried (good)", Words: []string{planBest, planGood}},
	}
}

// reelAnswer makes the pieces and lays them out.
func reelAnswer(says said, l *method.Library, at method.Values) map[string]formula.Value {
	results := reelResults()
	for _, name := range []string{"runs", "reels"} {
		if p, ok := at[name]; !ok || slices.ContainsFunc(p.Value.List, func(m formula.Value) bool { return m.State != formula.Known }) {
			return each(results, formula.CannotTell(says.say(name)))
		}
	}
	m, _ := l.Method("wire-to-buy")
	made := m.Run(method.Values{"runs": at["runs"], "slack": at["slack"], "ends": at["ends"]}, "pieces").Results.Of("pieces")
	if made.State != formula.Known {
		return each(results, made)
	}
	pieces, stock := members(made), members(at["reels"].Value)
	slices.Sort(stock)
	if len(pieces) > mostRuns {
		return each(results, formula.NoValue(says.say("too many", "most", strconv.Itoa(mostRuns))))
	}
	for i, p := range pieces {
		if p > stock[len(stock)-1]+sameLength {
			return each(results, formula.NoValue(says.say("too long", "run", strconv.Itoa(i+1))))
		}
	}
	return planned(pieces, stock)
}

// planned tells a plan as results.
func planned(pieces, stock []float64) map[string]formula.Value {
	plan, best := planReels(pieces, stock)
	var lengths, left []float64
	from := make([]float64, len(pieces))
	total := 0.0
	for n, r := range plan {
		lengths, left = append(lengths, r.length), append(left, max(0, r.length-r.used))
		total += r.length
		for _, i := range r.pieces {
			from[i] = float64(n + 1)
		}
	}
	how := planGood
	if best {
		how = planBest
	}
	return map[string]formula.Value{
		"count": formula.Quantity(float64(len(plan))), "bought": formula.Quantity(total), "reel_lengths": listOf(lengths),
		"from_reel": listOf(from), "pieces": listOf(pieces), "left_over": listOf(left), "plan": formula.WordOf(how),
	}
}

// reel is a length of wire that is bought, and the pieces cut from it.
type reel struct {
	length, used float64
	pieces       []int
}

// planReels lays pieces out over lengths on sale, which rise; each piece fits
// the longest. It reports whether no plan buys less. The longest reels come
// first, and of equals the one with the earlier piece.
func planReels(pieces, stock []float64) (plan []reel, best bool) {
	if len(pieces) <= mostTried {
		plan, best = everyPlan(pieces, stock), true
	} else {
		plan = longestFirst(pieces, stock)
		best = boughtOf(plan) <= leastBought(pieces, stock)+sameLength
	}
	slices.SortStableFunc(plan, func(a, b reel) int {
		return cmp.Or(cmp.Compare(b.length, a.length), cmp.Compare(a.pieces[0], b.pieces[0]))
	})
	return plan, best
}

// shortest is the shortest length on sale that holds so much, 0 where none does.
func shortest(stock []float64, used float64) float64 {
	for _, s := range stock {
		if used <= s+sameLength {
			return s
		}
	}
	return 0
}

// laid is the best plan for a set of pieces: what it buys, in how many reels,
// and the pieces of one reel of it.
type laid struct {
	bought float64
	reels  int
	first  uint
}

// everyPlan finds the best plan by trying, for every set of pieces, every reel
// that its first piece may be cut from.
func everyPlan(pieces, stock []float64) []reel {
	all := uint(1)<<len(pieces) - 1
	used, best := make([]float64, all+1), make([]laid, all+1)
	for set := uint(1); set <= all; set++ {
		low := set & -set
		used[set] = used[set^low] + pieces[bits.TrailingZeros(low)]
		for part := set; part > 0; part = (part - 1) & set {
			s := 0.0
			if part&low != 0 {
				s = shortest(stock, used[part])
			}
			if s == 0 {
				continue
			}
			rest := best[set^part]
			if one := (laid{rest.bought + s, rest.reels + 1, part}); best[set].reels == 0 || one.less(best[set]) {
				best[set] = one
			}
		}
	}
	var plan []reel
	for set := all; set != 0; set ^= best[set].first {
		r := reel{length: shortest(stock, used[best[set].first]), used: used[best[set].first]}
		for i := range pieces {
			if best[set].first>>i&1 == 1 {
				r.pieces = append(r.pieces, i)
			}
		}
		plan = append(plan, r)
	}
	return plan
}

// less reports whether a plan buys less, or the same in fewer reels.
func (l laid) less(other laid) bool {
	if d := l.bought - other.bought; d < -sameLength || d > sameLength {
		return d < 0
	}
	return l.reels < other.reels
}

// longestFirst lays the longest pieces out first, each where the least is left
// of it, and takes the best of the plans that open reels of one length.
func longestFirst(pieces, stock []float64) []reel {
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(pieces[b], pieces[a]) })
	var best []reel
	for _, opened := range stock {
		plan := laidOut(order, pieces, stock, opened)
		if best == nil || boughtOf(plan) < boughtOf(best)-sameLength {
			best = plan
		}
	}
	return best
}

func laidOut(order []int, pieces, stock []float64, opened float64) []reel {
	var plan []reel
	for _, i := range order {
		at := -1
		for n, r := range plan {
			if r.used+pieces[i] <= r.length+sameLength && (at < 0 || r.length-r.used < plan[at].length-plan[at].used) {
				at = n
			}
		}
		if at < 0 {
			at = len(plan)
			plan = append(plan, reel{length: max(opened, shortest(stock, pieces[i]))})
		}
		plan[at].used += pieces[i]
		plan[at].pieces = append(plan[at].pieces, i)
	}
	for n := range plan {
		plan[n].length = shortest(stock, plan[n].used)
		slices.Sort(plan[n].pieces)
	}
	return plan
}

func boughtOf(plan []reel) float64 {
	total := 0.0
	for _, r := range plan {
		total += r.length
	}
	return total
}

// leastBought is what no plan can be below: with one length on sale, whole
// reels for all the wire; with several, the wire itself.
func leastBought(pieces, stock []float64) float64 {
	total := 0.0
	for _, p := range pieces {
		total += p
	}
	if len(stock) > 1 {
		return total
	}
	reels := 0.0
	for reels*stock[0] < total-sameLength {
		reels++
	}
	return reels * stock[0]
}
