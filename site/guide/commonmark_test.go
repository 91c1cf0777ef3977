package guide

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer/html"

	"bindpost/calc/fault"
)

// example is one of the examples of the CommonMark specification, as goldmark
// carries them.
type example struct {
	Markdown string `json:"markdown"`
	Example  int    `json:"example"`
	Section  string `json:"section"`
}

const commonMarkExamples = 652

// examples reads the examples out of goldmark's own module.
func examples(t *testing.T) []example {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/yuin/goldmark").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(out)), "_test", "spec.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []example
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != commonMarkExamples {
		t.Fatalf("goldmark carries %d examples, and there were %d", len(all), commonMarkExamples)
	}
	return all
}

// TestCommonMark reads every example of the CommonMark specification as a
// guide. Written by goldmark's own renderer, the guide's tree must give the
// HTML that plain goldmark with the same options gives: reading a guide
// changes nothing in what is no block, figure or docket. Faults for HTML and
// for the docket that is missing are passed over.
func TestCommonMark(t *testing.T) {
	plain := goldmark.New(
		goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList),
		goldmark.WithRendererOptions(html.WithUnsafe()),
	)
	for _, e := range examples(t) {
		var want, got bytes.Buffer
		if err := plain.Convert([]byte(e.Markdown), &want); err != nil {
			t.Fatal(err)
		}
		g, _ := Read(fault.NewText("example.md", e.Markdown), testKit(t))
		if err := plain.Renderer().Render(&got, g.Source, g.Tree); err != nil {
			t.Errorf("example %d (%s): %v", e.Example, e.Section, err)
			continue
		}
		if got.String() != want.String() {
			t.Errorf("example %d (%s):\n%s\ngave\n%s\nwanted\n%s", e.Example, e.Section, e.Markdown, got.String(), want.String())
		}
	}
}

// TestMarkdownRoundBlocks holds pipe tables, footnotes, definition lists and
// the rest of Markdown to mean the same with a block before, between and
// after them as without.
func TestMarkdownRoundBlocks(t *testing.T) {
	const docket = "```docket\ncode: K1\nquestion: What?\nanswer: This.\ntopics: wire\n```\n\n"
	block := func(name string) string {
		return "```calc speaker-wire\nname: " + name + "\ngauge: 16 AWG\nrun: 9 m\nload: 8 ohm\nshow: loss\n```\n\n"
	}
	pieces := []string{
		"| a | b |\n|--:|:-:|\n| 1 | `x` |\n\n",
		"A note[^1] and another[^two].\n\n",
		"Term\n: what it means\n: and more\n\n",
		"1. one\n   - deep\n2. two\n\n> quoted\n\n",
		"[^1]: The note.\n\n[^two]: The other, with a [link][l].\n\n[l]: <#K1>\n\n",
	}
	md := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Footnote, extension.DefinitionList))
	var want, got bytes.Buffer
	if err := md.Convert([]byte(strings.Join(pieces, "")), &want); err != nil {
		t.Fatal(err)
	}
	text := docket + block("before")
	for i, p := range pieces {
		text += p + block("after-"+string(rune('a'+i)))
	}
	g, faults := Read(fault.NewText("k.md", text), testKit(t))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	if len(g.Tables) != len(pieces)+1 {
		t.Fatalf("%d tables", len(g.Tables))
	}
	for n := g.Tree.FirstChild(); n != nil; {
		next := n.NextSibling()
		if n.Kind() == KindTable {
			g.Tree.RemoveChild(g.Tree, n)
		}
		n = next
	}
	if err := md.Renderer().Render(&got, g.Source, g.Tree); err != nil {
		t.Fatal(err)
	}
	if got.String() != want.String() {
		t.Errorf("got\n%s\nwanted\n%s", got.String(), want.String())
	}
}
