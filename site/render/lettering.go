package render

import (
	"cmp"
	"html"
	"html/template"
	"slices"
	"strings"
	"unicode/utf8"
)

// measured is about how wide words are in a chart: the widths are those of
// the plain sans-serif types that the style sheet names, in thousandths of
// their size, with a little to spare.
func measured(text string) float64 {
	const spareShare = 1.04
	sum := 0.0
	for _, r := range text {
		if r < utf8.RuneSelf {
			sum += plainWidths[r]
		} else {
			sum += letterWidth(r)
		}
	}
	return sum / 1000 * lettering * spareShare
}

// plainWidths are the widths of the plain letters.
var plainWidths = func() (widths [utf8.RuneSelf]float64) {
	for r := range widths {
		widths[r] = letterWidth(rune(r))
	}
	return widths
}()

func letterWidth(r rune) float64 {
	switch {
	case strings.ContainsRune("ijl'|", r):
		return 222
	case strings.ContainsRune(" .,:;/ftI[]", r):
		return 278
	case strings.ContainsRune("r()-“”\u00a0", r):
		return 333
	case strings.ContainsRune("ckvxyszJ", r):
		return 500
	case strings.ContainsRune("mMW%", r):
		return 860
	case strings.ContainsRune("wNCHDRUGOQ", r):
		return 740
	case r >= 'A' && r <= 'Z':
		return 667
	case r > '\u2fff':
		return 1000
	}
	return 580
}

// wrapped parts words into lines that are no wider than there is room for,
// where they can be parted.
func wrapped(text string, room float64) []string {
	if !strings.HasPrefix(text, " ") && measured(text) <= room {
		return []string{text}
	}
	var lines []string
	line := ""
	for word := range strings.SplitSeq(text, " ") {
		longer := strings.TrimPrefix(line+" "+word, " ")
		if line != "" && measured(longer) > room {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}

// broken puts a hyphen and a space into each word that is wider than the room,
// wherever the room ends: such a word is found in no dictionary.
func broken(text string, room float64) string {
	words := strings.Split(text, " ")
	for i, word := range words {
		if measured(word) <= room {
			continue
		}
		var b strings.Builder
		part := ""
		for _, r := range word {
			if part != "" && measured(part+string(r)+"-") > room {
				b.WriteString(part + "- ")
				part = ""
			}
			part += string(r)
		}
		words[i] = b.String() + part
	}
	return strings.Join(words, " ")
}

// pushApart settles where names stand so that none covers another: each group
// that would is set about the middle of where its members want to be. Top and
// foot hold unless there is no room between them.
func pushApart(names []named, top, foot float64) {
	type group struct {
		members []int
		height  float64
		middle  float64 // the mean of where its members' lines end
	}
	order := make([]int, len(names))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(names[a].y, names[b].y) })
	within := func(g group) group {
		g.middle = max(min(g.middle, foot-g.height/2), top+g.height/2)
		return g
	}
	var groups []group
	for _, i := range order {
		g := within(group{members: []int{i}, height: names[i].height(), middle: names[i].y})
		for len(groups) > 0 {
			before := groups[len(groups)-1]
			if before.middle+before.height/2 <= g.middle-g.height/2 {
				break
			}
			groups = groups[:len(groups)-1]
			n, m := float64(len(before.members)), float64(len(g.members))
			g = within(group{append(before.members, g.members...), before.height + g.height, (before.middle*n + g.middle*m) / (n + m)})
		}
		groups = append(groups, g)
	}
	for _, g := range groups {
		at := g.middle - g.height/2
		for _, i := range g.members {
			names[i].at = at + names[i].height()/2
			at += names[i].height()
		}
	}
}

// seen is the text of HTML as eyes read it, aloud as it is heard.
func seen(h template.HTML) string  { return bare(h, `<span class="spoken">`) }
func aloud(h template.HTML) string { return bare(h, `<span aria-hidden="true">`) }

// bare returns the text of HTML of ours without one sort of its spans.
func bare(h template.HTML, without string) string {
	var text strings.Builder
	text.Grow(len(h))
	rest := string(h)
	for rest != "" {
		before, tag, found := strings.Cut(rest, "<")
		text.WriteString(before)
		if !found {
			break
		}
		if strings.HasPrefix(rest[len(before):], without) {
			_, tag, _ = strings.Cut(tag, "</span")
		}
		_, rest, _ = strings.Cut(tag, ">")
	}
	return strings.ReplaceAll(html.UnescapeString(text.String()), noBreak, " ")
}
