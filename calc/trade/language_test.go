package trade

import (
	"flag"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/phrase"
	"bindpost/calc/wording"
)

var updateWords = flag.Bool("update", false, "put the lines that are wanting into the words of other languages")

// TestLanguagesAreWhole holds every other language to the set: each text has
// words there, and none is older than its original. With -update the lines
// that are wanting are put in, to be mended by hand.
func TestLanguagesAreWhole(t *testing.T) {
	originals := Library().Originals()
	if len(originals) < 1500 || len(Languages()) == 0 {
		t.Fatalf("%d texts, in the languages %v", len(originals), Languages())
	}
	for _, language := range Languages() {
		w, err := Words(language)
		if err != nil {
			t.Fatal(err)
		}
		faults := w.Check(originals)
		if faults.Len() == 0 {
			continue
		}
		if *updateWords {
			text, err := os.ReadFile(wordsOf(language))
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(wordsOf(language), []byte(phrase.Head(string(text))+w.Lines(originals)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		t.Errorf("%s\n(go test ./calc/trade -run Whole -update puts in the lines that are wanting)", faults)
	}
}

// british are words that American readers have others for. A lead is a cable
// or a cord to them where it is a noun; so "leads" may stand as what a way does.
var british = regexp.MustCompile(`(?i)\b(\w*metres?|centres?|\w*colour\w*|favours?|labour|aluminium|analogue|catalogues?|licence|judgement|towards|programmes?|` +
	`quantis\w+|aerials?|valves?|mains|second-hand|loft|earth(ed|ing)?|lead|plates?|plug top|flex|torch|spanner|telly|gramophone|unlabelled|fire service|wall sockets?)\b`)

// kept are the places in which such a word is right.
var kept = regexp.MustCompile(`\{\w+\}|radius of the earth|pull of the earth|as if the earth|[Tt]win[- ]lead`)

// TestAmericanWords looks for British words in the American ones, and for
// advice that is never printed.
func TestAmericanWords(t *testing.T) {
	w, err := Words("en-US")
	if err != nil {
		t.Fatal(err)
	}
	for _, o := range w.Originals() {
		if found := british.FindString(kept.ReplaceAllString(o.Words, "")); found != "" {
			t.Errorf("%s: %q stands in %q", o.Key, found, o.Words)
		}
		if strings.HasPrefix(o.Key, "caution ") {
			continue // it says what people do, and what to do instead
		}
		if a := Library().Forbids(wording.Split(o.Words)); len(a) > 0 {
			t.Errorf("%s gives advice that is never printed: %q", o.Key, o.Words[a[0].From:a[0].To])
		}
	}
}

// TestIn: the set of a language says everything in its words, reckons as the
// first one does, and leaves that as it was.
func TestIn(t *testing.T) {
	before, american := Library().Originals(), In("en-US")
	if american == Library() || In("en-GB") != Library() || In("en-US-x-club") != american {
		t.Fatal("a language has the words of another")
	}
	w, _ := Words("en-US")
	said := map[string]string{}
	for _, o := range american.Now() {
		said[o.Key] = o.Words
	}
	for _, o := range before {
		if want := w.Of(o.Key, o.Words); said[o.Key] != want && !strings.HasPrefix(o.Key, "word ") {
			t.Errorf("%s: says %q, want %q", o.Key, said[o.Key], want)
		}
	}
	if !slices.Equal(before, Library().Originals()) {
		t.Error("reading another language changed the first")
	}
	c, _ := american.Caution("keep-earth")
	if !strings.Contains(c.How, "ground prong") {
		t.Errorf("the caution is not in American: %q", c.How)
	}
	m, _ := american.Method("wire-resistance")
	if got := m.Sheet().Input("metal").Printed("aluminium"); got != "aluminum" {
		t.Errorf("the word for aluminium is %q", got)
	}
	m, _ = american.Method("adapter-chain")
	if got := m.Sheet().Result("parts").Printed("phono lead"); got != "RCA cable" {
		t.Errorf("the word for a phono lead is %q", got)
	}
}

// TestAmericanDangers: what an American guide says of a danger brings its
// caution, as British words do.
func TestAmericanDangers(t *testing.T) {
	for _, c := range [][2]string{
		{"Four boxes hang on one extension cord.", "mains"},
		{"A power strip feeds the whole rack.", "mains"},
		{"Replace the power cord when its jacket is cracked.", "mains"},
		{"The ground prong of the plug is bent.", "keep-earth"},
		{"A three-prong outlet is near the window.", "keep-earth"},
		{"Some people use a cheater plug.", "keep-earth"},
		{"A ground loop makes a hum.", "keep-earth"},
		{"The antenna stands on the roof.", "lightning"},
		{"A tube amplifier gets hot.", "valve-load"},
	} {
		var found []string
		for _, h := range In("en-US").Hazards(wording.Split(c[0])) {
			found = append(found, h.Caution.ID)
		}
		if !slices.Contains(found, c[1]) {
			t.Errorf("%q brings %q", c[0], found)
		}
	}
}
