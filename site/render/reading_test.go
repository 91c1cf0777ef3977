package render_test

import (
	"strings"
	"testing"

	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/render"
)

// TestReading sees that the page on how to read the book shows the parts of a
// table as they stand there, and does without them where the book has no table.
func TestReading(t *testing.T) {
	read := func(guides ...*guide.Guide) string {
		b, _ := bind.Bind(bind.Parts{Guides: guides, Edition: edition()})
		d, err := renderer(t, withPhrases(t, "xx.txt", "")).Reading(b, render.Example(b))
		if err != nil {
			t.Fatal(err)
		}
		p, err := d.Set()
		if err != nil {
			t.Fatal(err)
		}
		return string(p.Body)
	}
	const wire = `<a href="speaker-wire.html#K3-T1">`
	with, without := read(wireGuide(t), readingGuide(t)), read(readingGuide(t))
	for _, part := range []string{
		wire, "K3-T1 Loss", "Limit: loss at most", "Always rounded up: loss", "Worked for", `<a href="speaker-wire.html#K3-1">K3-1</a>`, "Does not cover",
	} {
		if !strings.Contains(with, part) {
			t.Errorf("the page does not hold %s", part)
		}
		if strings.Contains(without, part) {
			t.Errorf("a book without a table shows %s", part)
		}
	}
	for _, word := range []string{"WARNING", "From memory, not checked", "do not connect", "cannot tell"} {
		if !strings.Contains(with, word) || !strings.Contains(without, word) {
			t.Errorf("it is not told what %q means", word)
		}
	}
	// The loss of the first gauge over the first run, with its unit, as it is quoted.
	if !strings.Contains(with, `K3-T1, <span class="point">`) || !strings.Contains(with, "decibels</span>. Whoever") {
		t.Error("no figure is quoted with its unit")
	}
}
