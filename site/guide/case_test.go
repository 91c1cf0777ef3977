package guide

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

const casesFolder = "../../testdata/guide"

var update = flag.Bool("update", false, "rewrite the expected parts of the cases")

// TestCases reads each guide of testdata/guide and compares what comes of it.
func TestCases(t *testing.T) {
	for _, path := range append(casePaths(t), globbed(t, casesFolder+"/long/*.txtar")...) {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) { runCase(t, path) })
	}
}

// casePaths are the cases that many tests read many times; those under long
// take seconds each, and TestCases alone reads them.
func casePaths(t testing.TB) []string {
	t.Helper()
	return globbed(t, casesFolder+"/*.txtar")
}

func globbed(t testing.TB, pattern string) []string {
	t.Helper()
	paths, err := filepath.Glob(pattern)
	if err != nil || len(paths) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	return paths
}

func readCase(t testing.TB, path string) *txtar.Archive {
	t.Helper()
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Files) == 0 || a.Files[0].Name != "guide.md" {
		t.Fatalf("%s: a case begins with guide.md", path)
	}
	return a
}

func runCase(t *testing.T, path string) {
	a := readCase(t, path)
	g, faults := Read(fault.NewText("guide.md", string(a.Files[0].Data)), testKit(t))
	if *update && len(a.Files) == 1 {
		a.Files = append(a.Files, txtar.File{Name: "faults"}, txtar.File{Name: "tables"})
	}
	if len(a.Files) == 1 {
		t.Fatal("the case expects nothing")
	}
	changed := false
	for i := range a.Files[1:] {
		part := &a.Files[i+1]
		got := partOf(t, part.Name, g, faults)
		if got == string(part.Data) {
			continue
		}
		if *update {
			part.Data, changed = []byte(got), true
			continue
		}
		t.Errorf("%s:\n%s\nwanted:\n%s", part.Name, got, part.Data)
	}
	if changed {
		if err := os.WriteFile(path, txtar.Format(a), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// partOf writes one part of what came of a guide.
func partOf(t *testing.T, name string, g *Guide, faults *fault.List) string {
	switch name {
	case "faults":
		if faults.Len() == 0 {
			return ""
		}
		return faults.String() + "\n"
	case "tables":
		var b strings.Builder
		for _, table := range g.Tables {
			dump(&b, table)
		}
		return b.String()
	case "figures":
		return dumpFigures(g)
	case "cautions":
		var b strings.Builder
		for _, c := range g.Cautions {
			fmt.Fprintf(&b, "%s %s\n", c.Signal, c.ID)
		}
		return b.String()
	case "guards":
		var b strings.Builder
		for _, c := range g.Cautions {
			line, _, _ := strings.Cut(string(g.Source[c.Guards:]), "\n")
			fmt.Fprintf(&b, "%s: %s\n", c.ID, line)
		}
		return b.String()
	case "tree":
		var b strings.Builder
		dumpTree(&b, g, g.Docket.Answer, 0)
		dumpTree(&b, g, g.Tree, 0)
		return b.String()
	}
	t.Fatalf("no part of a case is called %q", name)
	return ""
}

// testKit is the shipped set with the methods of testdata/guide/methods.
func testKit(t testing.TB) Kit {
	t.Helper()
	var sources method.Sources
	paths, err := filepath.Glob(casesFolder + "/methods/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no test methods: %v", err)
	}
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		sources.Methods = append(sources.Methods, fault.NewText(filepath.Base(p), string(data)))
	}
	library, faults := method.Load(sources, trade.Library())
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return Kit{Library: library, Edition: Edition{Title: "Cases"}}
}

// dump writes a table as plain text.
func dump(b *strings.Builder, t *Table) {
	switch {
	case t.Decision != nil:
		dumpDecision(b, t)
		return
	case t.Hookup != nil:
		dumpHookup(b, t)
		return
	}
	fmt.Fprintf(b, "%s %s, by %s: %s\n", t.Number, t.Name, t.Method, t.Asks)
	if t.Caption != "" {
		fmt.Fprintf(b, "  caption %s\n", t.Caption)
	}
	for _, x := range t.Taken {
		fmt.Fprintf(b, "  taken %s: %s%s%s%s\n", x.Label, x.Text, said(x.Sense, x.Sense != ""), said("usual", x.Usual), said("guess", x.Guess))
	}
	for _, l := range t.Limits {
		fmt.Fprintf(b, "  limit %s, beyond %q\n", l.Text, l.Beyond)
	}
	if t.FromTo {
		fmt.Fprintf(b, "  matters %v, jumps %v\n", t.Matters, t.Jumps)
	}
	for _, c := range t.Claims {
		fmt.Fprintf(b, "  proved %s, for %s\n", c.Text, strings.Join(c.Over, "; "))
	}
	for _, v := range t.Verdicts {
		fmt.Fprintf(b, "  verdict %s: %s, %s\n", v.Name, v.Grade, v.Words)
	}
	for _, r := range t.Results {
		fmt.Fprintf(b, "  result %s in %q: %s%s\n", r.Label, r.Unit.Symbol(), r.Says, said(r.Sense, r.Sense != ""))
	}
	dumpAxis(b, "rows", t.Rows)
	dumpAxis(b, "columns", t.Columns)
	for _, row := range t.Cells {
		for _, c := range row {
			fmt.Fprintf(b, "  %s = %s%s%s%s\n", c.Address, c.Number, c.Why,
				said("beyond: "+c.Beyond, c.Passed), said("untold: "+strings.Join(c.Untold, "; "), len(c.Untold) > 0))
		}
	}
	dumpSolved(b, t)
	dumpWork(b, t)
	dumpCharts(b, t)
	for i, s := range t.Sources {
		fmt.Fprintf(b, "  source %d: %s, %s\n", i, s.ID, s.Mark)
	}
	if len(t.Cautions) > 0 {
		fmt.Fprintf(b, "  cautions %s\n", strings.Join(t.Cautions, ", "))
	}
}

func dumpSolved(b *strings.Builder, t *Table) {
	for _, s := range t.Beside {
		fmt.Fprintf(b, "  beside %s in %q along %q, rounded %q\n", s.Label, s.Unit.Symbol(), s.Along, s.Round)
		for _, c := range s.Cells {
			fmt.Fprintf(b, "    %s = %s%s\n", c.Address, c.Number, c.Why)
		}
	}
	for _, s := range t.Solved {
		fmt.Fprintf(b, "  solved %s\n", s.Label)
		for _, c := range s.Checks {
			fmt.Fprintf(b, "    checked %s: at %s %s%s%s\n", c.Where, c.Value, strings.Join(c.Results, ", "), said("whole", c.Whole), said(fmt.Sprint(c.Parts), len(c.Parts) > 0))
		}
	}
}

func dumpWork(b *strings.Builder, t *Table) {
	for _, w := range t.Work {
		fmt.Fprintf(b, "  worked for %s\n", w.Point)
		for _, s := range w.Steps {
			sides := []string{s.Name, s.RuleText, s.WithText, s.Comes()}
			sides = slices.DeleteFunc(sides, func(side string) bool { return side == "" })
			fmt.Fprintf(b, "    %s %v\n", strings.Join(sides, " = "), s.Sources)
		}
	}
}

// dumpCharts writes each chart with its own points as they are printed, and
// of those between how many there are and from where to where they go.
func dumpCharts(b *strings.Builder, t *Table) {
	for _, c := range t.Charts {
		fmt.Fprintf(b, "  chart %s in %q%s over %s in %q%s%s%s, for each %q\n", c.Up.Label, c.Up.Unit.Symbol(), said("by tens", c.Up.Tens),
			c.Along.Label, c.Along.Unit.Symbol(), said("by tens", c.Along.Tens), said("computed between", c.Between), said("from-to", c.FromTo), c.Each.Label)
		for _, l := range c.Levels {
			fmt.Fprintf(b, "    level %.4g, %s, beyond %q%s\n", l.At, l.Text, l.Beyond, said("above", l.Above))
		}
		for _, l := range c.Lines {
			fmt.Fprintf(b, "    line %q of %d points:", l.Name, len(l.Points))
			for _, p := range l.Points {
				switch {
				case p.Own:
					fmt.Fprintf(b, " %s %s%s;", p.At, p.Text, said("apart", p.Apart))
				case p.Apart:
					fmt.Fprintf(b, " apart at %.4g %.4g;", p.X, p.Y)
				}
			}
			b.WriteByte('\n')
		}
		for _, l := range c.Undrawn {
			fmt.Fprintf(b, "    limit not drawn: %s\n", l)
		}
		for _, l := range c.Left {
			fmt.Fprintf(b, "    left out: %s\n", l)
		}
	}
}

func said(s string, yes bool) string {
	if !yes {
		return ""
	}
	return " (" + s + ")"
}

func dumpAxis(b *strings.Builder, name string, a *Axis) {
	if a != nil {
		fmt.Fprintf(b, "  %s %s in %q: %s\n", name, a.Label, a.Unit.Symbol(), strings.Join(a.Points, " | "))
	}
}

func dumpFigures(g *Guide) string {
	var lines []string
	for address, f := range g.Figures {
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%s = %s %s%s", address, f.Number, f.Unit.Symbol(), f.Why))+"\n")
	}
	slices.Sort(lines)
	return strings.Join(lines, "")
}

// dumpTree writes a tree with the text of its leaves and what our own nodes
// hold.
func dumpTree(b *strings.Builder, g *Guide, n ast.Node, depth int) {
	fmt.Fprintf(b, "%s%s", strings.Repeat("  ", depth), n.Kind())
	switch n := n.(type) {
	case *ast.Text:
		fmt.Fprintf(b, " %q", n.Segment.Value(g.Source))
	case *FigureNode:
		b.WriteString(" " + n.Figure.Address)
	case *TableNode:
		b.WriteString(" " + n.Table.Name)
	}
	b.WriteByte('\n')
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		dumpTree(b, g, c, depth+1)
	}
}
