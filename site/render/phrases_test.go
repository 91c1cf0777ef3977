package render_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/phrase"
	"bindpost/calc/unit"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/render"
	"bindpost/templates"
)

func english(t *testing.T) string {
	t.Helper()
	text, err := templates.Files.ReadFile("phrases/en.txt")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

var phraseLine = regexp.MustCompile(`(?m)^([^#\n][^:\n]*): (.*)$`)

// TestAnotherLanguage sets the book in a made-up language in which every
// phrase is its key between signs. Then no page may hold a word of the English
// phrases: each comes from the phrases and none from the program.
func TestAnotherLanguage(t *testing.T) {
	made := phraseLine.ReplaceAllStringFunc(english(t), func(line string) string {
		m := phraseLine.FindStringSubmatch(line)
		return m[1] + ": §" + strings.Join(regexp.MustCompile(`\{\w+\}`).FindAllString(m[2], -1), "§") + "§\n  from: " + m[2]
	})
	e := edition()
	e.Language = "xx-Deep"
	b, faults := bind.Bind(bind.Parts{Guides: []*guide.Guide{wireGuide(t), loadGuide(t), readingGuide(t)}, Edition: e})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	r := renderer(t, withPhrases(t, "xx.txt", made))
	own := "loss at most 0.5 dB; cannot tell" // words of the tables themselves, then those of the guides
	for _, name := range []string{"speaker-wire.md", "how-to-read.md", "two-pairs.md"} {
		text, err := os.ReadFile(filepath.Join("testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		own += string(text)
	}
	looked := 0
	for _, l := range b.Leaves {
		p, err := r.Guide(l)
		if err != nil {
			t.Fatal(err)
		}
		page := string(p.HTML())
		text := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(page, "")
		if !strings.Contains(page, `<html lang="xx-Deep"`) {
			t.Errorf("%s does not say its language", p.Path)
		}
		for _, m := range phraseLine.FindAllStringSubmatch(english(t), -1) {
			for _, words := range regexp.MustCompile(`\{\w+\}`).Split(m[2], -1) {
				if words = strings.Trim(words, " .,:()“”"); len(words) < 6 {
					continue // a word as short as "by" stands in any text
				}
				looked++
				if strings.Contains(text, words) && !strings.Contains(own, words) {
					t.Errorf("%s holds %q of the English phrase %q", p.Path, words, m[1])
				}
			}
		}
	}
	if looked < 50 {
		t.Errorf("only %d phrases were looked for", looked)
	}
}

// TestEveryPhraseIsUsed looks for each key in the templates and the program.
func TestEveryPhraseIsUsed(t *testing.T) {
	var sources strings.Builder
	for _, pattern := range []string{"*.go", "../../templates/*.html"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			sources.Write(text)
		}
	}
	kinds := []string{"unit-", "signal-", "harm-", "grade-", "mark-", "rounded-", "reply-", "work-rounded-", "reading-signal-", "reading-mark-", "reading-grade-", "workings-round-"} // their keys are made of words that come with a guide
	for _, m := range phraseLine.FindAllStringSubmatch(english(t), -1) {
		key := m[1]
		for _, kind := range kinds {
			if strings.HasPrefix(key, kind) {
				key = kind
			}
		}
		if !strings.Contains(sources.String(), `"`+key+`"`) {
			t.Errorf("no page uses the phrase %q", m[1])
		}
	}
}

// TestUnitWords: every word of which spoken units are made has a phrase, and no
// other has.
func TestUnitWords(t *testing.T) {
	var keys []string
	for _, m := range phraseLine.FindAllStringSubmatch(english(t), -1) {
		if word, ok := strings.CutPrefix(m[1], "unit-"); ok {
			keys = append(keys, word)
			if m[2] != word {
				t.Errorf("the unit %q is spoken as %q", word, m[2])
			}
		}
	}
	slices.Sort(keys)
	var words []string
	for _, word := range unit.SpokenWords() {
		if word != "" {
			words = append(words, word)
		}
	}
	if !slices.Equal(keys, words) {
		t.Errorf("the phrases have the units\n%q\nand spoken ones are\n%q", keys, words)
	}
}

func TestLanguages(t *testing.T) {
	r := renderer(t, templates.Files)
	leaf := func(language string) *bind.Leaf {
		e := edition()
		e.Language = language
		b, _ := bind.Bind(bind.Parts{Guides: []*guide.Guide{readingGuide(t)}, Edition: e})
		return b.Leaves[0]
	}
	t.Run("a kind of a language has the language's phrases", func(t *testing.T) {
		if _, err := r.Guide(leaf("en-GB")); err != nil {
			t.Error(err)
		}
	})
	t.Run("a language without phrases is told", func(t *testing.T) {
		_, err := r.Guide(leaf("fr"))
		if want := `there are no phrases for the language "fr", only for: en, en-US`; err == nil || err.Error() != want {
			t.Errorf("got %v, want %s", err, want)
		}
	})
}

func TestBadPhrases(t *testing.T) {
	cases := []struct{ name, file, text, want string }{
		{"a key twice", "en.txt", "answer: a\nanswer: b\n", "phrases/en.txt:2:1: stop: the key \"answer\" stands twice"},
		{"no colon", "xx.txt", "# remark\n\nanswer\n", "phrases/xx.txt:3:1: stop: this line is not whole"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := render.New(withPhrases(t, c.file, c.text))
			if err == nil || !strings.HasPrefix(err.Error(), c.want) {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

// TestLanguagesAreWhole holds every other language to the first one: each
// phrase has words there, and none is older than its original. With -update
// the lines that are wanting are put in, to be mended by hand.
func TestLanguagesAreWhole(t *testing.T) {
	first, faults := phrase.Read(fault.NewText("phrases/en.txt", english(t)))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	others, err := filepath.Glob("../../templates/phrases/*-*.txt")
	if err != nil || len(others) == 0 {
		t.Fatalf("there is no other language: %v", err)
	}
	for _, file := range others {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		w, faults := phrase.Read(fault.NewText(file, string(text)))
		faults.Join(w.Check(first.Originals()))
		if faults.Len() == 0 {
			continue
		}
		if *update {
			if err := os.WriteFile(file, []byte(phrase.Head(string(text))+w.Lines(first.Originals())), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		t.Errorf("%s\n(go test ./site/render -run Whole -update puts in the lines that are wanting)", faults)
	}
}
