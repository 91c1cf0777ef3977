package press_test

import (
	"html"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

var (
	mainPart = regexp.MustCompile(`(?s)<main[^>]*>(.*)</main>`)
	anyMark  = regexp.MustCompile(`<[^>]*>`)
	anyLink  = regexp.MustCompile(`<a href="([^"]*)"`)
	anyID    = regexp.MustCompile(` id="([^"]*)"`)
	wholeID  = regexp.MustCompile(`<article[^>]* id="([^"]*)"`)
	anyHref  = regexp.MustCompile(` (?:href|src|action|poster|srcset)="([^"]*)"`)
)

// singleOf presses a copy into one page, and returns its name and its text.
func singleOf(t *testing.T, copied fs.FS, guide string) (name, text string) {
	t.Helper()
	m, faults := press.Make(press.Order{
		Copy: copied, Library: trade.Library(), Templates: templates.Files, Program: "test", Single: true, Guide: guide,
	})
	if faults.Stopped() {
		t.Fatal(faults)
	}
	if len(m.Files) != 1 || m.Files[0].Path != m.Entry {
		t.Fatalf("%d files, and the one to open is %q", len(m.Files), m.Entry)
	}
	return m.Entry, string(m.Files[0].Data)
}

// wholeSingle presses the demonstration into one page, once for all tests.
var wholeSingle = sync.OnceValue(func() string {
	m, faults := press.Make(press.Order{
		Copy: content.Files, Library: trade.Library(), Templates: templates.Files, Program: "test", Single: true,
	})
	if faults.Stopped() || len(m.Files) != 1 {
		return ""
	}
	return string(m.Files[0].Data)
})

// body returns what stands between the marks of a page's main part.
func body(t *testing.T, page string) string {
	t.Helper()
	m := mainPart.FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no main part in %.200s", page)
	}
	return m[1]
}

func plain(page string) string {
	return strings.Join(strings.Fields(html.UnescapeString(anyMark.ReplaceAllString(page, " "))), " ")
}

// TestSingleLosesNothing presses the demonstration as a folder and as one page:
// the page holds the text of all pages, each of their links leads to the place
// of it that the folder's leads to, and nothing in it leads outside.
func TestSingleLosesNothing(t *testing.T) {
	pages, ids := made(t, content.Files), map[string]string{}
	single := wholeSingle()
	whole := plain(body(t, single))
	for name, page := range pages {
		if path.Ext(name) != ".html" {
			continue
		}
		if text := plain(body(t, page)); !strings.Contains(whole, text) {
			t.Errorf("%s: its text does not stand in the single page", name)
		}
		ids[name] = wholeID.FindStringSubmatch(page)[1]
	}
	var has []string
	for _, m := range anyID.FindAllStringSubmatch(single, -1) {
		has = append(has, m[1])
	}
	slices.Sort(has)
	if twice := len(has) - len(slices.Compact(slices.Clone(has))); twice > 0 {
		t.Errorf("%d ids stand twice", twice)
	}
	for name, id := range ids {
		t.Run(name, func(t *testing.T) { leadsAlike(t, name, pages[name], articleOf(t, single, id), ids, has) })
	}
	for _, m := range anyHref.FindAllStringSubmatch(single, -1) {
		if !strings.HasPrefix(m[1], "#") && !strings.HasPrefix(m[1], "data:image/") {
			t.Errorf("%.80q leads outside the page", m[1])
		}
	}
	const most = 10 << 20
	if len(single) > most {
		t.Errorf("the single page has %d bytes, and should have at most %d", len(single), most)
	}
}

// TestSingleFinds holds all that finding leads to, in the single page, to be
// places of that page.
func TestSingleFinds(t *testing.T) {
	single := wholeSingle()
	_, script, ok := strings.Cut(single, "\nwindow.bindpostIndex = ")
	if !ok {
		t.Fatal("the page has no words to look through")
	}
	script, _, _ = strings.Cut(script, "\n")
	has := map[string]bool{}
	for _, m := range anyID.FindAllStringSubmatch(single, -1) {
		has[m[1]] = true
	}
	pages := 0
	for line := range strings.SplitSeq(indexText(t, " = "+script), "\n") {
		mark, rest := line[:min(1, len(line))], line[min(1, len(line)):]
		switch code, id, _ := strings.Cut(rest, "\t"); {
		case mark == "/":
			pages++
			if !has[id] {
				t.Errorf("the page %s leads to %q, which is no place", code, id)
			}
		case (mark == "#" || mark == "+") && !has[code]:
			t.Errorf("%q leads to no place", line)
		}
	}
	if articles := strings.Count(single, `<article class="guide"`); pages != articles+1 { // and the cautions
		t.Errorf("%d pages can be found, of %d guides", pages, articles)
	}
}

// articleOf returns the part of a single page that was a page.
func articleOf(t *testing.T, single, id string) string {
	t.Helper()
	for _, part := range strings.SplitAfter(single, "</article>") {
		if m := wholeID.FindStringSubmatch(part); m != nil && m[1] == id {
			return part
		}
	}
	t.Fatalf("no part with the id %q", id)
	return ""
}

// leadsAlike compares the links of a page with those of its part in the whole.
func leadsAlike(t *testing.T, name, page, part string, ids map[string]string, has []string) {
	was, is := anyLink.FindAllStringSubmatch(body(t, page), -1), anyLink.FindAllStringSubmatch(part, -1)
	if len(was) != len(is) {
		t.Fatalf("%d links, and %d in the single page", len(was), len(is))
	}
	for i := range was {
		to, mark, _ := strings.Cut(html.UnescapeString(was[i][1]), "#")
		if mark == "" {
			mark = ids[path.Join(path.Dir(name), to)]
		}
		if got := is[i][1]; got != "#"+mark || mark == "" {
			t.Errorf("%q became %q", was[i][1], got)
		}
		if _, there := slices.BinarySearch(has, mark); !there {
			t.Errorf("%q leads to no place of the single page", mark)
		}
	}
}

// TestSingleGuide presses one guide of a copy: links to the others keep their
// words, and the line that leads to other pages goes.
func TestSingleGuide(t *testing.T) {
	c := fstest.MapFS{
		"imprint.yaml": &fstest.MapFile{Data: []byte(plainImprint)},
		"sub/a b.md":   guideText("A1", "This.", runBlock("run", "9 m")+"\nSee [the other](../c.md) and [its table](#A1-T1).\n"),
		"c.md":         guideText("B1", "That.", "Words.\n"),
	}
	name, single := singleOf(t, c, "A1")
	if name != "sub-a b.html" {
		t.Errorf("the page is called %q", name)
	}
	for _, want := range []string{"See the other<", `<a href="#A1-T1">its table</a>`} {
		if !strings.Contains(single, want) {
			t.Errorf("the page does not hold %s", want)
		}
	}
	for _, never := range []string{`class="moving"`, "the other</a>", "c.html", "index.html", `id="B1"`} {
		if strings.Contains(single, never) {
			t.Errorf("the page holds %s", never)
		}
	}
	_, faults := press.Make(press.Order{Copy: c, Library: trade.Library(), Templates: templates.Files, Program: "test", Single: true, Guide: "B2"})
	if told := faults.String(); !strings.Contains(told, `has no guide with the code "B2"`) || !strings.Contains(told, "write B1") || !faults.Stopped() {
		t.Errorf("told is: %s", told)
	}
}
