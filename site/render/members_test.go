package render_test

import (
	"strings"
	"testing"

	"bindpost/site/guide"
)

// TestMembers sets lists: each member has a row where all figures are lists as
// long as each other, and a line in its cell elsewhere.
func TestMembers(t *testing.T) {
	note, kind := heading("note", "Hz", ""), guide.Heading{Label: "kind"}
	notes := guide.Cell{Address: "b.note", Number: "34.3 and 114", Members: []string{"34.3", "114"}}
	kinds := guide.Cell{Address: "b.kind", Number: "axial and oblique", Members: []string{"axial", "oblique"}}
	for _, c := range []struct {
		name string
		row  []guide.Cell
		want string
	}{
		{"as long as each other", []guide.Cell{notes, kinds}, `[Row] [Note, hertz] [Kind]
[1] 34.3 hertz; axial;
[2] (lacks-point-1) 114 hertz; oblique;`},
		{"one is no list", []guide.Cell{notes, {Address: "b.kind", Number: "axial"}}, `[Result] [Figure]
[Note, hertz] 34.3, 114 hertz;
[Kind] axial;`},
	} {
		t.Run(c.name, func(t *testing.T) {
			page := setTable(t, &guide.Table{Number: "A1-T1", Inside: &guide.Inside{Results: []guide.Heading{note, kind}, Cells: [][]guide.Cell{c.row}}})
			got := asHeard(page)
			for _, line := range strings.Split(c.want, "\n") {
				if !strings.Contains(strings.ReplaceAll(got, " ;", ";"), line) {
					t.Errorf("heard\n%s\nwant\n%s", got, c.want)
					break
				}
			}
		})
	}
	rows := &guide.Axis{Heading: heading("run", "m", ""), Points: []string{"3"}}
	page := setTable(t, &guide.Table{Number: "A1-T1", Inside: &guide.Inside{Rows: rows, Results: []guide.Heading{note}, Cells: [][]guide.Cell{{notes}}}})
	if want := `<span class="member">34.3<span class="spoken">, </span></span><span class="member lacks-point-1">114</span>`; !strings.Contains(page, want) {
		t.Errorf("the members do not stand in lines: the page lacks %s", want)
	}
}
