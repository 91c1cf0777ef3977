package fault

import (
	"strings"
	"unicode/utf8"
)

// Near returns the word of a list that is most likely meant by a mistyped
// one, and "" when none is close. A word that differs only in case is closest.
// Of words equally close the first wins.
func Near(typed string, words []string) string {
	letters := []rune(typed)
	best, least := "", len(letters)/3+2
	for _, w := range words {
		if strings.EqualFold(w, typed) {
			return w
		}
		if n := utf8.RuneCountInString(w) - len(letters); n >= least || -n >= least {
			continue // so many letters more or less are so many changes
		}
		if d := distance(letters, []rune(w)); d < least {
			best, least = w, d
		}
	}
	return best
}

// Close is as [Near], of words that differ from the mistyped one in a quarter of
// its letters and one more at most: where a word that is not meant would mislead.
func Close(typed string, words []string) string {
	near := Near(typed, words)
	if near == "" || strings.EqualFold(near, typed) || distance([]rune(typed), []rune(near)) <= len([]rune(typed))/4+1 {
		return near
	}
	return ""
}

// distance counts the insertions, deletions, replacements and swaps of
// neighbours that turn a into b. Long words are not compared.
func distance(a, b []rune) int {
	const longest = 40
	if len(a) > longest || len(b) > longest {
		return len(a) + len(b)
	}
	var rooms [3][longest + 1]int
	last2, last, row := &rooms[0], &rooms[1], &rooms[2] // of the letters of a up to here
	for j := range len(b) + 1 {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		last2, last, row = last, row, last2
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			d := min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, last2[j-2]+1)
			}
			row[j] = d
		}
	}
	return row[len(b)]
}
