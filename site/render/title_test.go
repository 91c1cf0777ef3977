package render_test

import (
	"strings"
	"testing"

	"bindpost/site/guide"
)

// TestTitle: the title of a table lists its results, asks the question of its
// method where they are many, and says what the author says where there is a
// caption.
func TestTitle(t *testing.T) {
	result := func(label string) guide.Heading { return heading(label, "m", "") }
	few := []guide.Heading{result("near"), result("far"), result("whole")}
	many := append(few[:3:3], result("half"))
	rows := &guide.Axis{Heading: heading("run", "m", "one way"), Points: []string{"3"}}
	for _, c := range []struct {
		name  string
		table guide.Table
		want  string
	}{
		{"three results", guide.Table{Inside: &guide.Inside{Results: few, Rows: rows}}, "Near, far and whole, by run (one way)"},
		{"four results", guide.Table{Inside: &guide.Inside{Results: many, Rows: rows}}, "How long is it? By run (one way)"},
		{"four results of one row", guide.Table{Inside: &guide.Inside{Results: many}}, "How long is it?"},
		{"a caption", guide.Table{Inside: &guide.Inside{Results: many, Rows: rows, Caption: "Lengths & their halves"}}, "Lengths &amp; their halves"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := c.table
			table.Number, table.Asks = "A1-T1", "How long is it?"
			table.Cells = [][]guide.Cell{numbers("1", "2", "3", "4")[:len(table.Results)]}
			if page, want := setTable(t, &table), "</b> "+c.want+"</span>"; !strings.Contains(page, want) {
				t.Errorf("the page lacks %s:\n%s", want, page[strings.Index(page, "<caption>"):strings.Index(page, "</caption>")])
			}
		})
	}
}
