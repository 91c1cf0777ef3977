package phrase_test

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/phrase"
)

var originals = []phrase.Original{
	{Key: "wire asks", Words: "How thick must the wire of an aerial be?"},
	{Key: "wire run says", Words: "the way  from {a} to {b}"},
	{Key: "sense one way", Words: "one way"},
}

const whole = `# Remark
wire asks: How thick must the wire of an antenna be?
  from: How thick must the wire of an aerial be?

wire run says: the way from {a} to {b}
sense one way: one way
`

func TestCheck(t *testing.T) {
	cases := []struct{ name, was, typed, want string }{
		{"nothing wrong", "", "", ""},
		{"older than its original", "of an aerial be", "of an aerial be thick", "file.txt:3:9: stop: the words of \"wire asks\" are older than their original, which has changed\n" +
			"    from: How thick must the wire of an aerial be thick?\n          " + strings.Repeat("^", 46) + "\n" +
			"  wanted: words for what it says now: \"How thick must the wire of an aerial be?\"\n" +
			"  try: mend the words above, then this line: from: How thick must the wire of an aerial be?"},
		{"unlike, and not said of what", "  from: How thick must the wire of an aerial be?\n", "", "it is not said which they were made from"},
		{"a slot left out", "from {a} to {b}", "from {a}\n  from: the way from {a} to {b}", "do not hold what is put in there"},
		{"a text left out", "sense one way: one way\n", "", "file.txt:1:1: warn: 1 text has no words here"},
		{"no such text", "sense one way", "sense on way", `there is no text "sense on way"`},
		{"a line that is not whole", "sense one way: one way", "sense one way", "this line is not whole"},
		{"a key twice", "wire run says", "wire asks", `the key "wire asks" stands twice`},
		{"an original under nothing", "# Remark", "  from: nothing", "this original stands under no words"},
		{"two originals", "\n\nwire run", "\n  from: another\nwire run", "this original stands under no words"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			w, faults := phrase.Read(fault.NewText("file.txt", strings.Replace(whole, c.was, c.typed, 1)))
			faults.Join(w.Check(originals))
			if got := faults.String(); c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("got:\n%s\nwanted:\n%s", got, c.want)
			}
		})
	}
}

// TestOf: words that are older than their original are not printed.
func TestOf(t *testing.T) {
	w, _ := phrase.Read(fault.NewText("file.txt", whole))
	for _, c := range [][3]string{
		{"wire asks", originals[0].Words, "How thick must the wire of an antenna be?"},
		{"wire asks", "How thin?", "How thin?"},
		{"wire run says", originals[1].Words, "the way from {a} to {b}"},
		{"no such key", "as it stands", "as it stands"},
	} {
		if got := w.Of(c[0], c[1]); got != c[2] {
			t.Errorf("%s: got %q, want %q", c[0], got, c[2])
		}
	}
	if got := (*phrase.Words)(nil).Of("wire asks", "as it stands"); got != "as it stands" {
		t.Errorf("without words: got %q", got)
	}
}

// TestLines: what is written out is read as the same, and is then whole.
func TestLines(t *testing.T) {
	w, _ := phrase.Read(fault.NewText("file.txt", strings.Replace(whole, "sense one way: one way\n", "", 1)))
	again, faults := phrase.Read(fault.NewText("file.txt", phrase.Head(whole)+w.Lines(originals)))
	if faults.Join(again.Check(originals)); faults.Len() > 0 {
		t.Error(faults)
	}
	if got := again.Of("wire asks", originals[0].Words); !strings.Contains(got, "antenna") {
		t.Errorf("got %q", got)
	}
	if phrase.Head(whole) != "# Remark\n" {
		t.Errorf("the head is %q", phrase.Head(whole))
	}
}
