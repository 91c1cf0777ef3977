package bind_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// TestGuards: each caution stands before the first section that calls for it,
// or at the head, the gravest of each place first, numbered down the page; and
// the list at the back names the place.
func TestGuards(t *testing.T) {
	head := strings.NewReplacer("CODE", "A1", "ANSWER", "It is loud.\nfirst: lifting\ncautions: fuse, small-parts\nguard: amp-off before The posts").Replace(docket)
	loud := read(t, "loud.md", head+"Look.\n\n## The posts\n\nA blown fuse is replaced.\n\n### Under it\n\nMore.\n\n> ## Said by another\n\n## The watts\n\n"+
		"```calc sine-power\nname: big\npower: 500 W\nload: 8 ohm\nshow: volts\nfigure: high = volts\n```\n")
	quotes := read(t, "quotes.md", strings.NewReplacer("CODE", "B1", "ANSWER", "It has many.").Replace(docket)+"Look.\n\n## The volts\n\nThey are <figure:big.high>.\n")
	b := bound(t, loud, quotes)
	for _, l := range b.Leaves {
		var got []string
		for _, g := range l.Guards {
			got = append(got, fmt.Sprint(g.Code, " ", g.ID, " ", g.Part))
		}
		want := []string{"A1-C1 lifting 0", "A1-C2 small-parts 0", "A1-C3 fuse 1", "A1-C4 amp-off 1", "A1-C5 hot-terminals 2"}
		if l.Guide.Docket.Code == "B1" {
			want = []string{"B1-C1 hot-terminals 1"}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: the cautions stand as %q, want %q", l.Guide.Docket.Code, got, want)
		}
	}
	if where := b.WhereHeeded()["hot-terminals"]; len(where) != 2 || where[0].Code != "A1-C5" || where[1].Path != "quotes.html#B1-C1" {
		t.Errorf("the list at the back names the places %+v", where)
	}
}
