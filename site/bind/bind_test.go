package bind_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/text"

	"bindpost/calc/fault"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// made reads a guide whose docket stands in its first three lines: code,
// question, topics. Order is the number that follows the code.
func made(file, source string) *guide.Guide {
	t := fault.NewText(file, source)
	g := &guide.Guide{Text: t, File: file, Source: []byte(source)}
	g.Docket.Places = map[string]fault.Place{}
	lines := strings.SplitN(source, "\n", 4)
	for i, key := range []string{"code", "question", "topics"} {
		value := strings.TrimPrefix(lines[i], key+": ")
		start := strings.Index(source, lines[i]) + len(key) + 2
		g.Docket.Places[key] = t.Place(start, start+len(value))
		switch key {
		case "code":
			g.Docket.Code = value
			_, _ = fmt.Sscanf(value[1:], "%d", &g.Docket.Order)
		case "question":
			g.Docket.Question = value
		case "topics":
			if value != "" {
				g.Docket.Topics = strings.Split(value, ", ")
			}
		}
	}
	// The docket is blanked, so that offsets into the rest stay as they are.
	body := []byte(source)
	for i := range len(source) - len(lines[3]) {
		if body[i] != '\n' {
			body[i] = ' '
		}
	}
	g.Tree = goldmark.DefaultParser().Parse(text.NewReader(body))
	return g
}

func wire() *guide.Guide {
	return made("wire.md", "code: K3\nquestion: How thick must speaker wire be?\ntopics: wire\n\n# The run\n\n## How to measure\n\n## Where not\n\n# The gauge\n\nSee [two pairs](pairs.md#L2-1) and [the run](#K3-1).\n")
}

func pairs() *guide.Guide {
	return made("pairs.md", "code: L2\nquestion: May I run two pairs at once?\ntopics: speakers, wire\n\n### The smallest load\n\nSee [the wire](wire.md).\n")
}

func reading() *guide.Guide {
	return made("reading.md", "code: A1\nquestion: How do I read this book?\ntopics: how to begin\n\nRead on.\n")
}

func plug() *guide.Guide {
	return made("plugs/banana.md", "code: K1\nquestion: Which plug fits?\ntopics: wire\n\nThe [wire](../wire.md#K3-2) and [two pairs](../pairs.md).\n")
}

func edition() guide.Edition {
	return guide.Edition{Topics: []string{"how to begin", "wire", "speakers", "rooms"}}
}

func bound(t *testing.T, guides ...*guide.Guide) *bind.Book {
	t.Helper()
	b, faults := bind.Bind(bind.Parts{Guides: guides, Edition: edition()})
	if faults.Len() > 0 {
		t.Fatalf("unexpected faults:\n%v", faults)
	}
	return b
}

func TestOrder(t *testing.T) {
	shapes := [][]*guide.Guide{
		{wire(), pairs(), reading(), plug()},
		{plug(), reading(), pairs(), wire()},
	}
	for _, guides := range shapes {
		b := bound(t, guides...)
		var codes, around []string
		for _, l := range b.Leaves {
			codes = append(codes, l.Guide.Docket.Code)
			line := ""
			if l.Previous != nil {
				line += l.Previous.Code + " " + l.Previous.Path
			}
			line += " < > "
			if l.Next != nil {
				line += l.Next.Code + " " + l.Next.Path
			}
			around = append(around, line)
		}
		if want := []string{"A1", "K1", "K3", "L2"}; !slices.Equal(codes, want) {
			t.Errorf("the book reads %q, want %q", codes, want)
		}
		want := []string{
			" < > K1 plugs/banana.html",
			"A1 reading.html < > K3 wire.html",
			"K1 plugs/banana.html < > L2 pairs.html",
			"K3 wire.html < > ",
		}
		if !slices.Equal(around, want) {
			t.Errorf("the leaves lie between\n%q, want\n%q", around, want)
		}
	}
}

// TestOrderInTopic puts the docket's order before the code.
func TestOrderInTopic(t *testing.T) {
	late := plug()
	late.Docket.Order = 9
	b := bound(t, late, wire(), pairs())
	if code := b.Leaves[0].Guide.Docket.Code; code != "K3" {
		t.Errorf("the first guide is %s, want K3: K1 comes ninth", code)
	}
}

func TestTopics(t *testing.T) {
	said := func(b *bind.Book) string {
		var s strings.Builder
		for _, topic := range b.Topics {
			fmt.Fprintf(&s, "%s:", topic.Name)
			for _, l := range topic.Leaves {
				fmt.Fprintf(&s, " %s", l.Guide.Docket.Code)
			}
			for _, also := range topic.Also {
				fmt.Fprintf(&s, " (%s)", also.Code)
			}
			s.WriteString("\n")
		}
		return s.String()
	}
	t.Run("in the order of the imprint, without those that are empty", func(t *testing.T) {
		want := "how to begin: A1\nwire: K1 K3 (L2)\nspeakers: L2\n"
		if got := said(bound(t, wire(), pairs(), reading(), plug())); got != want {
			t.Errorf("got\n%s, want\n%s", got, want)
		}
	})
	t.Run("by the alphabet where the imprint names none; guides of no topic last", func(t *testing.T) {
		loose := made("loose.md", "code: Z9\nquestion: And else?\ntopics: \n\nWell.\n")
		b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{loose, wire(), pairs(), reading()}, Edition: guide.Edition{}})
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		want := "how to begin: A1\nspeakers: L2\nwire: K3 (L2)\n: Z9\n"
		if got := said(b); got != want {
			t.Errorf("got\n%s, want\n%s", got, want)
		}
	})
}

func TestHeads(t *testing.T) {
	cases := []struct{ name, marks, want string }{
		{"from the first level", "# a\n## b\n## c\n# d\n", "K3-1 2, K3-1.1 3, K3-1.2 3, K3-2 2"},
		{"from the second", "## a\n### b\n## c\n", "K3-1 2, K3-1.1 3, K3-2 2"},
		{"a level left out", "# a\n### b\n## c\n", "K3-1 2, K3-1.1 3, K3-1.2 3"},
		{"a deep one first", "### a\n# b\n## c\n", "K3-1 2, K3-2 2, K3-2.1 3"},
		{"counting again under each", "# a\n## b\n# c\n## d\n", "K3-1 2, K3-1.1 3, K3-2 2, K3-2.1 3"},
		{"all six", "# a\n## b\n### c\n#### d\n##### e\n###### f\n", "K3-1 2, K3-1.1 3, K3-1.1.1 4, K3-1.1.1.1 5, K3-1.1.1.1.1 6, K3-1.1.1.1.1.1 6"},
		{"none", "text\n", ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := bound(t, made("w.md", "code: K3\nquestion: Why?\ntopics: wire\n\n"+c.marks))
			var got []string
			for _, h := range b.Leaves[0].Heads {
				got = append(got, fmt.Sprintf("%s %d", h.Code, h.Level))
			}
			if s := strings.Join(got, ", "); s != c.want {
				t.Errorf("got %s, want %s", s, c.want)
			}
		})
	}
}

func TestLinks(t *testing.T) {
	b := bound(t, wire(), pairs(), reading(), plug())
	got := map[string]string{}
	for _, l := range b.Leaves {
		for _, k := range l.Links {
			got[l.Path+" "+k.Typed] = k.Page
		}
	}
	want := map[string]string{
		"wire.html pairs.md#L2-1":           "pairs.html#L2-1",
		"wire.html #K3-1":                   "#K3-1",
		"pairs.html wire.md":                "wire.html",
		"plugs/banana.html ../wire.md#K3-2": "../wire.html#K3-2",
		"plugs/banana.html ../pairs.md":     "../pairs.html",
	}
	for key, page := range want {
		if got[key] != page {
			t.Errorf("%s leads to %q, want %q", key, got[key], page)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d links, want %d: %q", len(got), len(want), got)
	}
}

func TestLinksOutside(t *testing.T) {
	outside := made("out.md", "code: K9\nquestion: Where?\ntopics: wire\n\n[a](https://example.invalid/a.md) [b](mailto:a@example.invalid) [c](//example.invalid/c.md)\n")
	if l := bound(t, outside).Leaves[0]; len(l.Links) != 0 {
		t.Errorf("addresses outside the copy are taken for guides: %q", l.Links)
	}
}

func TestFaults(t *testing.T) {
	block := func(g *guide.Guide, name string) *guide.Guide {
		at := strings.Index(g.Text.Source(), name)
		g.Tables = append(g.Tables, &guide.Table{Name: name, Number: g.Docket.Code + "-T1", Named: g.Text.Place(at, at+len(name)), Inside: &guide.Inside{}})
		return g
	}
	cases := []struct {
		name   string
		guides []*guide.Guide
		want   string
	}{
		{
			"two guides of one code",
			[]*guide.Guide{wire(), pairs(), made("a.md", "code: k3\nquestion: Why?\ntopics: wire\n\nText.\n")},
			`wire.md:1:7: stop: the code "K3" is taken: a.md has the code "k3"
  code: K3
        ^^
  wanted: a code that no other guide has; capital and small letters count as the same
  try: give this guide another code, as K1; a code that is printed already should stay as it is`,
		},
		{
			"two blocks of one name",
			[]*guide.Guide{
				block(made("a.md", "code: A1\nquestion: Why?\ntopics: wire\n\nname: hall\n"), "hall"),
				block(made("b.md", "code: A2\nquestion: How?\ntopics: wire\n\nname: hall\n"), "hall"),
			},
			`b.md:5:7: stop: two blocks are named "hall": the other is in a.md, line 5
  name: hall
        ^^^^
  wanted: a name that no other block of the copy has: figures are found by it
  try: give one of the two blocks another name`,
		},
		{
			"a topic that the imprint does not list",
			[]*guide.Guide{made("a.md", "code: A1\nquestion: Why?\ntopics: wire, speakrs\n\nText.\n")},
			`a.md:3:15: stop: the imprint lists no topic "speakrs"
  topics: wire, speakrs
                ^^^^^^^
  wanted: one of: how to begin, wire, speakers, rooms
  try: write speakers, or add speakrs to the topics in imprint.yaml`,
		},
		{
			"a guide that would take the place of the contents",
			[]*guide.Guide{made("index.md", "code: A1\nquestion: Why?\ntopics: wire\n\nText.\n")},
			`index.md:1:1: stop: a guide may not be called "index.md": the contents have that page
  code: A1
  ^
  try: name the file after its question, as speaker-wire.md`,
		},
		{
			"a link to a guide that is not there",
			[]*guide.Guide{wire(), pairs(), made("a.md", "code: A1\nquestion: Why?\ntopics: wire\n\nSee [the wire](wires.md).\n")},
			`a.md:5:16: stop: the link leads to "wires.md", and the copy has no such guide
  See [the wire](wires.md).
                 ^^^^^^^^
  wanted: a guide's file, named from the folder of this guide
  try: write wire.md`,
		},
		{
			"a link to a guide that is not there, of a guide that is almost called so",
			[]*guide.Guide{made("wire.md", "code: A1\nquestion: Why?\ntopics: wire\n\nSee [the wire](wires.md).\n")},
			`wire.md:5:16: stop: the link leads to "wires.md", and the copy has no such guide
  See [the wire](wires.md).
                 ^^^^^^^^
  wanted: a guide's file, named from the folder of this guide`,
		},
		{
			"a link to a section that is not there",
			[]*guide.Guide{wire(), pairs(), made("a.md", "code: A1\nquestion: Why?\ntopics: wire\n\nSee [the wire](wire.md#K3-3).\n")},
			`a.md:5:24: stop: the link leads to "K3-3", and wire.md has no such section or table
  See [the wire](wire.md#K3-3).
                         ^^^^
  wanted: the code that stands beside a heading or above a table of that guide
  try: write #K3-1`,
		},
		{
			"a link to something that is no guide",
			[]*guide.Guide{made("a.md", "code: A1\nquestion: Why?\ntopics: wire\n\nSee [the leaflet](leaflet.pdf).\n")},
			`a.md:5:19: stop: the link leads to "leaflet.pdf", which is no guide of the copy
  See [the leaflet](leaflet.pdf).
                    ^^^^^^^^^^^
  wanted: a guide's file, named from the folder of this guide`,
		},
		{
			"a link that leads nowhere",
			[]*guide.Guide{made("a.md", "code: A1\nquestion: Why?\ntopics: wire\n\nSee [the leaflet]().\n")},
			`a.md:5:5: stop: the link leads nowhere
  See [the leaflet]().
      ^
  wanted: a guide's file, named from the folder of this guide`,
		},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, faults := bind.Bind(bind.Parts{Guides: c.guides, Edition: edition()})
			if got := faults.String(); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestRelative(t *testing.T) {
	cases := []struct{ from, to, want string }{
		{"a.html", "b.html", "b.html"},
		{"a.html", "x/b.html", "x/b.html"},
		{"x/a.html", "b.html", "../b.html"},
		{"x/a.html", "x/b.html", "b.html"},
		{"x/y/a.html", "x/z/b.html", "../z/b.html"},
		{"x/y/a.html", "x/b.html", "../b.html"},
		{"x/a.html", "x/a.html", "a.html"},
	}
	for _, c := range cases {
		if got := bind.Relative(c.from, c.to); got != c.want {
			t.Errorf("from %s to %s: %q, want %q", c.from, c.to, got, c.want)
		}
	}
}

// TestQuotedWarnings: a guide that quotes a figure of a table that can hurt
// people has that table's warnings at its head, and not its cautions about gear;
// one that quotes only what the table took has none.
func TestQuotedWarnings(t *testing.T) {
	loud := read(t, "loud.md", strings.NewReplacer("CODE", "A1", "ANSWER", "It is loud.").Replace(docket)+
		"```calc sine-power\nname: big\npower: 500 W\nload: 8 ohm\nshow: volts\nfigure: high = volts\nfigure: into = load\n```\n")
	quotes := read(t, "quotes.md", strings.NewReplacer("CODE", "B1", "ANSWER", "It has <figure:big.high>.").Replace(docket))
	takes := read(t, "takes.md", strings.NewReplacer("CODE", "C1", "ANSWER", "It is <figure:big.into>.").Replace(docket))
	b := bound(t, loud, quotes, takes)
	for _, l := range b.Leaves {
		var ids []string
		for _, c := range l.Cautions {
			ids = append(ids, c.Signal+" "+c.ID)
		}
		warned := slices.Contains(ids, "WARNING hot-terminals")
		if want := l.Guide.Docket.Code != "C1"; warned != want {
			t.Errorf("%s has the cautions %q", l.Guide.Docket.Code, ids)
		}
	}
	if heeded := b.Cautions; len(heeded) == 0 || len(b.WhereHeeded()[heeded[0].ID]) != 2 {
		t.Errorf("the list of cautions has %+v", heeded)
	}
}
