package trade

import (
	"flag"
	"os"
	"testing"

	"bindpost/calc/phrase"
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
