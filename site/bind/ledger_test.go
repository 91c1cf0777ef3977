package bind_test

import (
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
)

// read makes a guide of a text by the guide stage, without a fault.
func read(t *testing.T, file, source string) *guide.Guide {
	t.Helper()
	g, faults := guide.Read(fault.NewText(file, source), guide.Kit{Library: trade.Library()})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return g
}

const docket = "```docket\ncode: CODE\nquestion: What?\nanswer: ANSWER\ntopics: wire\n```\n\n"

const block = "```calc speaker-wire\nname: run\ngauge: 14, 16 AWG\nrun: LONG\nload: 8 ohm\nrows: gauge\nshow: loss\n" +
	"figure: lost = loss when gauge is 16 AWG\nfigure: far = run\nfigure: damped = damping when gauge is 16 AWG\n```\n\n"

func wireText(long string) string {
	return strings.NewReplacer("CODE", "W1", "ANSWER", "Over <figure:run.far>, <figure:run.lost>.", "LONG", long).Replace(docket + block +
		"## The loss of <figure:run.lost>\n\nNothing here. At <figure:run.far> it\nis *about <figure:run.lost>*! Once more: <figure:run.lost>. And no figure.\n\n" +
		"- one <figure:run.damped>\n- two\n\n| a | b |\n|---|---|\n| <figure:run.far> | x |\n")
}

func otherText() string {
	return strings.NewReplacer("CODE", "X1", "ANSWER", "It is <figure:run.lost>.").Replace(docket) + "No figure, no. 3 more. But <figure:run.far> is far.\n"
}

func ledger(t *testing.T, texts ...string) *bind.Ledger {
	t.Helper()
	var guides []*guide.Guide
	for i, text := range texts {
		guides = append(guides, read(t, string(rune('a'+i))+".md", text))
	}
	return bound(t, guides...).Ledger("test")
}

func TestSentences(t *testing.T) {
	var got []string
	for _, s := range ledger(t, wireText("9 m"), otherText()).Entries {
		for _, s := range s.Sentences {
			got = append(got, s.Where+"|"+s.Form+"|"+s.Text)
		}
	}
	// The loss is the one that the case of speaker-wire and the demonstration
	// state: 0.2537 dB by ngspice, rounded up.
	want := []string{
		"W1|Over <figure:run.far>, <figure:run.lost>.|Over 9 m, 0.26 dB.",
		"W1-1|The loss of <figure:run.lost>|The loss of 0.26 dB",
		"W1-1|At <figure:run.far> it is about <figure:run.lost>!|At 9 m it is about 0.26 dB!",
		"W1-1|Once more: <figure:run.lost>.|Once more: 0.26 dB.",
		"W1-1|one <figure:run.damped>|one the amplifier's damping factor is not known",
		"W1-1|<figure:run.far>|9 m",
		"X1|It is <figure:run.lost>.|It is 0.26 dB.",
		"X1|But <figure:run.far> is far.|But 9 m is far.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestLedgerIsReadAsWritten(t *testing.T) {
	l := ledger(t, wireText("9 m"), otherText())
	again, err := bind.ReadLedger(l.Write())
	if err != nil {
		t.Fatal(err)
	}
	if string(again.Write()) != string(l.Write()) {
		t.Error("a ledger that is read is not the one that was written")
	}
	var lost *bind.LedgerFigure
	for i, f := range again.Entries[0].Figures {
		if f.Address == "run.lost" {
			lost = &again.Entries[0].Figures[i]
		}
	}
	if lost == nil || lost.Text != "0.26 dB" || lost.Method != "speaker-wire" || len(lost.Rule) != 64 || !strings.HasPrefix(lost.Value, "0.2537") {
		t.Fatalf("the ledger keeps %+v", lost)
	}
	if want := []string{"W1", "W1-1", "X1"}; !slices.Equal(lost.Used, want) {
		t.Errorf("the loss is used in %q, want %q", lost.Used, want)
	}
	for name, text := range map[string]string{"empty": "", "no record": "title: x", "another format": `{"format":2}`, "cut": string(l.Write()[:len(l.Write())-20])} {
		if _, err := bind.ReadLedger([]byte(text)); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestMoved(t *testing.T) {
	was := ledger(t, wireText("9 m"), otherText())
	if m := ledger(t, wireText("9 m"), otherText()).Since(was); !m.None() {
		t.Errorf("nothing changed, and this moved: %q", m.Lines())
	}
	reworded := strings.Replace(wireText("9 m"), "Once more:", "Again:", 1)
	if m := ledger(t, reworded, otherText()).Since(was); !m.None() {
		t.Errorf("only words changed, and this moved: %q", m.Lines())
	}
	now := ledger(t, wireText("12 m"), otherText())
	got := now.Since(was).Lines()
	want := []string{
		"W1 now reads: Over 12 m, 0.34 dB.",
		"W1-1 now reads: The loss of 0.34 dB",
		"W1-1 now reads: At 12 m it is about 0.34 dB!",
		"W1-1 now reads: Once more: 0.34 dB.",
		"W1-1 now reads: 12 m",
		"X1 now reads: It is 0.34 dB.",
		"X1 now reads: But 12 m is far.",
		"run.far: was 9 m, is 12 m (in W1, W1-1, X1).",
		"run.lost: was 0.26 dB, is 0.34 dB (in W1, W1-1, X1).",
		"run.loss.14-awg: was 0.17 dB, is 0.22 dB (in W1-T1).",
		"run.loss.16-awg: was 0.26 dB, is 0.34 dB (in W1-T1).",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Cautions and verdicts stand before everything else, whichever guide they
// belong to.
func TestMovedInOrder(t *testing.T) {
	entry := func(code, text, grade string, cautions ...string) bind.LedgerEntry {
		return bind.LedgerEntry{Code: code, Cautions: cautions,
			Figures:   []bind.LedgerFigure{{Address: code + ".a", Text: text}, {Address: code + ".loss.9-m", Text: text}},
			Verdicts:  []bind.LedgerVerdict{{Table: code + "-T1", Name: "rule", Grade: grade, Words: "so"}},
			Sentences: []bind.LedgerSentence{{Where: code, Form: "It is <figure:a>.", Text: "It is " + text + "."}}}
	}
	was := &bind.Ledger{Entries: []bind.LedgerEntry{entry("A1", "1 m", "fits", "amp-off"), entry("B1", "1 m", "fits"), entry("C1", "1 m", "fits")}}
	now := &bind.Ledger{Entries: []bind.LedgerEntry{entry("A1", "2 m", "fits"), entry("B1", "1 m", "doubtful", "hearing"), entry("D1", "1 m", "fits", "hearing")}}
	want := []string{
		"A1: the caution amp-off no longer stands on its page.",
		"B1: the caution hearing stands on its page now.",
		`B1-T1, verdict rule: was "fits, so", is "doubtful, so".`,
		"A1 now reads: It is 2 m.",
		"A1.a: was 1 m, is 2 m (in A1).",
		"A1.loss.9-m: was 1 m, is 2 m (in A1).",
		"Figures that were not there before: 2.",
		"Figures that are gone: 2.",
	}
	if got := now.Since(was).Lines(); !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A standing figure is kept once and used in many guides: wherever the ledger
// lists it, it lists all its uses.
func TestUsesOfStandingFigures(t *testing.T) {
	standing, faults := guide.ReadStanding(fault.NewText("standing.yaml", "far:\n  value: 9 m\n  reference: a tape\n  mark: read\n  date: \"2026\"\n"), false, guide.Edition{})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	var guides []*guide.Guide
	for _, code := range []string{"A1", "B1"} {
		text := strings.NewReplacer("CODE", code, "ANSWER", "It is <figure:standing.far>.").Replace(docket)
		g, faults := guide.Read(fault.NewText(code+".md", text), guide.Kit{Library: trade.Library(), Standing: standing})
		if faults.Len() > 0 {
			t.Fatal(faults)
		}
		guides = append(guides, g)
	}
	for _, e := range bound(t, guides...).Ledger("test").Entries {
		if len(e.Figures) != 1 || !slices.Equal(e.Figures[0].Used, []string{"A1", "B1"}) {
			t.Errorf("%s lists %+v", e.Code, e.Figures)
		}
	}
}
