package bind_test

import (
	"slices"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// TestGlossary collects the sentences that explain terms: by the alphabet, with
// their figures, each cut as it stands, and those of a definition whole.
func TestGlossary(t *testing.T) {
	text := strings.Replace(wireText("9 m"), "topics: wire", "topics: wire\nexplains: run, tone, Banana plug, earth, loss, gauge", 1) +
		"\nA wire is named by its gauge. *Tone* and another tone. The loss of a run at <figure:run.far> is <figure:run.lost> (small.) Then earth is the way back to\nground.\n\n" +
		"banana\nplug, 4 mm plug\n:   A plug with a spring. It fits a post.\n\n    Nothing more.\n"
	text = strings.Replace(text, "banana\nplug, 4", "banana plug, 4", 1)
	g := read(t, "a.md", text)
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: edition(), Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	var got []string
	for _, e := range b.Glossary {
		said := ""
		for _, p := range e.Sentence.Pieces {
			if p.Figure != nil {
				said += "<" + p.Figure.Address + ">"
			}
			said += p.Words
		}
		got = append(got, e.Term.Word+"|"+said+"|"+e.Where[0].Code+" "+e.Where[0].Path)
	}
	want := []string{
		"Banana plug|A plug with a spring. It fits a post.|W1 a.html#W1-term-banana-plug",
		"earth|Then earth is the way back to ground.|W1 a.html#W1-term-earth",
		"gauge|A wire is named by its gauge.|W1 a.html#W1-term-gauge",
		"loss|The loss of a run at <run.far> is <run.lost> (small.)|W1 a.html#W1-term-loss",
		"run|The loss of a run at <run.far> is <run.lost> (small.)|W1 a.html#W1-term-run",
		"tone|Tone and another tone.|W1 a.html#W1-term-tone",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if also := b.Glossary[1].Also; !slices.Contains(also, "ground") {
		t.Errorf("earth is also called %v, which lacks ground", also)
	}
}
