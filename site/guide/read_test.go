package guide

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

const plainDocket = "```docket\ncode: K1\nquestion: Does it hold?\nanswer: It is looked up.\ntopics: wire\n```\n\n"

// whole writes all that came of a guide.
func whole(g *Guide, faults *fault.List) string {
	var b strings.Builder
	b.WriteString(faults.String())
	for _, t := range g.Tables {
		dump(&b, t)
		fmt.Fprintf(&b, "%q\n", t.Block)
		for _, w := range t.Work {
			fmt.Fprintf(&b, "%+v\n", w)
		}
	}
	b.WriteString(dumpFigures(g))
	for _, c := range g.Cautions {
		fmt.Fprintf(&b, "%+v\n", *c)
	}
	fmt.Fprintf(&b, "%s %q %q %v %d\n", g.Hash, g.Docket.Code, g.Docket.Question, g.Docket.Topics, g.Docket.Order)
	return b.String()
}

// TestSameAtOnce reads all cases at once, several times, and wants the same
// of each.
func TestSameAtOnce(t *testing.T) {
	kit := testKit(t)
	for _, path := range casePaths(t) {
		source := string(readCase(t, path).Files[0].Data)
		results := make([]string, 4)
		var wait sync.WaitGroup
		for i := range results {
			wait.Go(func() { results[i] = whole(Read(fault.NewText("guide.md", source), kit)) })
		}
		wait.Wait()
		for _, r := range results[1:] {
			if r != results[0] {
				t.Errorf("%s: two readings differ:\n%s\n%s", path, results[0], r)
			}
		}
	}
}

// TestHash wants another hash where the text, the methods or the edition
// changed, and only there.
func TestHash(t *testing.T) {
	kit := Kit{Library: trade.Library(), Edition: Edition{Title: "One"}}
	of := func(text string, kit Kit) string {
		g, _ := Read(fault.NewText("guide.md", text), kit)
		return g.Hash
	}
	base := of(plainDocket, kit)
	if again := of("\ufeff"+strings.ReplaceAll(plainDocket, "\n", "\r\n"), kit); again != base {
		t.Error("line ends and a byte order mark change the hash")
	}
	other := kit
	other.Edition.Title = "Two"
	library, _ := method.Load(method.Sources{Cautions: fault.NewText("cautions.yaml", "c: {signal: NOTE, happens: a, how: b, instead: c, ask: d}\n")}, trade.Library())
	for name, h := range map[string]string{
		"text":    of(plainDocket+"More.", kit),
		"edition": of(plainDocket, other),
		"methods": of(plainDocket, Kit{Library: library, Edition: kit.Edition}),
	} {
		if h == base {
			t.Errorf("another %s has the same hash", name)
		}
	}
}

// TestWords makes a guide of the examples that the table of words gives, and
// wants no fault: what is shown to be copied must work.
func TestWords(t *testing.T) {
	guide, fence := "", ""
	values := "gauge: 14, 16, 18 AWG\nrun: 3 m to 9 m by 3 m\nload: 8 ohm\nfactor: 100\n"                                          // of the method in the example of calc
	others := "box: amp is integrated amplifier\nbox: speakers is loudspeakers\njoint: speakers of amp to terminals of speakers\n" // which the examples of hookup name
	for _, w := range Words() {
		if w.Help == "" || !strings.HasSuffix(w.Help, ".") {
			t.Errorf("%q has no help sentence: %q", w.Word, w.Help)
		}
		if w.Block == "" {
			guide += fence + w.Example + "\n"
			fence = "```\n\n"
			if w.Word == calcWord {
				fence = values + fence
			}
			continue
		}
		if !strings.HasPrefix(w.Example, w.Word+": ") {
			t.Errorf("the example of %q is %q", w.Word, w.Example)
		}
		switch {
		case w.Block == hookupWord && w.Word == "panel": // it stands for joints, and so in a block of its own
			continue
		case w.Block == hookupWord && w.Word == "box":
			guide += others
		}
		guide += w.Example + "\n"
	}
	guide += "```\n\n```hookup\nname: rear\ntitle: The rear\nbox: amp is integrated amplifier\npanel: amp\n"
	guide += "```\n\nOn 230 V it loses <figure:kitchen-run.at-nine>.\n"
	guide += "A gauge numbers wire, and a phono stage lifts a weak signal.\n\n## Join the speakers\n\nNow.\n" // for the examples of the docket
	g, faults := Read(fault.NewText("guide.md", guide), Kit{Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatalf("%s\n%s", guide, faults)
	}
	if len(g.Tables) != 4 || len(g.Tables[0].Work) != 1 || g.Figures["kitchen-run.at-nine"].Number != "0.26" {
		t.Errorf("the guide of examples gave %+v", g.Tables)
	}
}

// TestManyLines wants a block of more lines than anybody reads told once.
func TestManyLines(t *testing.T) {
	text := plainDocket + "```calc speaker-wire\nname: run\n" + strings.Repeat("limit: loss at most 1 dB\n", 100_000) + "```\n"
	_, faults := Read(fault.NewText("guide.md", text), testKit(t))
	if all := faults.All(); len(all) != 1 || !strings.Contains(all[0].Message, "more than 200 lines") {
		t.Errorf("got %d faults, the first: %v", len(all), all[0])
	}
}

// TestLargestTable computes a table as large as they may be.
func TestLargestTable(t *testing.T) {
	text := plainDocket + "```calc speaker-wire\nname: run\ngauge: 10 AWG to 18 AWG by 1\nrun: 1 m to 20 m by 0.1 m\n" +
		"load: 8 ohm\nrows: run\ncolumns: gauge\nshow: loss\n```\n"
	g, faults := Read(fault.NewText("guide.md", text), testKit(t))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	addresses := map[string]bool{}
	for _, row := range g.Tables[0].Cells {
		for _, c := range row {
			addresses[c.Address] = true
		}
	}
	if len(addresses) != 191*9 {
		t.Errorf("%d cells have an address of their own, and %d were wanted", len(addresses), 191*9)
	}
}

// TestDeepText reads text that is nested as deep as it is long.
func TestDeepText(t *testing.T) {
	kit := testKit(t)
	for _, piece := range []string{"> ", "- ", "[", "*a **a ", "<", "`", "<figure:", "\\", "~~~calc\n", "<b>"} {
		text := fault.NewText("guide.md", plainDocket+strings.Repeat(piece, 6_000/len(piece)))
		_, faults := Read(text, kit)
		placed(t, text, faults)
	}
}

// placed wants every fault to stand in the text and to say something.
func placed(t *testing.T, text *fault.Text, faults *fault.List) {
	t.Helper()
	for _, f := range faults.All() {
		if p := f.Place; p.Text != text || p.Start < 0 || p.End < p.Start || p.End > len(text.Source()) {
			t.Fatalf("a fault lies outside the text: %d to %d: %s", p.Start, p.End, f.Message)
		}
		if f.Message == "" || strings.HasSuffix(f.Message, ".") {
			t.Fatalf("a fault says %q", f.Message)
		}
		_ = f.Error()
	}
}

// FuzzRead wants no panic, every fault inside the text, and of a guide
// without a stop that all its blocks and figures were set.
func FuzzRead(f *testing.F) {
	for _, path := range casePaths(f) {
		f.Add(string(readCase(f, path).Files[0].Data))
	}
	kit := testKit(f)
	f.Fuzz(func(t *testing.T, source string) {
		if len(source) > 20_000 {
			return
		}
		text := fault.NewText("guide.md", source)
		g, faults := Read(text, kit)
		placed(t, text, faults)
		if !faults.Stopped() {
			settled(t, g)
		}
	})
}

// settled wants nothing left in a finished guide that should have been set.
func settled(t *testing.T, g *Guide) {
	t.Helper()
	tables := 0
	_ = ast.Walk(g.Tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.AutoLink:
			if isMention(string(n.Label(g.Source))) {
				t.Fatalf("the figure %q was not set", n.Label(g.Source))
			}
		case *ast.RawHTML, *ast.HTMLBlock:
			t.Fatal("HTML was not told")
		case *TableNode:
			if n.Table != g.Tables[tables] {
				t.Fatal("the tables stand in another order in the text")
			}
			tables++
		}
		return ast.WalkContinue, nil
	})
	if tables != len(g.Tables) {
		t.Fatalf("%d of %d tables stand in the text", tables, len(g.Tables))
	}
	for _, table := range g.Tables {
		for _, row := range table.Cells {
			for _, c := range row {
				if c.Number == "" && c.Why == "" {
					t.Fatalf("the cell %s says nothing", c.Address)
				}
			}
		}
	}
}
