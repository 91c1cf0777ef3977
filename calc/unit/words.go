package unit

import (
	"slices"
	"strings"
	"sync"
)

// spokenBeside are the words that stand beside those of units in a compound.
const spokenBeside = "per square cubic squared cubed root"

// SpokenWords returns all of which spoken units are made, without prefixes,
// each once and sorted: metre, metres, per, decibels above one volt.
var SpokenWords = sync.OnceValue(func() []string {
	words := strings.Fields(spokenBeside)
	for _, r := range table {
		u := r.under(prefix{mul: 1, div: 1})
		words = append(words, u.one(), u.Spoken())
	}
	slices.Sort(words)
	return slices.Compact(words)
})

// SpokenPrefixes returns the words that may stand before those of units,
// joined to them.
func SpokenPrefixes() []string {
	var words []string
	for _, p := range prefixes {
		words = append(words, p.word)
	}
	return words
}
