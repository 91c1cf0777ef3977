package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/guide"
	"bindpost/site/press"
	"bindpost/templates"
)

const authorsGuide = "writing-a-guide.md"

// TestAuthorsGuide holds the tables in the guide for authors against what they
// are made from: the words of blocks, the methods and the cautions. A table is
// the first under its heading.
func TestAuthorsGuide(t *testing.T) {
	path := filepath.Join("..", "..", "content", authorsGuide)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	want := string(text)
	for _, made := range authorsTables() {
		want = withTable(t, want, made.heading, made.table)
	}
	switch {
	case want == string(text):
	case *update:
		if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("%s is not what its tables are made from: go test ./cmd/bindpost -run AuthorsGuide -update", path)
	}
}

type authorsTable struct{ heading, table string }

func authorsTables() []authorsTable {
	words := guide.Words()
	return []authorsTable{
		{"The blocks", wordTable("", words)},
		{"The lines of a docket", wordTable("docket", words)},
		{"The lines of a table that is computed", wordTable("calc", words)},
		{"The lines of a table that decides", wordTable("decide", words)},
		{"The lines of a hook-up", wordTable("hookup", words)},
		{"The kinds of boxes", kindTable()},
		{"Drawings, links and cautions", cautionTable()},
		{"The methods", methodTable()},
	}
}

// wordTable lists the words of a block; those of "" are the blocks themselves.
func wordTable(block string, words []guide.Word) string {
	table := "| word | what it says | for example | how often |\n|---|---|---|---|\n"
	if block == "" {
		table = "| word | what it is | how it opens |\n|---|---|---|\n"
	}
	for _, w := range words {
		if w.Block != block {
			continue
		}
		example := "`" + w.Example + "`"
		if strings.Contains(w.Example, "`") {
			example = "```` " + w.Example + " ````"
		}
		table += "| " + w.Word + " | " + w.Help + " | " + example + " |"
		if block != "" {
			often := "once"
			if w.Twice {
				often = "several times"
			}
			table += " " + often + " |"
		}
		table += "\n"
	}
	return table
}

// kindTable lists the kinds of boxes with the sockets that each has.
func kindTable() string {
	table := "| kind | its sockets |\n|---|---|\n"
	for _, k := range trade.ShippedRears().Kinds {
		var names []string
		for _, s := range k.Sockets {
			names = append(names, s.Name)
		}
		table += "| " + k.Name + " | " + strings.Join(names, ", ") + " |\n"
	}
	return table
}

func cautionTable() string {
	library, table := trade.Library(), "| name | signal word | what can happen |\n|---|---|---|\n"
	for _, name := range library.Cautions() {
		c, _ := library.Caution(name)
		table += "| " + name + " | " + c.Signal + " | " + strings.TrimSpace(c.Happens) + " |\n"
	}
	return table
}

func methodTable() string {
	library, table := trade.Library(), "| method | the question that it answers |\n|---|---|\n"
	for _, name := range library.Names() {
		m, _ := library.Method(name)
		table += "| " + name + " | " + m.Sheet().Asks + " |\n"
	}
	return table
}

// withTable puts a table in the place of the first under a heading.
func withTable(t *testing.T, text, heading, table string) string {
	t.Helper()
	lines := strings.Split(text, "\n")
	head := slices.Index(lines, "## "+heading)
	if head < 0 {
		t.Fatalf("the guide has no heading %q", heading)
	}
	first := head + 1
	for ; first < len(lines) && !strings.HasPrefix(lines[first], "| "); first++ {
		if strings.HasPrefix(lines[first], "## ") {
			t.Fatalf("there is no table under %q", heading)
		}
	}
	last := first
	for last < len(lines) && strings.HasPrefix(lines[last], "|") {
		last++
	}
	return strings.Join(slices.Concat(lines[:first], strings.Split(strings.TrimSuffix(table, "\n"), "\n"), lines[last:]), "\n")
}

// TestAuthorsExamples presses the guide that the guide for authors tells its
// reader to copy, with the imprint, standing figures and method beside it:
// nothing is told but that the one standing figure is not used.
func TestAuthorsExamples(t *testing.T) {
	text, err := content.Files.ReadFile(authorsGuide)
	if err != nil {
		t.Fatal(err)
	}
	c := fstest.MapFS{}
	for i, name := range []string{"bench.md", "imprint.yaml", ownPhrases, "standing.yaml", "methods/shelf-load.yaml"} {
		pieces := strings.Split(string(text), "\n````\n")
		if len(pieces) < 2*i+2 {
			t.Fatalf("there is no example of %s", name)
		}
		c[name] = &fstest.MapFile{Data: []byte(pieces[2*i+1] + "\n")}
	}
	used := []byte("\nThe way is <figure:standing.kitchen>.\n\n```calc shelf-load\nname: shelf\nboxes: 9 and 12 kg\n```\n")
	c["bench.md"].Data = append(bytes.Clone(c["bench.md"].Data), used...)
	phrases := c[ownPhrases]
	delete(c, ownPhrases)
	m, faults := press.Make(press.Order{Copy: c, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	if m == nil || faults.String() != "" {
		t.Errorf("the examples of the guide for authors are not sound:\n%s", faults)
	}

	// Of its own phrases the guide shows a beginning: what else is wanted is told.
	c[ownPhrases] = phrases
	m, faults = press.Make(press.Order{Copy: c, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	for _, f := range faults.All() {
		if f.Grade == fault.Stop || f.Place.Text.Name() != ownPhrases {
			t.Errorf("with its beginning of %s: %s", ownPhrases, f)
		}
	}
	if m == nil {
		t.Errorf("with its beginning of %s nothing is pressed", ownPhrases)
	}
}

// ownPhrases is the file of a copy's own second language that the guide shows.
const ownPhrases = "phrases/en-US.txt"
