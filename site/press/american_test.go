package press_test

import (
	"html"
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

// britishWords are words that American readers have others for.
var britishWords = regexp.MustCompile(`(?i)\b(?:\w*metres?|centres?|\w*colour\w*|aluminium|analogue|catalogues?|licence|judgement|towards|` +
	`aerials?|valves?|mains|second-hand|loft|earth|leads?|plates?|torch|unlabelled|sockets? outlet)\b`)

// inLanguage returns the demonstration with another language in its imprint.
func inLanguage(t *testing.T, language string) (copied fstest.MapFS, typed string) {
	copied = fstest.MapFS{}
	err := fs.WalkDir(content.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(content.Files, path)
		if path == "imprint.yaml" {
			data = []byte(strings.Replace(string(data), "language: en-GB", "language: "+language, 1))
		}
		copied[path] = &fstest.MapFile{Data: data}
		typed += "\n" + string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return copied, typed
}

var (
	htmlTags  = regexp.MustCompile(`<[^>]*>`)
	heardOnly = regexp.MustCompile(`(?:aria-label|alttext|title|alt)="([^"]*)"`)
	nonWords  = regexp.MustCompile(`[^\p{L}\p{N}-]+`)
)

// bare is a text as its words alone, in small letters.
func bare(s string) string { return " " + nonWords.ReplaceAllString(strings.ToLower(s), " ") + " " }

// typedBy reports whether an author typed a word beside one of the words that
// it stands beside.
func typedBy(authors string, words []string, i int) bool {
	beside := func(from, to int) bool {
		return from >= 0 && to <= len(words) && strings.Contains(authors, " "+strings.Join(words[from:to], " ")+" ")
	}
	return beside(i-1, i+1) || beside(i, i+2)
}

// americanToo are such words in places where American readers have them too: a
// way leads, a current leads, a meter has leads, and the earth is round.
var americanToo = regexp.MustCompile(`of the earth|if the earth|that leads down|it leads|value leads do|own two leads|leads at direct|leads? from|lead of a test`)

// formulaNames are parts of names in formulas, which the workings print as they
// are written.
var formulaNames = regexp.MustCompile(`^(lead|leads|mains|plates?|earth|aerial|metre)$`)

// TestAmericanManual presses the demonstration in American English. What its
// guides say is their author's; in all else no British word may stand, and no
// caution may be wanting.
func TestAmericanManual(t *testing.T) {
	copied, typed := inLanguage(t, "en-US")
	m, faults := press.Make(press.Order{Copy: copied, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	british, _ := inLanguage(t, "en-GB")
	first, _ := press.Make(press.Order{Copy: british, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	authors, pages, changed := bare(typed), 0, 0
	for i, f := range m.Files {
		if !strings.HasSuffix(f.Path, ".html") {
			continue
		}
		pages++
		page := string(f.Data)
		if !strings.Contains(page, `<html lang="en-US"`) {
			t.Errorf("%s does not say its language", f.Path)
		}
		if here, there := strings.Count(page, `class="caution`), strings.Count(string(first.Files[i].Data), `class="caution`); here != there {
			t.Errorf("%s has %d cautions, and %d in the first language", f.Path, here, there)
		}
		if page != string(first.Files[i].Data) {
			changed++
		}
		text := htmlTags.ReplaceAllString(page, " ")
		for _, label := range heardOnly.FindAllStringSubmatch(page, -1) {
			text += " . " + label[1]
		}
		if f.Path == "a-to-z.html" || f.Path == "glossary.html" {
			continue // they name the other words for a thing as well
		}
		words := strings.Fields(bare(html.UnescapeString(text)))
		for k, w := range words {
			if strings.HasPrefix(f.Path, "rules/") && formulaNames.MatchString(w) {
				continue
			}
			if britishWords.FindString(w) == w && !typedBy(authors, words, k) &&
				!americanToo.MatchString(strings.Join(words[max(0, k-2):min(len(words), k+3)], " ")) {
				t.Errorf("%s: %q stands in %q", f.Path, w, strings.Join(words[max(0, k-5):min(len(words), k+6)], " "))
			}
		}
	}
	if pages < 50 || changed < pages {
		t.Errorf("of %d pages %d differ from the first language", pages, changed)
	}
}
