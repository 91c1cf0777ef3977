package press_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

// TestBooklet prints manuals and reads them back. Each goes through the whole
// press, which prints it more than once. The demonstration, of some hundreds of
// sides, takes minutes: it is printed where BINDPOST_PAGES is "all", and also on
// the other paper and in large type.
func TestBooklet(t *testing.T) {
	r := open(t)
	r.folder = t.TempDir()
	t.Run("every shape", func(t *testing.T) {
		pdf := r.booklet(t, os.DirFS("testdata/shapes"))
		isDated(t, pdf, "Every shape a page can have", "(letter)")
		readsWell(t, pdf)
		leadsWell(t, pdf, 5)
		t.Run("cautions stand with their steps", r.cautionsStand)
	})
	if os.Getenv("BINDPOST_PAGES") != "all" {
		return
	}
	t.Run("the demonstration", func(t *testing.T) {
		pdf := r.booklet(t, content.Files)
		isDated(t, pdf, "The Ferry House hi-fi book", "(A4)")
		readsWell(t, pdf)
		leadsWell(t, pdf, 56)
		t.Run("cautions stand with their steps", r.cautionsStand)
	})
	for _, s := range []press.Setting{{Paper: "Letter"}, {Paper: "A4", Type: "18 pt"}} {
		t.Run(strings.TrimSpace("the demonstration on "+s.Paper+" "+s.Type), func(t *testing.T) {
			readsWell(t, r.print(t, toPrint(t, s)))
			t.Run("cautions stand with their steps", r.cautionsStand)
		})
	}
}

// booklet presses a copy with its booklet, and returns that: it is the last print,
// signed and dated.
func (r *reader) booklet(t *testing.T, copied fs.FS) []byte {
	t.Helper()
	into := filepath.Join(t.TempDir(), "manual")
	var page, print []byte // the last ones
	prints := 0
	_, faults, err := press.Press(press.Order{
		Copy: copied, Into: into, Library: trade.Library(), Templates: templates.Files, Program: "test",
		Print: func(whole []byte) ([]byte, error) {
			prints++
			page, print = whole, r.print(t, whole)
			return bytes.Clone(print), nil
		},
	})
	if err != nil || faults.Stopped() {
		t.Fatalf("the copy does not press: %v\n%v", err, faults)
	}
	if prints > 3 {
		t.Errorf("the booklet was printed %d times", prints)
	}
	pdf, err := os.ReadFile(filepath.Join(into, press.BookletName))
	must(t, err)
	moment := regexp.MustCompile(`\(D:\d{14}`)
	if !bytes.Equal(moment.ReplaceAll(pdf, nil), moment.ReplaceAll(press.Signed(print), nil)) {
		t.Error("the booklet is not the last print")
	}
	samePrint(t, print, r.print(t, page))
	return pdf
}

// samePrint holds two prints of one page to the same words at the same places, the
// same names and tags, and the same look. Their bytes may differ: a browser now and
// then parts the area of a link that has two pieces otherwise.
func samePrint(t *testing.T, a, b []byte) {
	t.Helper()
	for _, told := range [][]string{
		{"pdftotext", "-bbox-layout", "-", "-"},
		{"pdfinfo", "-struct-text", "-"},
		{"pdfinfo", "-dests", "-"},
		{"pdftoppm", "-r", "50", "-gray", "-"},
	} {
		moment := regexp.MustCompile(`(?m)^\s*<meta name="(Creation|Mod)Date".*$|^ *Object \d+ 0\n|node\d{8}`)
		again := moment.ReplaceAllString(poppler(t, b, told[0], told[1:]...), "")
		if moment.ReplaceAllString(poppler(t, a, told[0], told[1:]...), "") != again {
			t.Errorf("the same page printed again is another print to %v", told)
		}
	}
	if there, again := leadsTo(a), leadsTo(b); !slices.Equal(there, again) {
		t.Errorf("the links lead to %v, and where the same page is printed again to %v", there, again)
	}
}

// leadsTo returns the names to which the links of a print lead, each once.
func leadsTo(pdf []byte) []string {
	var names []string
	for _, m := range regexp.MustCompile(`/Dest /(\S+)`).FindAllSubmatch(pdf, -1) {
		names = append(names, string(m[1]))
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// print prints one page as the command does.
func (r *reader) print(t *testing.T, whole []byte) []byte {
	t.Helper()
	must(t, os.WriteFile(filepath.Join(r.folder, "booklet.html"), whole, 0o666))
	return r.pdf(t, "booklet.html", inPrint)
}

// inPrint prints a page as the booklet is.
func inPrint(p *page.PrintToPDFParams) {
	p.PreferCSSPageSize, p.GenerateDocumentOutline, p.GenerateTaggedPDF = new(true), new(true), new(true)
}

func sidesOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(poppler(t, pdf, "pdftotext", "-layout", "-", "-"), "\f"), "\f")
}

// isDated sees that a booklet bears its manual's title and date, lies on its
// paper, and has an outline and tags.
func isDated(t *testing.T, pdf []byte, title, paper string) {
	t.Helper()
	info := poppler(t, pdf, "pdfinfo", "-")
	for _, want := range []string{title + "\n", "Tagged:          yes", paper, "Nov 25 00:00:00 2026"} {
		if !strings.Contains(info, want) {
			t.Errorf("pdfinfo does not tell %q:\n%s", want, info)
		}
	}
	if !bytes.Contains(pdf, []byte("/Outlines")) {
		t.Error("there is no outline")
	}
}

// readsWell holds a print to what a reader of paper needs.
func readsWell(t *testing.T, pdf []byte) {
	sides := sidesOf(t, pdf)
	t.Run("each side has its strip", func(t *testing.T) { stripsStand(t, sides) })
	t.Run("table heads stand on each side", func(t *testing.T) { headsRepeat(t, sides) })
	t.Run("no head is last on a side", func(t *testing.T) { noHeadLast(t, pdf) })
}

// leadsWell holds the numbers of sides in a print to the sides themselves.
func leadsWell(t *testing.T, pdf []byte, guides int) {
	t.Run("the contents name the right sides", func(t *testing.T) { contentsHold(t, sidesOf(t, pdf), guides) })
	t.Run("the index is at the very end", func(t *testing.T) {
		if sides := sidesOf(t, pdf); !strings.Contains(sides[len(sides)-1], "Index from A to Z") {
			t.Errorf("the last side is\n%s", sides[len(sides)-1])
		}
	})
	t.Run("whatever names a side names the right one", func(t *testing.T) { numbersHold(t, pdf) })
}

// strip finds the number of a side in its strip at the foot, in one line or in
// two: then words of the next field stand between them as the side is read.
var strip = regexp.MustCompile(`.*Side (\d+) .*?\bof (\d+)`)

func stripsStand(t *testing.T, sides []string) {
	for i, side := range sides {
		m := strip.FindStringSubmatch(strings.Join(strings.Fields(side), " "))
		if m == nil || m[1] != strconv.Itoa(i+1) || m[2] != strconv.Itoa(len(sides)) {
			t.Errorf("side %d of %d has the strip %q; it ends:\n%.300s", i+1, len(sides), m, side[max(0, len(side)-300):])
		}
	}
}

// entry is a question of the contents with its side, as it stands on paper: the
// number ends the line of the question, or the line below it.
var entry = regexp.MustCompile(`(?m)(?:^| {2})([A-Z]\d{1,2}) {2,}\S(?s:.{0,200}?) {2,}(\d+)$`)

// contentsHold turns each side that the contents name up, and sees that the
// guide begins there: its code stands beside the words of the strip at its head.
func contentsHold(t *testing.T, sides []string, guides int) {
	found := 0
	for _, side := range sides[:min(12, len(sides))] {
		for _, m := range entry.FindAllStringSubmatch(side, -1) {
			on, _ := strconv.Atoi(m[2])
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
	if found != guides {
		t.Errorf("the contents name the sides of %d guides, and there are %d", found, guides)
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
