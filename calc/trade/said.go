package trade

import (
	"maps"
	"slices"
	"strings"
)

// said is what a method in Go says beside its sheet, by key. {name} stands for
// what is put in there. Another language puts its own words in.
type said map[string]string

// say returns one of the sentences with its slots filled in, which are names
// and texts by turns. A key that is not there is a slip of ours.
func (s said) say(key string, slots ...string) string {
	text, ok := s[key]
	if !ok {
		panic("trade: a method says what is not among its words: " + key)
	}
	pairs := slices.Clone(slots)
	for i := 0; i < len(pairs); i += 2 {
		pairs[i] = "{" + pairs[i] + "}"
	}
	return strings.NewReplacer(pairs...).Replace(text)
}

// texts visits the sentences, in the order of their keys.
func (s said) texts(visit func(key string, text *string)) {
	for _, key := range slices.Sorted(maps.Keys(s)) {
		text := s[key]
		if visit("says "+key, &text); text != s[key] {
			s[key] = text
		}
	}
}
