package press_test

import (
	"html"
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"bindpost/content"
)

// readAs is what a page says, without its marks.
func readAs(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(htmlTags.ReplaceAllString(page, " "))), " ")
}

// rowsOf returns what the rows of a table's body say, by the table's id.
func rowsOf(t *testing.T, page, id string) (rows []string) {
	t.Helper()
	_, rest, found := strings.Cut(page, `id="`+id+`"`)
	if !found {
		t.Fatalf("there is no %s", id)
	}
	_, rest, _ = strings.Cut(rest, "<tbody")
	body, _, _ := strings.Cut(rest, "</tbody>")
	for _, r := range strings.Split(body, "<tr")[1:] {
		rows = append(rows, readAs("<tr"+r))
	}
	return rows
}

// TestPlugIn holds the table that says whether a second-hand box may be plugged
// in: no row lets a plug in before the warnings are named, and a metal case on
// two wires with no two squares is sent to be tested first.
func TestPlugIn(t *testing.T) {
	files := made(t, content.Files)
	plugs := 0
	for _, row := range rowsOf(t, files["before-you-pay.html"], "C1-T1") {
		if !strings.Contains(row, "Plug it in") {
			continue
		}
		plugs++
		for _, code := range []string{"C1-C1", "C1-C2", "C1-C3"} {
			if !strings.Contains(row, code) {
				t.Errorf("a row plugs in without %s: %s", code, row)
			}
		}
		if !strings.Contains(row, "no two squares on the plate? no") && !strings.Contains(row, "tested it lately? yes") {
			t.Errorf("a row plugs a metal case on two wires in that nobody tested: %s", row)
		}
	}
	if plugs == 0 {
		t.Error("no row of C1-T1 plugs anything in")
	}
	if page := files["before-you-pay.html"]; strings.Index(page, `id="C1-C3"`) > strings.Index(page, `id="C1-1"`) {
		t.Error("what is done with the plug out stands before the warning to pull it")
	}
}

// TestLoftHeedsLadders holds the first place for an aerial, which is up a
// ladder, to the warning about ladders.
func TestLoftHeedsLadders(t *testing.T) {
	page := made(t, content.Files)["roof-aerial.html"]
	if row := rowsOf(t, page, "R5-T1")[0]; !strings.Contains(row, "Heed first: WARNING R5-C2") {
		t.Errorf("it is sent up a ladder without a warning: %s", row)
	}
}

// atTheHead finds words that say a warning stands at the head of its guide,
// which it does only where nothing calls for it later.
var atTheHead = regexp.MustCompile(`(?i)(?:WARNINGs?|CAUTIONs?)\s+at\s+the\s+head`)

// TestWarningsAreNamed holds that guides call a warning by what it is about, and
// not by a place that it may have left.
func TestWarningsAreNamed(t *testing.T) {
	paths, err := fs.Glob(content.Files, "*.md")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no guides: %v", err)
	}
	for _, path := range paths {
		text, err := fs.ReadFile(content.Files, path)
		if err != nil {
			t.Fatal(err)
		}
		if found := atTheHead.Find(text); found != nil {
			t.Errorf("%s says %q", path, found)
		}
	}
}

// TestRearsAreToldOnAmplifiers holds the list beside the drawn rear of an
// amplifier to what its own sockets are for.
func TestRearsAreToldOnAmplifiers(t *testing.T) {
	page := readAs(made(t, content.Files)["which-box.html"])
	if strings.Contains(page, "on a player, tuner or deck") || !strings.Contains(page, "to the input of a tape deck") {
		t.Error("the record output of an amplifier is told as an output of another box")
	}
	if found := regexp.MustCompile(`\b[Aa] integrated\b`).FindString(page); found != "" {
		t.Errorf("the page says %q", found)
	}
}

// TestIndexLeadsTheFrightened holds the index to lead from the words of somebody
// who is frightened to where the book says what to do.
func TestIndexLeadsTheFrightened(t *testing.T) {
	typed := made(t, content.Files)["a-to-z.html"]
	page := readAs(typed)
	if !strings.Contains(typed, "<b>hum</b>") {
		t.Fatal("the heads of the index are not where this test looks for them")
	}
	for word, code := range map[string]string{
		"smoke": "C3-1", "smell": "C3-1", "tingle": "C3-1", "shock": "C3-1", "fire": "C3-1", "lightning": "R5-4", "storm": "R5-4",
		"ladder": "R5-1", "power line": "R5-1", "laser": "C3-3", "child": "W4-2", "capacitor": "C3-3",
	} {
		if !regexp.MustCompile(` ` + word + `(?: explained C3 ;)?(?: [A-Z]\d-T?\d ,)* ` + code + `\b`).MatchString(page) {
			t.Errorf("the index does not lead from %s to %s", word, code)
		}
	}
	for _, word := range []string{"helps", "lists", "hang", "myself", "blows", "modern", "lined", "split", "square", "twelve", "plugged", "plus"} {
		if strings.Contains(typed, "<b>"+word+"</b>") {
			t.Errorf("the index has %q, which nobody looks up", word)
		}
	}
}
