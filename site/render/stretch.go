package render

import (
	"html"
	"regexp"
	"strings"
	"unicode/utf8"
)

// In large type a table that is wider than the paper is set in stretches: some
// columns, and below them the next ones with the heads of the rows again. It is
// neither cut off nor made smaller.

// stretch is some of the columns of a table, or all.
type stretch struct {
	Heads []cell
	Rows  [][]cell
}

// What has room on a line, in widths of a letter: the narrower paper holds 46
// letters of 18 pt between its margins, counting wide ones; a column needs its
// longest word and what parts it from the next.
const (
	lettersAcross = 46
	betweenWords  = 1.2
	headLetters   = 1.05 // a bold letter
)

// stretches returns the heads and the rows of a table, in one stretch unless the
// type is large.
func (g *grid) stretches() []stretch {
	heads, rows := g.heads(), g.rows()
	if g.leaf.Edition.Large() {
		return stretches(heads, rows)
	}
	return []stretch{{heads, rows}}
}

// stretches parts columns into stretches. The first column, the heads of the
// rows, stands in each.
func stretches(heads []cell, rows [][]cell) []stretch {
	widths := columnWidths(heads, rows)
	all := []stretch{}
	for from := 1; from < len(heads); {
		to, across := from, widths[0]
		for to < len(heads) && (to == from || across+widths[to] <= lettersAcross) {
			across += widths[to]
			to++
		}
		all = append(all, stretch{columns(heads, from, to), nil})
		s := &all[len(all)-1]
		for _, row := range rows {
			s.Rows = append(s.Rows, columns(row, from, to))
		}
		from = to
	}
	return all
}

// columns returns the head of a row and its cells from a column up to another.
func columns(row []cell, from, to int) []cell {
	some := []cell{row[0]}
	return append(some, row[min(from, len(row)):min(to, len(row))]...)
}

// columnWidths returns how many letters each column must have room for.
func columnWidths(heads []cell, rows [][]cell) []float64 {
	widths := make([]float64, len(heads))
	for j, h := range heads {
		widths[j] = headLetters * float64(longestWord(h)) // heads that are bold are the widest
		for _, row := range rows {
			if j < len(row) {
				widths[j] = max(widths[j], float64(longestWord(row[j])))
			}
		}
		widths[j] += betweenWords
	}
	return widths
}

var (
	heardOnly = regexp.MustCompile(`<span class="spoken">[^<]*</span>`)
	anyMark   = regexp.MustCompile(`<[^>]*>`)
)

// longestWord returns how many letters the longest word of a cell has.
func longestWord(c cell) int {
	text := heardOnly.ReplaceAllString(string(c.Text), "")
	longest := 0
	for _, word := range strings.FieldsFunc(html.UnescapeString(anyMark.ReplaceAllString(text, "")), breaksAt) {
		longest = max(longest, utf8.RuneCountInString(word))
	}
	return longest
}

// breaksAt reports whether a line may end at a sign. One that keeps a number
// with its unit is none.
func breaksAt(r rune) bool { return r == ' ' || r == '\n' || r == '-' || r == '/' }
