package press_test

import (
	"fmt"
	"maps"
	"strings"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/guide"
	"bindpost/site/press"
	"bindpost/templates"
)

// TestOwnNumbers puts numbers to the tables of the demonstration as a reader
// would who has his own.
func TestOwnNumbers(t *testing.T) {
	r := open(t).withDemonstration(t)
	t.Run("the book's example answers as the book does", r.ownExampleAnswers)
	t.Run("takes other units", r.ownOtherUnits)
	t.Run("goes along the table's rows, and knows its limit", r.ownAlong)
	t.Run("refuses what cannot be worked with, at its field", r.ownRefuses)
	t.Run("takes that a fact is not known", r.ownUnknown)
	t.Run("leads to the head of the reply", r.ownLeads)
	t.Run("is copied without what is only heard", r.ownCopied)
	t.Run("puts the book's example back", r.ownBack)
	t.Run("keeps and sends nothing", r.ownKeeps)
	t.Run("does not show without scripts", r.ownWithoutScripts)
	t.Run("can be used on every screen", r.ownOnScreens)
	t.Run("is printed as the reader's own", r.ownPrints)
	t.Run("a newcomer's walk", r.newcomer)
}

// seen is what a reader sees of an element, without the words that are only
// heard.
const seen = `const seen = e => { const c = e.cloneNode(true); c.querySelectorAll(".spoken").forEach(x => x.remove()); return c.textContent.replace(/\u00a0/g, " "); };`

// ownExampleAnswers works every form as it stands when the page is opened.
func (r *reader) ownExampleAnswers(t *testing.T) {
	compared, b := 0, r.tab(t, "index.html")
	for path, tables := range demonstrationTables(t) {
		b.visit(r.address(path))
		answers := js[map[string]string](b, `(() => { `+seen+`
			const found = {};
			for (const own of document.querySelectorAll(".own")) {
				own.querySelector("button[type=submit]").click();
				found[own.id] = own.hidden ? "hidden" : seen(own.querySelector(".told")) + Array.from(own.querySelectorAll(".fault"), seen).join("; ");
			}
			return found;
		})()`)
		for _, table := range tables {
			answer, ok := answers[table.Number+"-own"]
			if ok != (table.Own != nil) {
				t.Errorf("%s is made by %s, and has a form: %v", table.Number, table.Method, ok)
			}
			for _, want := range bookAnswers(table) {
				compared++
				if !strings.Contains(answer, closeDegrees.Replace(want)) {
					t.Errorf("%s (%s) does not answer %q:\n%s", table.Number, table.Method, want, answer)
				}
			}
		}
		if _, troubles := b.heard(); len(troubles) > 0 {
			t.Errorf("%s: %q", path, troubles)
		}
	}
	if compared < 100 {
		t.Errorf("only %d figures were compared", compared)
	}
}

// closeDegrees puts the sign of degrees close to its number, where it is not
// one of temperature, as a figure in a sentence has it.
var closeDegrees = strings.NewReplacer(" °C", " °C", " °F", " °F", " °", "°")

// demonstrationTables returns the tables of each page of the demonstration.
func demonstrationTables(t *testing.T) map[string][]*guide.Table {
	t.Helper()
	book, faults := press.Bound(press.Order{Copy: content.Files, Library: trade.Library(), Templates: templates.Files})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	tables := map[string][]*guide.Table{}
	for _, l := range book.Leaves {
		if len(l.Guide.Tables) > 0 {
			tables[l.Path] = l.Guide.Tables
		}
	}
	return tables
}

// bookAnswers are the figures that a table prints at its example: each result
// with its unit, and why there is none.
func bookAnswers(t *guide.Table) []string {
	if t.Own == nil {
		return nil
	}
	if len(t.Solved) > 0 && len(t.Beside) == 0 {
		var all []string
		for _, c := range t.Solved[0].Checks[:1] {
			for _, result := range c.Results {
				_, figure, _ := strings.Cut(result, " ")
				all = append(all, figure)
			}
		}
		return all
	}
	example := t.Cells[0][0].Values()
	if len(t.Work) > 0 {
		example = t.Work[0].Values
	}
	var all []string
	for _, row := range t.Cells {
		for j, c := range row {
			if !maps.EqualFunc(c.Values(), example, func(a, b method.Point) bool { return a.Text == b.Text }) {
				continue
			}
			switch {
			case c.Value.State != formula.Known:
				all = append(all, strings.TrimSuffix(c.Why, "."))
			case t.FromTo:
			case t.Shown(j).Unit.Symbol() != "":
				all = append(all, fmt.Sprintf("%s %s", c.Number, t.Shown(j).Unit.Symbol()))
			default:
				all = append(all, c.Number)
			}
		}
	}
	return all
}
