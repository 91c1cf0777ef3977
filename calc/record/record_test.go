package record_test

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/record"
)

const sample = `# a method
method: speaker-wire   # a remark
asks: "How thick?"
other: 'it''s'
takes:
  Ωrun: {unit: °C, from: 0.03, to: [150, "%"], key: 010}
working:
  - each = each of wire-resistance   [a, b]
  - goes on
    here
last: |
  one
  two
empty:
nothing: ~
yes: yes
`

func parsed(t *testing.T, source string) *record.Node {
	t.Helper()
	n, faults := record.Parse(fault.NewText("a.yaml", source))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return n
}

// Texts are kept as typed, with their places.
func TestParse(t *testing.T) {
	n := parsed(t, sample)
	input := n.Get("takes").Get("Ωrun")
	for _, c := range []struct {
		node     *record.Node
		text     string
		verbatim bool
		at       string
	}{
		{n.Get("method"), "speaker-wire", true, "2:9"},
		{n.Get("asks"), "How thick?", true, "3:8"},
		{n.Get("other"), "it's", false, "4:9"},
		{input.Get("unit"), "°C", true, "6:16"},
		{input.Get("from"), "0.03", true, "6:26"},
		{input.Get("key"), "010", true, "6:53"},
		{input.Get("to").Items[1], "%", true, "6:43"},
		{n.Get("working").Items[0], "each = each of wire-resistance   [a, b]", true, "8:5"},
		{n.Get("working").Items[1], "goes on here", false, "9:5"},
		{n.Get("last"), "one\ntwo\n", false, "11:7"},
		{n.Get("yes"), "yes", true, "16:6"},
	} {
		line, column := c.node.Place.Text.Position(c.node.Place.Start)
		if c.node.Kind != record.Scalar || c.node.Text != c.text || c.node.Verbatim != c.verbatim {
			t.Errorf("%q is %s, verbatim %v, not %q", c.node.Text, c.node.Kind, c.node.Verbatim, c.text)
		}
		if c.verbatim && c.node.Place.String() != c.text {
			t.Errorf("the place of %q covers %q", c.text, c.node.Place)
		}
		if want := c.at; want != position(line, column) {
			t.Errorf("%q stands at %d:%d, not %s", c.text, line, column, want)
		}
	}
	for _, key := range []string{"empty", "nothing"} {
		if n.Get(key).Kind != record.Empty {
			t.Errorf("%s is %s", key, n.Get(key).Kind)
		}
	}
	if n.Get("absent") != nil || n.Get("method").Get("x") != nil {
		t.Error("what is not there was found")
	}
	if parsed(t, "# only a remark\n").Kind != record.Empty {
		t.Error("a remark is something")
	}
}

func position(line, column int) string {
	digits := func(n int) string {
		if n < 10 {
			return string(rune('0' + n))
		}
		return string(rune('0'+n/10)) + string(rune('0'+n%10))
	}
	return digits(line) + ":" + digits(column)
}

// What a record does not read is refused at its place, in plain words.
func TestRefused(t *testing.T) {
	for _, c := range []struct{ name, source, at, message string }{
		{"anchor", "a: &x 1\n", "1:4", "a mark for repeating text (& or *) is not read here"},
		{"alias", "a: 1\nb: *x\n", "2:4", "a mark for repeating text"},
		{"anchored name", "&a b: 1\n", "1:1", "before a name is not read here"},
		{"tagged name", "!!str b: 1\n", "1:1", "before a name is not read here"},
		{"merge", "a:\n  <<: 1\n", "2:3", "a mark for repeating text"},
		{"tag", "a: !!str 1\n", "1:4", "a mark of kind (!) is not read here"},
		{"double", "run: 1\nb: 2\nrun: 3\n", "3:1", `"run" stands twice`},
		{"documents", "a: 1\n---\nb: 2\n", "3:", "a second record begins here"},
		{"open bracket", "a: [1, 2\nb: 3\n", "1:4", "a bracket is opened and not closed"},
		{"open bracket among others", "x: {y: it's, z: '[', w: \"{\"} # [\na: {b: 1\nc: {d: 2}\n", "2:4", "put a } at the end of this line"},
		{"open bracket at the end", "a: 1\nb:\n  - {c: 1\n", "3:5", "a bracket is opened and not closed"},
		{"bracket that closes nothing", "a: {b: 1}}\n", "1:10", "this bracket closes nothing"},
		{"open quote", "a: \"x\nb: 2\n", "1:4", "a quoted text is opened and not closed"},
		{"colon", "a: b: c\n", "1:5", "a colon and a space stand inside a text"},
		{"tab", "a:\n\tb: 1\n", "2:1", "a tab stands where spaces belong"},
		{"no colon", "a: 1\nasks How thick?\n", "2:1", "this line has no colon behind its name"},
		{"no colon above lines", "a: 1\ntakes\n  run: 1\n", "2:1", "this line has no colon behind its name"},
		{"no space", "a: 1\nasks:How thick?\n", "2:5", "no space stands behind this colon"},
		{"further in", "a:\n  b: {c: 1}\n   d: {c: 1}\n", "3:4", "this line begins further in than the one above it"},
		{"further in behind a text", "a:\n  b: 9 m\n   d: 1\n", "3:4", "this line begins further in than the one above it"},
		{"further out", "a:\n  b: {c: 1}\n d: {c: 1}\n", "3:2", "this line begins straight below none of those above it"},
		{"mixed", "- a\nb: c\n", "2:1", "this line cannot be read"},
		{"control", "a: \x07\n", "1:4", "a control character"},
		{"deep brackets", "a: " + strings.Repeat("[", 50), "1:20", "too many brackets"},
		{"deep indent", strings.Repeat(" ", 300) + "a: 1\n", "1:1", "indented too far"},
		{"long", strings.Repeat("a: 1\n", 1<<18), "1:1", "too long"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := record.Parse(fault.NewText("a.yaml", c.source))
			all := faults.All()
			if len(all) != 1 {
				t.Fatalf("%d faults: %v", len(all), faults)
			}
			line, column := all[0].Place.Text.Position(all[0].Place.Start)
			if !strings.HasPrefix(position(line, column), c.at) || !strings.Contains(all[0].Error(), c.message) {
				t.Errorf("at %d:%d: %v", line, column, all[0])
			}
		})
	}
}

func TestKeysAndWords(t *testing.T) {
	n := parsed(t, "unti: m\nfrom: 1\nlist: [a, [b], c]\none: x\nnone:\nmap: {a: 1}\n")
	faults := n.Keys("an input", "unit", "from", "list", "one", "none", "map")
	if s := faults.String(); faults.Len() != 1 || !strings.Contains(s, `an input has no "unti"`) || !strings.Contains(s, "try: unit") {
		t.Errorf("the keys: %s", s)
	}
	if s := n.Get("one").Keys("an input", "a", "b", "c", "d").String(); !strings.Contains(s, "an input is a text here") || !strings.Contains(s, "a, b, c …") {
		t.Errorf("keys of a text: %s", s)
	}
	if s := n.Get("list").Keys("an input", "a").String(); !strings.Contains(s, "a list here") {
		t.Errorf("keys of a list: %s", s)
	}
	var none *record.Node
	if none.Keys("x").Len()+n.Get("none").Keys("x").Len() > 0 {
		t.Error("nothing has wrong keys")
	}
	words, faults := n.Get("list").Words("a list")
	if len(words) != 2 || faults.Len() != 1 || !strings.Contains(faults.String(), "a list holds a list") {
		t.Errorf("%d words: %v", len(words), faults)
	}
	if words, _ := n.Get("one").Words("x"); len(words) != 1 || words[0].Text != "x" {
		t.Error("a single text is a list of one")
	}
	if _, faults := n.Get("map").Words("x"); !strings.Contains(faults.String(), "x is a set of named values here") {
		t.Errorf("words of a map: %v", faults)
	}
	if words, faults := none.Words("x"); words != nil || faults.Len() > 0 {
		t.Error("nothing is an empty list")
	}
	if s := record.Kind(9).String(); s != "something unknown" {
		t.Errorf("a kind that is none reads %q", s)
	}
}

// FuzzParse sees that no text brings the reader down, that every place lies in
// the text, and that a verbatim text is what its place covers.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{sample, "a: {b: [c, d: e]}", "- a\n- - b\n", "? a\n: b\n", "a: >\n  x\n", "{a: 1, b}", "\"a\": 'b'", "a: |2\n   x", ": :", "- {", "a: \"\\u00e9\""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, source string) {
		text := fault.NewText("a.yaml", source)
		n, faults := record.Parse(text)
		for _, x := range faults.All() {
			inside(t, text, x.Place)
		}
		walk(t, text, n)
	})
}

func walk(t *testing.T, text *fault.Text, n *record.Node) {
	if n == nil {
		return
	}
	inside(t, text, n.Place)
	if n.Verbatim && n.Place.String() != n.Text {
		t.Errorf("%q covers %q", n.Text, n.Place)
	}
	for _, e := range n.Entries {
		walk(t, text, e.Key)
		walk(t, text, e.Value)
	}
	for _, item := range n.Items {
		walk(t, text, item)
	}
}

func inside(t *testing.T, text *fault.Text, p fault.Place) {
	if p.Text != text || p.Start < 0 || p.Start > p.End || p.End > len(text.Source()) {
		t.Errorf("a place outside its text: %d to %d of %d", p.Start, p.End, len(text.Source()))
	}
}

// One slip anywhere in a sound record is read, or told at a place in the file;
// it is never tripped over.
func TestSlips(t *testing.T) {
	told := 0
	for at := range len(sample) {
		for _, slip := range []string{"", "\t", "{", "]", "}", `"`, ": ", "\n ", "#", "- "} {
			rest := sample[at:]
			if slip == "" {
				rest = rest[1:]
			}
			text := fault.NewText("a.yaml", sample[:at]+slip+rest)
			_, faults := record.Parse(text)
			for _, f := range faults.All() {
				told++
				if f.Place.Text != text || f.Place.Start < 0 || f.Place.End > len(text.Source()) || f.Wanted+f.Try == "" {
					t.Fatalf("%q at %d: %v", slip, at, f)
				}
			}
		}
	}
	if told < 500 {
		t.Errorf("%d slips were told", told)
	}
}
