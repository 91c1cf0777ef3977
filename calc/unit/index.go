package unit

import (
	"math"
	"slices"
	"strings"
	"sync"
)

// entry is what one spelling stands for.
type entry struct {
	unit   Unit
	symbol string // the spelling to be recommended
	typed  bool   // read in typed values only, never in a formula
}

// index finds a unit by its spelling, prefixes included. It is made on first
// use.
var index = sync.OnceValue(func() map[string]entry {
	all := map[string]entry{}
	for _, r := range table {
		if !r.prefixed {
			r.enter(all, prefix{mul: 1, div: 1})
		}
		for _, p := range prefixes {
			if slices.Contains(strings.Fields(r.prefixes), p.mark) {
				r.enter(all, p)
			}
		}
	}
	return all
})

// enter puts all spellings of a row under one prefix into the index. A symbol
// wins over a word that is spelled alike.
func (r row) enter(all map[string]entry, p prefix) {
	u := r.under(p)
	marks, symbol := []string{p.mark}, p.mark+r.symbol
	if p.also != "" {
		marks, symbol = append(marks, p.also), p.also+r.symbol
	}
	for _, mark := range marks {
		for _, spelling := range append([]string{r.symbol}, r.also...) {
			all[mark+spelling] = entry{unit: u, symbol: symbol}
		}
	}
	words := []string{u.one(), u.Spoken()}
	for _, word := range r.words {
		if p.mark == "" || endsInLetter(word) {
			words = append(words, p.word+word)
		}
	}
	for _, word := range words {
		if _, taken := all[word]; !taken {
			all[word] = entry{unit: u, symbol: symbol, typed: true}
		}
	}
}

// under makes the unit of a row under a prefix.
func (r row) under(p prefix) Unit {
	many := r.many
	if many == "" {
		many = r.one + "s"
	}
	print := r.print
	if print == "" {
		print = r.symbol
	}
	mul, div := reduced(orOne(r.mul)*p.mul, orOne(r.div)*p.div)
	return shape{
		symbol: p.mark + print,
		one:    run(p.word, r.one),
		many:   run(p.word, many),
		kind:   Kind{Dims: r.dims, Scale: r.scale},
		mul:    mul, div: div, zero: r.zero,
	}.unit()
}

// run joins a prefix to its unit's word as the trade says it: kilohm, megohm.
func run(prefix, word string) string {
	if (prefix == "kilo" || prefix == "mega") && strings.HasPrefix(word, "o") {
		prefix = prefix[:len(prefix)-1]
	}
	return prefix + word
}

func orOne(x float64) float64 {
	if x == 0 {
		return 1
	}
	return x
}

// reduced brings a fraction of two whole numbers to its lowest terms, and
// leaves any other as it is.
func reduced(mul, div float64) (float64, float64) {
	const exact = 1 << 53
	if mul != math.Trunc(mul) || div != math.Trunc(div) || mul < 1 || mul > exact || div < 1 || div > exact {
		return mul, div
	}
	a, b := uint64(mul), uint64(div)
	for b != 0 {
		a, b = b, a%b
	}
	return mul / float64(a), div / float64(a)
}
