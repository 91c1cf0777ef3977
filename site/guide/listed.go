package guide

import (
	"slices"
	"strings"
)

// Listed finds a word in a list however it is spaced and whatever its capitals:
// "12 pt" for "12pt". "" stays as it is.
func Listed(typed string, words []string) (word string, ok bool) {
	plain := func(s string) string { return strings.ToLower(strings.ReplaceAll(s, " ", "")) }
	i := slices.IndexFunc(words, func(w string) bool { return plain(w) == plain(typed) })
	if i < 0 || typed == "" {
		return "", typed == ""
	}
	return words[i], true
}
