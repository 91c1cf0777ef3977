package bind_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// lines writes an index as it is read: an entry, where else to look, where its
// word is explained, the questions, the other places.
func lines(heads []*bind.IndexHead) []string {
	var all []string
	for _, h := range heads {
		line := h.Word
		if h.See != nil {
			line += " see " + strings.Join(h.See, ", ")
		}
		for _, s := range h.Explained {
			line += " explained " + s.Code
		}
		for _, q := range h.Questions {
			line += " ? " + q.Code
		}
		for _, s := range h.Also {
			line += " also " + s.Code
		}
		all = append(all, line)
	}
	return all
}

// TestIndex puts questions, headings and tables under their key words: those of
// the trade under the word that has an entry, whatever the text calls it.
func TestIndex(t *testing.T) {
	text := strings.Replace(wireText("9 m"), "topics: wire", "topics: wire\nexplains: gauge, zither, hum, buzz", 1) + "\nA *gauge* counts. A *zither* is no box. A *hum* is low. A *buzz* has an edge.\n"
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{read(t, "a.md", text)}, Edition: edition(), Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	item := func(code, text string) *bind.Item {
		return &bind.Item{Spot: bind.Spot{Code: code, Path: code + ".html"}, Text: text, Question: !strings.Contains(code, "-")}
	}
	heads := b.Index(slices.Values([]*bind.Item{
		item("R1", "Which aerials may an aerial's owner hang?"),
		item("E4", "Where does the hum come from, and is AM wanted?"),
		item("E4-1", "Ask the ground loop of the turntable, and am I glad"),
		item("E4-T1", "Glad, by record players"),
	}), strings.Fields("which may the where does come from and is am ask of i by"))
	got := lines(heads)
	for _, h := range heads {
		if h.Word == "hum" && !strings.HasSuffix(h.Explained[0].Path, "-hum") {
			t.Errorf("hum is explained at %s, the place of another word for it", h.Explained[0].Path)
		}
	}
	for _, want := range []string{
		"antenna ? R1", "aerial see antenna", "hum explained W1 ? E4 also E4-1", "AM ? E4", "earth also E4-1", "ground see earth",
		"record player also E4-1 also E4-T1", "turntable see record player", "hang ? R1", "owner ? R1",
		"gauge explained W1", "zither explained W1",
	} {
		if !slices.Contains(got, want) {
			t.Errorf("the index lacks %q", want)
		}
	}
	for _, line := range got {
		// A plain word of headings alone heads nothing, nor does a word passed over.
		if word, _, _ := strings.Cut(line, " "); slices.Contains([]string{"glad", "from", "aerials"}, word) {
			t.Errorf("the index has %q", line)
		}
	}
	if !slices.IsSortedFunc(heads, func(x, y *bind.IndexHead) int {
		key := func(h *bind.IndexHead) string { return strings.ReplaceAll(strings.ToLower(h.Word), "-", " ") }
		return strings.Compare(key(x), key(y))
	}) {
		t.Error("the index does not go by the alphabet")
	}
}

// TestPassages reads all that a guide says, each with its place.
func TestPassages(t *testing.T) {
	text := strings.Replace(wireText("9 m"), "topics: wire", "topics: wire\nexplains: figure", 1) +
		"\ntwin\n:   Two wires.\n\n```decide\nname: which\nquestion: Is it?\nask: wet = Is it wet?\nrule: wet is yes or don't know, answer: Dry it.\nrule: wet is no, answer: Go on.\n```\n"
	l := bound(t, read(t, "a.md", text)).Leaves[0]
	kinds := map[bind.PassageKind]string{
		bind.AnswerPassage: "answer", bind.HeadPassage: "head", bind.TablePassage: "table",
		bind.InTablePassage: "in table", bind.TermPassage: "term", bind.SaidPassage: "said",
	}
	var got []string
	for _, p := range l.Passages() {
		got = append(got, fmt.Sprintf("%s %s %s", kinds[p.Kind], p.Code, p.Text))
	}
	want := []string{
		"answer W1 Over 9 m, 0.26 dB.",
		"table W1-T1 ", "in table W1-T1 How thick must speaker wire be?",
		"head W1-1 The loss of 0.26 dB",
		"said W1-1 Nothing here.", "said W1-1 At 9 m it is about 0.26 dB!", "said W1-1 Once more: 0.26 dB.",
		"term W1-1 figure", "said W1-1 And no figure.",
		"said W1-1 one the amplifier's damping factor is not known", "said W1-1 two",
		"said W1-1 a; b", "said W1-1 9 m; x",
		"term W1-1 twin", "said W1-1 Two wires.",
		"table W1-T2 ", "in table W1-T2 Is it wet?", "in table W1-T2 Dry it.", "in table W1-T2 Go on.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
