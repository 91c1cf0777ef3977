package press_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

// TestBooklet prints the whole demonstration as a booklet and reads it back.
func TestBooklet(t *testing.T) {
	r := open(t)
	r.folder = t.TempDir()
	for _, s := range []press.Setting{{Paper: "A4"}, {Paper: "Letter"}, {Paper: "A4", Type: "18 pt"}} {
		t.Run(strings.TrimSpace(s.Paper+" "+s.Type), func(t *testing.T) {
			if testing.Short() && s.Paper+s.Type != "A4" {
				t.Skip("one print is enough for a short run")
			}
			readBack(t, r.booklet(t, s), s)
		})
	}
}

// booklet presses the demonstration with its booklet, and returns that.
func (r *reader) booklet(t *testing.T, s press.Setting) []byte {
	t.Helper()
	into := filepath.Join(t.TempDir(), "manual")
	prints := 0
	_, faults, err := press.Press(press.Order{
		Copy: content.Files, Into: into, Library: trade.Library(), Templates: templates.Files, Program: "test", Setting: s,
		Print: func(whole []byte) ([]byte, error) { prints++; return r.print(t, whole), nil },
	})
	if err != nil || faults.Stopped() {
		t.Fatalf("the demonstration does not press: %v\n%v", err, faults)
	}
	if prints > 3 {
		t.Errorf("the booklet was printed %d times", prints)
	}
	pdf, err := os.ReadFile(filepath.Join(into, press.BookletName))
	must(t, err)
	return pdf
}

// print prints one page as the command does.
func (r *reader) print(t *testing.T, whole []byte) []byte {
	t.Helper()
	must(t, os.WriteFile(filepath.Join(r.folder, "booklet.html"), whole, 0o666))
	return r.pdf(t, "booklet.html", func(p *page.PrintToPDFParams) {
		p.PreferCSSPageSize, p.GenerateDocumentOutline, p.GenerateTaggedPDF = new(true), new(true), new(true)
	})
}

var _ chromedp.PDFOption = func(*page.PrintToPDFParams) {}

// readBack holds a booklet to what a reader of paper needs.
func readBack(t *testing.T, pdf []byte, s press.Setting) {
	sides := strings.Split(strings.TrimSuffix(poppler(t, pdf, "pdftotext", "-layout", "-", "-"), "\f"), "\f")
	t.Run("is dated and on its paper", func(t *testing.T) {
		info := poppler(t, pdf, "pdfinfo", "-")
		size := map[string]string{"A4": "(A4)", "Letter": "(letter)"}[s.Paper]
		for _, want := range []string{"Title:           The Ferry House hi-fi book\n", "Tagged:          yes", size, "Nov 25 00:00:00 2026"} {
			if !strings.Contains(info, want) {
				t.Errorf("pdfinfo does not tell %q:\n%s", want, info)
			}
		}
		if !bytes.Contains(pdf, []byte("/Outlines")) {
			t.Error("there is no outline")
		}
	})
	t.Run("each side has its strip", func(t *testing.T) { stripsStand(t, sides) })
	t.Run("the contents name the right sides", func(t *testing.T) { contentsHold(t, sides) })
	t.Run("table heads stand on each side", func(t *testing.T) { headsRepeat(t, sides) })
	t.Run("no head is last on a side", func(t *testing.T) { noHeadLast(t, pdf) })
}

// strip finds the number of a side in its strip, in one line or in two.
var strip = regexp.MustCompile(`Side\s+(\d+)\s+of\s+(\d+)`)

func stripsStand(t *testing.T, sides []string) {
	for i, side := range sides {
		foot := strings.Join(strings.Fields(side), " ")
		m := strip.FindStringSubmatch(foot)
		if m == nil || m[1] != strconv.Itoa(i+1) || m[2] != strconv.Itoa(len(sides)) {
			t.Errorf("side %d of %d has the strip %q; it ends:\n%.300s", i+1, len(sides), m, side[max(0, len(side)-300):])
		}
	}
}

// entry is a question of the contents with its side, as it stands on paper.
var entry = regexp.MustCompile(`(?m)^ *([A-Z]\d{1,2}) {2,}(\S.*\S) {2,}(\d+)$`)

// contentsHold turns each side that the contents name up, and sees that the
// guide begins there: its code stands beside the words of the strip at its head.
func contentsHold(t *testing.T, sides []string) {
	found := 0
	for _, side := range sides[:12] {
		for _, m := range entry.FindAllStringSubmatch(side, -1) {
			on, _ := strconv.Atoi(m[3])
			if on < 1 || on > len(sides) {
				t.Errorf("the contents name side %d for %s", on, m[1])
				continue
			}
			begins := regexp.MustCompile(`(?s)^\s*Page\s+Question\s.{0,400}\b` + m[1] + `\b`)
			if !begins.MatchString(sides[on-1]) {
				t.Errorf("%s does not begin on side %d:\n%.400s", m[1], on, sides[on-1])
			}
			found++
		}
	}
	if found < 40 {
		t.Errorf("the contents name the sides of %d guides, and there are more than 50", found)
	}
}

// deciding are the head rows of tables that decide, which are longer than what
// is left of most sides: letters, and the answer at the end.
var deciding = regexp.MustCompile(`(?m)^ *Row +A +(B +)?.*Answer$`)

// headsRepeat sees that a side which begins inside a table that decides has the
// table's heads above its first row.
func headsRepeat(t *testing.T, sides []string) {
	row := regexp.MustCompile(`^ *\d{1,2}  +(yes|no|don't|does not|in every)`)
	again := 0
	for i, side := range sides {
		lines := strings.Split(strings.TrimLeft(side, "\n"), "\n")
		if deciding.MatchString(lines[0]) {
			again++
		}
		if row.MatchString(lines[0]) {
			t.Errorf("side %d begins with a row without its heads:\n%.300s", i+1, side)
		}
	}
	t.Logf("%d sides begin with the heads of a table that goes on", again)
}
