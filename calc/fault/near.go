package fault

import "strings"

// Near returns the word of a list that is most likely meant by a mistyped
// one, and "" when none is close. A word that differs only in case is closest.
// Of words equally close the first wins.
func Near(typed string, words []string) string {
	best, least := "", len([]rune(typed))/3+2
	for _, w := range words {
		if strings.EqualFold(w, typed) {
			return w
		}
		if d := distance([]rune(typed), []rune(w)); d < least {
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
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(a)][len(b)]
}
