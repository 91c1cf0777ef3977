package main

import (
	"bytes"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"bindpost/calc/trade"
)

// Withheld things in words. A distance needs a line, a figure with a unit of
// length or a multiple of the height; a discharge needs a time.
var withheldWords = []*regexp.Regexp{
	regexp.MustCompile(`(?i)(power|overhead|mains) lines?[^.]{0,120}\b(\d[\d.,]*|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|fifty|a hundred|half|twice|double|one and a half) ?(m|metres?|ft|feet|foot|yards?|times|and a half)\b`),
	regexp.MustCompile(`(?i)\b(\d[\d.,]*|one|two|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty|thirty|fifty|a hundred|half|twice|double|one and a half) ?(m|metres?|ft|feet|foot|yards?|times)\b[^.]{0,80}(power|overhead) lines?`),
	regexp.MustCompile(`(?i)(twice|double|times|and a half) (the|its|their) (whole )?height[^.]{0,80}lines?\b`),
	regexp.MustCompile(`(?i)(discharg|bleed|stays? charged|stored charge|capacitors?)[^.]{0,120}\b(\d[\d.,]*|one|two|three|four|five|ten|fifteen|twenty|thirty|sixty|a few|half a|several|some) ?(s|seconds?|minutes?|min|hours?|h|days?)\b`),
	regexp.MustCompile(`(?i)\b(\d[\d.,]*|one|two|three|four|five|ten|fifteen|twenty|thirty|sixty|a few|half a|several|some) ?(seconds?|minutes?|min|hours?|days?)\b[^.]{0,80}(discharged?|to bleed|capacitors?)\b`),
}

// TestNothingWithheldIsShipped reads every method as it is shown, with its
// references and cautions, and every page of the demonstration as it is
// pressed. How the withheld things are worked, see calc/trade.
func TestNothingWithheldIsShipped(t *testing.T) {
	for _, name := range trade.Library().Names() {
		var out, err bytes.Buffer
		if code := run([]string{"methods", name}, desk{out: &out, err: &err}); code != done {
			t.Fatalf("methods %s: exit %d %s", name, code, err.String())
		}
		if said := withheldIn(out.String()); said != "" {
			t.Errorf("the method %s says what is withheld: %q", name, said)
		}
	}
	manual := filepath.Join(t.TempDir(), "manual")
	var out, err bytes.Buffer
	if code := run([]string{"press", "--into", manual}, desk{out: &out, err: &err}); code != done {
		t.Fatalf("press: exit %d\n%s", code, err.String())
	}
	pages, _ := filepath.Glob(filepath.Join(manual, "*.html"))
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		if said := withheldIn(pageText(string(text))); said != "" {
			t.Errorf("%s says what is withheld: %q", filepath.Base(page), said)
		}
	}
	if len(pages) < 20 {
		t.Errorf("only %d pages were read", len(pages))
	}
}

var (
	unread = regexp.MustCompile(`(?s)<(script|style)[ >].*?</(script|style)>|<span class="spoken">[^<]*</span>`)
	inline = regexp.MustCompile(`</?(a|b|i|em|strong|span|sup|sub|code)( [^>]*)?>`)
	anyTag = regexp.MustCompile(`<[^>]*>`)
)

// pageText is what stands on a page, with a full stop where a paragraph, a
// cell or a heading ends: words of two of them say nothing together.
func pageText(page string) string {
	page = inline.ReplaceAllString(unread.ReplaceAllString(page, ""), "")
	return html.UnescapeString(anyTag.ReplaceAllString(page, ". "))
}

// withheldIn returns the first words of a text that say what is withheld.
func withheldIn(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	for _, w := range withheldWords {
		if said := w.FindString(text); said != "" {
			return said
		}
	}
	return ""
}

// TestWithheldIsSeen tries words that must be caught, and words that must not.
func TestWithheldIsSeen(t *testing.T) {
	for _, said := range []string{
		"Keep the mast away from power lines by at least 1.5 times its height.",
		"A power line must be at least 6 m away.",
		"Stay twenty feet from any overhead line.",
		"Keep off twice the height of the mast from every line.",
		"The supply discharges within 25 seconds.",
		"Wait ten minutes for the capacitors to empty.",
		"It stays charged for several minutes.",
	} {
		if withheldIn(said) == "" {
			t.Errorf("not caught: %s", said)
		}
	}
	for _, said := range []string{
		"Look up first. If it could fall or swing onto any power line, do not put it there.",
		"A capacitor of 10000 uF at 63 V stores 20 J. It stays charged after the plug is pulled.",
		"The lead is 15 m long. A power line kills whoever touches it.",
	} {
		if got := withheldIn(said); got != "" {
			t.Errorf("%q is caught for %q", said, got)
		}
	}
}
