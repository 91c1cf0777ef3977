package bind_test

import (
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// TestKey gives another key to a leaf for each thing that its pages are made of,
// and to no two of them the same.
func TestKey(t *testing.T) {
	leaf := func() *bind.Leaf {
		return &bind.Leaf{Guide: &guide.Guide{Hash: "h"}, Path: "a.html", Links: []bind.Link{{Typed: "b.md", Page: "b.html"}}}
	}
	quoted := func(f guide.Figure) func(*bind.Leaf) {
		return func(l *bind.Leaf) { l.Quoted = map[string]*guide.Figure{"run.lost": &f} }
	}
	warned := func(how string) *guide.Caution {
		return &guide.Caution{CautionText: &method.CautionText{ID: "amp-off", How: how}}
	}
	known := map[string]string{leaf().Key(): "nothing"}
	for name, change := range map[string]func(*bind.Leaf){
		"another guide":      func(l *bind.Leaf) { l.Guide = &guide.Guide{Hash: "i"} },
		"another path":       func(l *bind.Leaf) { l.Path = "aa.html" },
		"parted otherwise":   func(l *bind.Leaf) { l.Guide, l.Path = &guide.Guide{Hash: "ha"}, ".html" },
		"another link":       func(l *bind.Leaf) { l.Links = append(l.Links, bind.Link{Typed: "c.md", Page: "c.html"}) },
		"another way":        func(l *bind.Leaf) { l.Links[0].Page = "c.html" },
		"a name for a link":  func(l *bind.Leaf) { l.Links[0].Named = "B" },
		"a picture":          func(l *bind.Leaf) { l.Links, l.Pictures = nil, map[string]string{"b.md": "b.html"} },
		"a guard":            func(l *bind.Leaf) { l.Guards = []bind.Guard{{Caution: warned("")}} },
		"a guard elsewhere":  func(l *bind.Leaf) { l.Guards = []bind.Guard{{Caution: warned(""), Part: 1}} },
		"a guard of a code":  func(l *bind.Leaf) { l.Guards = []bind.Guard{{Caution: warned(""), Code: "A-C1"}} },
		"other words":        func(l *bind.Leaf) { l.Guards = []bind.Guard{{Caution: warned("so")}} },
		"a caution":          func(l *bind.Leaf) { l.Cautions = []*guide.Caution{warned("")} },
		"a figure":           quoted(guide.Figure{Number: "1"}),
		"another figure":     quoted(guide.Figure{Number: "2"}),
		"no figure":          quoted(guide.Figure{Why: "1"}),
		"a figure not known": quoted(guide.Figure{Number: "1", State: formula.Known + 1}),
		"a page before":      func(l *bind.Leaf) { l.Previous = &bind.Turn{Code: "A"} },
		"a page behind":      func(l *bind.Leaf) { l.Next = &bind.Turn{Code: "A"} },
		"another behind":     func(l *bind.Leaf) { l.Next = &bind.Turn{Question: "A"} },
	} {
		l := leaf()
		change(l)
		key := l.Key()
		if other, is := known[key]; is {
			t.Errorf("%s has the key of %s", name, other)
		}
		if known[key] = name; l.Key() != key {
			t.Errorf("%s: the key is another the second time", name)
		}
	}
}

// TestForesee foresees a guide that prints a figure of another as soon as that
// one is made, and as the leaf that it becomes.
func TestForesee(t *testing.T) {
	texts := map[string]string{"a.md": wireText("9 m"), "b.md": otherText()}
	var ahead, whole []*guide.Guide
	for _, file := range []string{"a.md", "b.md"} {
		ahead = append(ahead, guide.ReadAhead(fault.NewText(file, texts[file]), guide.Kit{Library: trade.Library()}))
		whole = append(whole, read(t, file, texts[file]))
	}
	book, _ := bind.Bind(bind.Parts{Guides: ahead, Library: trade.Library()})
	quoting := bind.NewOutline(whole[1])
	if _, likely := book.Foresee(quoting); likely {
		t.Fatal("a guide is foreseen with figures that nobody has made")
	}
	book.Made(bind.NewOutline(whole[0]).Light().Guide)
	l, likely := book.Foresee(quoting)
	if !likely || l.Quoted["run.lost"] == nil {
		t.Fatalf("a guide is not foreseen with figures that are made: %v", l)
	}
	if is := bound(t, whole...).LeafAt("b.html"); l.Key() != is.Key() {
		t.Errorf("the leaf that was foreseen has another key than the one that stands in the book")
	}
}
