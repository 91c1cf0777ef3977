package render_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/templates"
)

// setTable renders one table on a page of its own.
func setTable(t *testing.T, table *guide.Table) string {
	t.Helper()
	tree := ast.NewDocument()
	tree.AppendChild(tree, &guide.TableNode{Table: table})
	g := &guide.Guide{
		Text: fault.NewText("a.md", ""), File: "a.md", Tree: tree, Tables: []*guide.Table{table},
		Docket: guide.Docket{Code: "A1", Question: "Why?"},
	}
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: guide.Edition{Title: "T", Language: "en"}})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	p, err := renderer(t, templates.Files).Guide(b.Leaves[0])
	if err != nil {
		t.Fatal(err)
	}
	return string(p.Body)
}

// asHeard returns the cells of the grid as somebody hears them, one row a
// line: heads in square brackets, numbers with what stands at their right.
func asHeard(page string) string {
	page = page[strings.Index(page, "<thead>"):strings.Index(page, "</table>")]
	for _, step := range []struct{ what, with string }{
		{`<span aria-hidden="true">[^<]*</span>`, ""},
		{`<th [^>]*>`, "["}, {`</th>`, "] "}, {`</td>`, "; "}, {`</tr>`, "\n"},
		{`<td[^>]*>(?:<data value="[^"]*" class="([^"]*)">)`, "($1) "},
		{`\n\n+`, "\n"}, {`<[^>]*>`, ""}, {"\u00a0", " "}, {` +`, " "}, {`\n `, "\n"},
	} {
		page = regexp.MustCompile(step.what).ReplaceAllString(page, step.with)
	}
	return strings.Trim(regexp.MustCompile(`\s*\n\s*`).ReplaceAllString(page, "\n"), "\n ")
}

func heading(label, symbol, sense string) guide.Heading {
	return guide.Heading{Name: label, Label: label, Unit: unit.Must(symbol), Sense: sense}
}

func numbers(texts ...string) []guide.Cell {
	var row []guide.Cell
	for _, text := range texts {
		row = append(row, guide.Cell{Address: "b.loss", Number: text})
	}
	return row
}

func TestGrid(t *testing.T) {
	run := &guide.Axis{Heading: heading("run", "m", "one way"), Points: []string{"3", "15"}}
	metal := &guide.Axis{Heading: guide.Heading{Label: "metal"}, Points: []string{"copper", "clad"}}
	loss := heading("loss", "dB", "")
	unknown := formula.Value{State: formula.Unknown}
	cases := []struct {
		name  string
		table guide.Table
		title string
		grid  string
	}{
		{
			"a value along both sides",
			guide.Table{Inside: &guide.Inside{Rows: metal, Columns: run, Results: []guide.Heading{loss}, Cells: [][]guide.Cell{numbers("0.04", "0.17"), numbers("0.1", "−2")}}},
			"Loss in decibels, by metal and by run (one way)",
			"[Metal] [Run 3 metres] [Run 15 metres]\n[copper] 0.04 decibels; 0.17 decibels;\n[clad] (lacks-1) 0.1 decibels; (lacks-point-2) minus 2 decibels;",
		},
		{
			"a value along the columns alone",
			guide.Table{Inside: &guide.Inside{Columns: run, Results: []guide.Heading{heading("wire", "ohm", "out and back")}, Cells: [][]guide.Cell{numbers("0.04", "0.17")}}},
			"Wire (out and back) in ohms, by run (one way)",
			"[Result] [Run 3 metres] [Run 15 metres]\n[Wire (out and back), ohm] 0.04 ohms; 0.17 ohms;",
		},
		{
			"results in columns, one of them words",
			guide.Table{Inside: &guide.Inside{Rows: run, Results: []guide.Heading{loss, {Label: "rule & use"}}, Cells: [][]guide.Cell{numbers("0.04", "holds"), numbers("0.17", "fails")}}},
			"Loss and rule &amp; use, by run (one way)",
			"[Run] [Loss, decibels] [Rule &amp; use]\n[3 metres] 0.04 decibels; holds;\n[15 metres] 0.17 decibels; fails;",
		},
		{
			"results under each other",
			guide.Table{Inside: &guide.Inside{Results: []guide.Heading{loss, heading("share", "%", "burned")}, Cells: [][]guide.Cell{numbers("0.04", "1")}}},
			"Loss and share (burned)",
			"[Result] [Figure]\n[Loss, decibels] 0.04 decibels;\n[Share (burned), percent] 1 percent;",
		},
		{
			"cells without a number, beyond a limit, and with a limit that cannot be told",
			guide.Table{Inside: &guide.Inside{Rows: metal, Columns: run, Results: []guide.Heading{loss}, Cells: [][]guide.Cell{
				{{Number: "0.6", Passed: true, Beyond: "too thin"}, {Number: "0.7", Passed: true}},
				{{Value: unknown, Why: "the load is not known"}, {Number: "0.1", Untold: []string{"the load is not known"}}},
			}}},
			"Loss in decibels, by metal and by run (one way)",
			"[Metal] [Run 3 metres] [Run 15 metres]\n[copper] 0.6 decibels too thin; 0.7 decibels beyond the limit;\n" +
				"[clad] cannot tell, note 1; 0.1 decibels limit cannot be told, note 1;",
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			c.table.Number = "A1-T1"
			page := setTable(t, &c.table)
			if got := asHeard(page); got != c.grid {
				t.Errorf("the grid is heard as\n%s\nwant\n%s", got, c.grid)
			}
			if want := "<b>Table A1-T1</b> " + c.title + "</span>"; !strings.Contains(page, want) {
				t.Errorf("the title is not %q:\n%s", c.title, page)
			}
		})
	}
}

// TestGridClasses holds figures to the right and words to the left, heads
// with their columns.
func TestGridClasses(t *testing.T) {
	page := setTable(t, &guide.Table{
		Number: "A1-T1",
		Inside: &guide.Inside{
			Rows:    &guide.Axis{Heading: guide.Heading{Label: "metal"}, Points: []string{"copper", "clad"}},
			Results: []guide.Heading{{Label: "loss"}, {Label: "rule"}},
			Cells:   [][]guide.Cell{numbers("0.04", "holds"), {{Why: "no"}, {Number: "fails"}}},
		},
	})
	for _, want := range []string{
		`<th scope="col">Metal</th><th scope="col" class="number">Loss</th><th scope="col">Rule</th>`,
		`<th scope="row"><span class="point">copper</span></th><td class="number"><data value="b.loss">0.04</data></td><td><data value="b.loss">holds</data></td>`,
		`<td class="number"><data value="">cannot tell, note 1</data></td><td><data value="">fails</data></td>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the grid does not hold\n%s\nbut\n%s", want, page)
		}
	}
}

// TestBelow reads what stands above and below a grid.
func TestBelow(t *testing.T) {
	page := setTable(t, &guide.Table{
		Number:  "A1-T1",
		Limits:  []guide.Limit{{Text: "loss at most 0.5 dB", Beyond: "too thin"}, {Text: "run at most 9 m"}},
		Sources: []*guide.Source{{Title: "A work", Clause: "clause 4", Date: "2018", Mark: "read", Says: "the step."}, {Title: "A habit", Mark: "practice"}},
		Inside: &guide.Inside{
			Results: []guide.Heading{{Label: "loss"}},
			Cells:   [][]guide.Cell{numbers("1")},
			Taken: []guide.Taken{
				{Heading: heading("load", "ohm", "rated"), Text: "8 ohm"},
				{Heading: guide.Heading{Label: "metal"}, Text: "copper", Usual: true},
				{Heading: guide.Heading{Label: "strands"}, Text: "solid", Usual: true, Guess: true},
			},
			FromTo:    true,
			Matters:   []guide.Matter{{Value: "run"}, {Value: "load", Results: []string{"loss", "wire"}}, {Value: "gauge", Figures: 3, Of: 7}},
			Jumps:     []string{"pad"},
			Verdicts:  []guide.Verdict{{Name: "grip", Grade: "do not connect", Words: "the load is too low"}, {Name: "heat", Grade: "fits"}},
			CoversNot: "joints and plugs.",
			Work:      []guide.Work{{Steps: []guide.WorkStep{{Name: "out_loss", Rule: "<math><mi>a</mi></math>", RuleText: "a", Result: "1", Sources: []int{0, 1}}}}},
		},
	})
	text := regexp.MustCompile(`<span class="spoken">[^<]*</span>|<[^>]*>`).ReplaceAllString(page, "")
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " ")
	for _, want := range []string{
		"Taken for the whole table Load (rated) 8 ohm Metal copper, usual value Strands solid, not known, usual value taken",
		"Limit: loss at most 0.5 dB. A figure beyond it is marked “too thin”.",
		"Limit: run at most 9 m. A figure beyond it is marked “beyond the limit”.",
		"The limits of the run matter most.",
		"The limits of the load matter most to: loss, wire.",
		"The limits of the gauge matter most in 3 of the 7 figures.",
		"Within these limits there is a jump, or no figure, in: pad.",
		"Grip: do not connect. The load is too low.",
		"Heat: fits",
		"Worked More of the working stands to the right: move it sideways. out loss = a = 1 by reference 1 and reference 2",
		"Where the rules come from Read in: A work, clause 4, 2018. The step. Common practice, no source: A habit.",
		"Does not cover: joints and plugs.",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the page does not read %q, but\n%s", want, text)
		}
	}
}
