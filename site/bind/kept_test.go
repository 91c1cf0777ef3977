package bind_test

import (
	"bytes"
	"encoding/gob"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// TestKept holds a book of outlines that were written down and read again to be
// the book that it was: every leaf under the same key, and the same at the back.
func TestKept(t *testing.T) {
	standing, faults := guide.ReadStanding(fault.NewText("standing.yaml",
		"kitchen:\n  value: 9 m\n  reference: a tape\n  mark: read\n  date: \"2026-11-02\"\n"), false, guide.Edition{})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	kit := guide.Kit{Library: trade.Library(), Standing: standing}
	texts := map[string]string{
		"a.md": wireText("9 m"),
		"b.md": otherText() + "\nSee [the run](a.md#W1-1), and <figure:standing.kitchen>.\n",
		"c.md": "```docket\ncode: T1\nquestion: What?\nanswer: That.\ntopics: wire\nexplains: feed\n```\n\nThe feed is <figure:standing.kitchen> of wire.\n",
	}
	var whole, again bind.Parts
	for _, file := range []string{"a.md", "b.md", "c.md"} {
		g := readWith(t, file, texts[file], standing)
		kept, ok := bind.NewOutline(g).Light().Keep()
		if !ok {
			t.Fatalf("%s cannot be kept", file)
		}
		var written bytes.Buffer
		if err := gob.NewEncoder(&written).Encode(kept); err != nil {
			t.Fatal(err)
		}
		var read bind.Kept
		if err := gob.NewDecoder(&written).Decode(&read); err != nil {
			t.Fatal(err)
		}
		o, ok := read.Outline(g.Text, kit)
		if !ok {
			t.Fatalf("%s cannot be read again", file)
		}
		whole.Guides = append(whole.Guides, g)
		again.Guides, again.Outlines = append(again.Guides, o.Guide), append(again.Outlines, o)
	}
	was, wasTold := bind.Bind(whole)
	is, isTold := bind.Bind(again)
	if wasTold.String() != isTold.String() {
		t.Errorf("it tells\n%s\nand told\n%s", isTold, wasTold)
	}
	for i, l := range was.Leaves {
		if l.Key() != is.Leaves[i].Key() {
			t.Errorf("the leaf of %s has another key", l.Guide.File)
		}
	}
	if len(is.Glossary) != 1 || len(is.References) != len(was.References) || len(is.Cautions) != len(was.Cautions) {
		t.Errorf("at the back stand %d terms, %d references and %d cautions", len(is.Glossary), len(is.References), len(is.Cautions))
	}
	if _, ok := mustKeep(t, whole.Guides[1]).Outline(whole.Guides[1].Text, guide.Kit{Library: trade.Library()}); ok {
		t.Error("an outline is read again without its standing figure")
	}
}

func mustKeep(t *testing.T, g *guide.Guide) bind.Kept {
	t.Helper()
	k, ok := bind.NewOutline(g).Light().Keep()
	if !ok {
		t.Fatalf("%s cannot be kept", g.File)
	}
	return k
}

// readWith makes a guide with standing figures.
func readWith(t *testing.T, file, text string, standing *guide.Standings) *guide.Guide {
	t.Helper()
	g, faults := guide.Read(fault.NewText(file, text), guide.Kit{Library: trade.Library(), Standing: standing})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	return g
}

// TestWriteLedger holds a ledger of lines that were made guide by guide to the
// one that is made of the whole book, figures that other guides print included.
func TestWriteLedger(t *testing.T) {
	standing, _ := guide.ReadStanding(fault.NewText("standing.yaml",
		"far:\n  value: 9 m\n  reference: a tape\n  mark: read\n  date: \"2026-11-02\"\n"), false, guide.Edition{})
	var guides []*guide.Guide
	for file, text := range map[string]string{
		"a.md": wireText("9 m") + "\nThat is <figure:standing.far>.\n",
		"b.md": otherText() + "\nAnd <figure:one.loss> is little.\n",
		"d.md": strings.NewReplacer("CODE", "W2", "ANSWER", "It is <figure:one.loss>.").Replace(docket) +
			"```calc speaker-wire\nname: one\ngauge: 14 AWG\nrun: 9 m\nload: 8 ohm\nshow: loss\nfigure: loss = loss\n```\n",
		"c.md": strings.NewReplacer("CODE", "A1", "ANSWER", "It is <figure:standing.far>.").Replace(docket),
	} {
		guides = append(guides, readWith(t, file, text, standing))
	}
	b := bound(t, guides...)
	var got bytes.Buffer
	if err := b.WriteLedger(&got, "test", usesOf, textOf); err != nil {
		t.Fatal(err)
	}
	if want := string(b.Ledger("test").Write()); got.String() != want {
		t.Errorf("got\n%s\nwant\n%s", &got, want)
	}
	if !strings.Contains(got.String(), `"used":["W1","W1-1","X1"`) {
		t.Errorf("no figure is used in another guide:\n%s", &got)
	}
	// A cell with the address of a named figure stays one that its table prints.
	if n := strings.Count(got.String(), `"used":["W2-T1","X1","W2"]`) + strings.Count(got.String(), `"used":["W2-T1","W2","X1"]`); n != 1 {
		t.Errorf("%d cells of an address that is used elsewhere stand in their tables:\n%s", n, &got)
	}
}

func usesOf(l *bind.Leaf) ([]bind.Use, error) { return l.Line(nil).Uses, nil }

func textOf(l *bind.Leaf) ([]byte, error) { return l.Line(nil).Text, nil }
