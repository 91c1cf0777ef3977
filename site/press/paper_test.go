package press_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// prints sees that both papers carry the strip on every side and lose nothing.
func (r *reader) prints(t *testing.T) {
	for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
		sides := r.sides(t, "speaker-wire.html", func(p *page.PrintToPDFParams) { p.PaperWidth, p.PaperHeight = size[0], size[1] })
		for i, side := range sides {
			strip := fmt.Sprintf("Side %d of %d", i+1, len(sides))
			if !strings.Contains(side, strip) || !strings.Contains(side, "W1") {
				t.Errorf("%s, side %d has no strip:\n%s", paper, i+1, side)
			}
		}
		for _, want := range []string{"WARNING", "CAUTION", "0.26", "too thin", "Does not cover", "Run"} {
			if !strings.Contains(strings.Join(sides, ""), want) {
				t.Errorf("%s: %q is not on paper", paper, want)
			}
		}
	}
}

// pdf prints a page.
func (r *reader) pdf(t *testing.T, path string, set chromedp.PDFOption) []byte {
	t.Helper()
	pdf, err := chromedp.Run(r.tab(t, path), chromedp.PrintToPDF(set))
	must(t, err)
	return pdf
}

// sides prints a page and returns the text of each side.
func (r *reader) sides(t *testing.T, path string, set chromedp.PDFOption) []string {
	t.Helper()
	out := poppler(t, r.pdf(t, path, set), "pdftotext", "-layout", "-", "-")
	return strings.Split(strings.TrimSuffix(out, "\f"), "\f")
}

// poppler hands a print to a tool of Debian's package poppler-utils. Spaces at
// which no line may end come back as others do.
func poppler(t *testing.T, pdf []byte, tool string, arguments ...string) string {
	t.Helper()
	cmd := exec.Command(tool, arguments...)
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s (Debian package poppler-utils): %v", tool, err)
	}
	return strings.ReplaceAll(string(out), "\u00a0", " ")
}

// keepsPaper sees that a print has the paper that the imprint names.
func (r *reader) keepsPaper(t *testing.T, path, size string) {
	asNamed := func(p *page.PrintToPDFParams) { p.PreferCSSPageSize = new(true) }
	if info := poppler(t, r.pdf(t, path, asNamed), "pdfinfo", "-"); !strings.Contains(info, size) {
		t.Errorf("the print is not on paper of %s:\n%s", size, info)
	}
}

// breaksWell prints a table that no side can hold: its heads stand again at
// the head of each side, and no row is split.
func (r *reader) breaksWell(t *testing.T) {
	row := regexp.MustCompile(`(?m)^ *(\d+(?:\.\d)?) *m  +\d\.\d+  +\d\.\d+$`)
	rows, with := 0, 0
	for i, side := range r.sides(t, "shapes.html", func(*page.PrintToPDFParams) {}) {
		found := row.FindAllString(side, -1)
		rows += len(found)
		if len(found) == 0 {
			continue
		}
		with++
		head := strings.Index(side, "12 AWG")
		if head < 0 || head > strings.Index(side, strings.TrimSpace(found[0])) {
			t.Errorf("side %d has rows without their heads:\n%s", i+1, side)
		}
	}
	if rows != 59 || with < 2 {
		t.Errorf("%d rows on %d sides, want 59 on at least 2", rows, with)
	}
}
