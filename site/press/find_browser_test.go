package press_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
	"time"
)

// found is what a reader sees of one search.
type found struct {
	Told    string
	Answers []struct{ Code, Question, Section, Line, Said, Marked, Way, SectionWay string }
}

// find types words into the field, as a reader does, and returns what stands
// there then.
func (b *tab) find(typed string) found {
	b.t.Helper()
	quoted, err := json.Marshal(typed)
	must(b.t, err)
	text := js[string](b, `(async () => {
		const field = document.getElementById("find-word");
		field.focus();
		for (let i = 0; !window.bindpostIndex; i++) {
			if (i > 500) throw new Error("the words of the book do not come");
			await new Promise((go) => setTimeout(go, 10));
		}
		field.value = `+string(quoted)+`;
		field.dispatchEvent(new Event("input"));
		const words = (e, path) => { const at = e.querySelector(path); return at ? at.textContent : ""; };
		const way = (e, path) => { const at = e.querySelector(path); return at ? at.getAttribute("href") : ""; };
		return JSON.stringify({
			told: document.getElementById("find-told").textContent,
			answers: Array.from(document.querySelectorAll("#find-answers > li")).map((e) => ({
				code: words(e, ".entry .paragraph"), question: words(e, ".entry a"), way: way(e, ".entry a"),
				section: words(e, ".more-words a"), sectionWay: way(e, ".more-words a"), line: words(e, ".more-words"), said: words(e, "q"),
				marked: Array.from(e.querySelectorAll("mark")).map((m) => m.textContent).join("|"),
			})),
		});
	})()`)
	var f found
	must(b.t, json.Unmarshal([]byte(text), &f))
	return f
}

// codes are the pages of the first answers.
func (f found) codes(most int) []string {
	var all []string
	for _, a := range f.Answers[:min(most, len(f.Answers))] {
		all = append(all, a.Code)
	}
	return all
}

// TestFinding types what readers type, into the demonstration.
func TestFinding(t *testing.T) {
	browser := open(t)
	r := browser.withDemonstration(t)
	b := r.tab(t, "a-to-z.html")
	for _, c := range []struct {
		typed  string
		wanted string // the page that is wanted among the first
		most   int    // among how many
		marked string // a word that is marked
		told   string // and what is said of it
	}{
		{"hum", "E4", 1, "hum", ""},
		{"buzz", "E4", 1, "Buzz", "With “buzz” this was looked for too: hum, mains hum, hum loop."},
		{"earth", "E4", 3, "earth", ""},
		{"ground", "E4", 3, "earth", ""},
		{"HUM", "E4", 1, "hum", ""},
		{"imped", "L4", 1, "imped", ""},
		{"impedence", "L4", 1, "impedance", "“impedence” is read as “impedance”."},
		{"bannana", "W4", 1, "banana", "“bannana” is read as “banana”."},
		{"speeker wire thick", "W1", 1, "wire", "“speeker” is read as “speaker”."},
		{"how thick must speaker wire be?", "W1", 1, "thick", ""},
		{"tube", "A5", 1, "valve", ""},
		{"gramophone", "T1", 3, "record player", ""},
		{"dipoel", "R2", 1, "dipole", "is read as “dipole”"},
		{"E4", "E4", 1, "", ""},
		{"w1-t1", "W1", 1, "", ""},
		{"xylophone", "", 0, "", "No page has this."},
		{"turntable", "T1", 1, "turntable", ""},
		{"ground loop", "E4", 1, "hum", ""},
		{"earth loops", "E4", 1, "hum", ""},
		{"hum loop", "E4", 1, "hum", ""},
		{"loop", "R4", 1, "loop", ""},
		{"phono", "T1", 4, "phono", ""},
		{"wire", "W1", 1, "wire", ""},
		{"wires", "W1", 1, "wire", ""},
		{"3.5 mm", "E6", 1, "3.5", ""},
		{"3.5mm", "E6", 1, "3.5", ""},
		{"(", "", 0, "", "No page has this."},
		{"'", "", 0, "", "No page has this."},
	} {
		t.Run(c.typed, func(t *testing.T) {
			f := b.find(c.typed)
			if c.wanted != "" && !slices.Contains(f.codes(c.most), c.wanted) {
				t.Errorf("%s is not among the first %d of %v", c.wanted, c.most, f.codes(8))
			}
			marked := ""
			for _, a := range f.Answers {
				marked += "|" + a.Marked
			}
			if !strings.Contains(strings.ToLower(marked), strings.ToLower(c.marked)) {
				t.Errorf("nothing marks %q: %s", c.marked, marked)
			}
			if !strings.Contains(f.Told, c.told) || f.Told == "" || strings.Contains(f.Told, `"`) {
				t.Errorf("it says %q, and should say %q", f.Told, c.told)
			}
		})
	}
}

// TestFindingOrder holds a page that has only a word of several meanings behind
// those of the meaning that was typed.
func TestFindingOrder(t *testing.T) {
	browser := open(t)
	b := browser.withDemonstration(t).tab(t, "a-to-z.html")
	if codes := b.find("turntable").codes(4); slices.Contains(codes, "D2") {
		t.Errorf("a turntable is taken for a cassette deck: %v", codes)
	}
	if codes := b.find("deck").codes(4); !slices.Contains(codes, "T1") || !slices.Contains(codes, "D2") {
		t.Errorf("a deck is a record player or one for tapes, and found are %v", codes)
	}
}

// TestFindingStops holds that a title which ends in a mark of its own gets no
// second one behind it, and that any other is ended.
func TestFindingStops(t *testing.T) {
	browser := open(t)
	b := browser.withDemonstration(t).tab(t, "a-to-z.html")
	for typed, wanted := range map[string]string{
		"lain unused many years": "C1-T1 May it be plugged in here? Has it lain unused for many years?",
		"gull flies":             "W1-1 Measure the run, not the room. As the gull flies it is a few steps.",
	} {
		answers := b.find(typed).Answers
		if len(answers) == 0 || strings.TrimSpace(answers[0].Line) != wanted {
			t.Errorf("%q finds %+v, and should find %q", typed, answers, wanted)
		}
	}
}

// TestFindingPasted pastes far more than anybody asks: each different word is
// looked up once, and no more than the first.
func TestFindingPasted(t *testing.T) {
	const cut = "only the first words"
	browser := open(t)
	b := browser.withDemonstration(t).tab(t, "a-to-z.html")
	b.find("hum")
	started := time.Now()
	f := b.find(strings.Repeat("hmu ", 1000))
	if took := time.Since(started); took > 2*time.Second || !strings.Contains(f.Told, cut) {
		t.Errorf("a thousand words take %v, and it says %q", took, f.Told)
	}
	if f := b.find(strings.Repeat("bannana ", 20)); strings.Count(f.Told, "is read as") != 1 || strings.Contains(f.Told, cut) {
		t.Errorf("one word typed twenty times: it says %q", f.Told)
	}
	f = b.find("hum wire lead loop tape disc mast belt arm room seat fuse humm")
	if !strings.Contains(f.Told, cut) || strings.Contains(f.Told, "humm") {
		t.Errorf("of thirteen words it says %q", f.Told)
	}
}

// foundInside finds a word where all pages stand on one: the words of the book
// are in it, and the ways lead to places on it.
func foundInside(t *testing.T, b *tab) {
	f := b.find("buzz")
	if len(f.Answers) == 0 || f.Answers[0].Way != "#E4" || !strings.Contains(f.Answers[0].Said, "Buzz") {
		t.Errorf("buzz is answered by %+v", f.Answers)
	}
	places := map[string]bool{}
	for _, id := range js[[]string](b, `Array.from(document.querySelectorAll("[id]"), (e) => e.id)`) {
		places["#"+id] = true
	}
	for _, typed := range []string{"hum", "mains", "wire"} {
		for _, a := range b.find(typed).Answers {
			if !places[a.Way] || a.SectionWay != "" && !places[a.SectionWay] {
				t.Errorf("%s: %s leads to %q, and its section to %q", typed, a.Code, a.Way, a.SectionWay)
			}
		}
	}
	b.find("")
}
