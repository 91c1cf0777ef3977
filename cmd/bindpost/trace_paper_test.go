package main

import (
	"bytes"
	"context"
	"net/url"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// read is a figure as somebody reads it off a printed side: the row and the
// place in it, and the unit that the head or the caption of its table names.
type read struct {
	name  string
	table string
	row   string // its head
	place int    // of the cell in the row, from 0
	unit  string
	wants []string // what a trace of it must say went in, and its rule
}

// readings are figures from each kind of table in the guide about wire. What
// must have gone in stands in the heads of the row and the column, and in the
// lines above the table.
var readings = []read{
	{"by gauge and run", "W1-T1", "16 AWG", 2, "decibels", []string{`gauge +16 AWG`, `run +9 m, one way`, `load +8 ohm, rated`, `loss = 20 dB\*log10\(\(load \+ wire\)/load\)`}},
	{"beyond the limit", "W1-T1", "18 AWG", 4, "dB", []string{`gauge +18 AWG`, `run +15 m`, `Limit: loss at most 0\.5 dB`}},
	{"the longest run", "W1-T1", "14 AWG", 5, "m", []string{`gauge +14 AWG`, `It is the longest run for loss at most 0\.5 dB: found by trying`, `loss = 20 dB\*log10`}},
	{"without its unit", "W1-T2", "0.75 mm²", 1, "", []string{`size +0\.75 mm²`, `run +6 m`}},
	{"by size and run", "W1-T2", "4 mm²", 4, "dB", []string{`size +4 mm²`, `class +flexible, class 5`, `run +15 m`}},
	{"from standing figures", "W1-T3", "12 AWG", 1, "dB", []string{`gauge +12 AWG`, `load +6 ohm`, `run +9 m, one way, from figure:standing\.kitchen, in line`, `rest on the same standing figures: W1-T4`}},
	{"the unit in a head", "W1-T4", "1.5 mm²", 0, "ohm", []string{`size +1\.5 mm²`, `wire = 2\*run\*each`}},
	{"by name", "W1-T5", "copper-clad aluminium", 1, "dB", []string{`metal +copper-clad`, `cladding +10 %`, `W1-5: Over the kitchen run it would lose`}},
}

// TestTraceFromPaper presses the demonstration, prints a guide, reads its code
// and figures off the paper and traces each with one command.
func TestTraceFromPaper(t *testing.T) {
	paper := printedGuide(t, "speaker-wire.html")
	code := find(t, paper, `(?m)^ *Page +Question\n *(\w+) `)
	tables := map[string]string{}
	for _, piece := range regexp.MustCompile(`(?m)^ *Table `).Split(paper, -1)[1:] {
		number, rest, _ := strings.Cut(piece, " ")
		table, _, _ := strings.Cut(rest, "Where the rules come from")
		if strings.Contains(table, "Taken for the whole table") { // no line of prose that begins so, and no chart
			tables[number] = table
		}
	}
	for i, r := range readings {
		t.Run(r.name, func(t *testing.T) {
			figure := strings.TrimSpace(cellOn(t, tables[r.table], r) + " " + r.unit)
			r.trace(t, r.table, figure)
			if i%3 == 0 {
				r.trace(t, code, figure)
			}
		})
	}
	step := find(t, paper, `\bwire\s+=[^=]*=[^=]*= (\d+\.\d+ ohm) `)
	read{wants: []string{`It is a step of the working of W1-T1 for 16 AWG, 9 m`, `gauge +16 AWG`, `wire = 2\*run\*each`}}.trace(t, code, step)
	limit := find(t, tables["W1-T3"], `Limit: loss at most (.*)\. A figure`)
	read{wants: []string{`It is a limit of W1-T3, typed in line`}}.trace(t, "W1-T3", limit)
}

// trace traces a figure by a code of the page, and sees that all that was asked
// for comes: the rule, the values, the references and the other uses.
func (r read) trace(t *testing.T, code, figure string) {
	t.Helper()
	var out, errs bytes.Buffer
	if end := run([]string{"trace", code, figure}, desk{out: &out, err: &errs}); end != done {
		t.Fatalf("trace %s %q ended with %d: %s", code, figure, end, errs.String())
	}
	for _, want := range append(r.wants, `by the method speaker-wire: How thick`, `Where the rules come from:\n  \w`, `Also used in:\n  \w`, `Tables by the same method: W1-T`) {
		if !regexp.MustCompile(want).MatchString(strings.ReplaceAll(out.String(), "\n    ", " ")) {
			t.Errorf("trace %s %q does not tell %s:\n%s", code, figure, want, out.String())
		}
	}
}

// cellOn reads a cell of a table off paper.
func cellOn(t *testing.T, table string, r read) string {
	t.Helper()
	row := find(t, table, `(?m)^ *`+regexp.QuoteMeta(r.row)+`( {2,}.*)$`)
	cells := strings.Fields(row)
	if r.place >= len(cells) {
		t.Fatalf("the row %s of %s holds %q on paper", r.row, r.table, cells)
	}
	return cells[r.place]
}

// find returns what a pattern's group matches.
func find(t *testing.T, text, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("nothing like %s is on paper:\n%s", pattern, text)
	}
	return m[1]
}

// printedGuide presses the demonstration, prints one of its pages in a browser
// without a network, and returns what can be read on the paper.
func printedGuide(t *testing.T, page string) string {
	t.Helper()
	manual := filepath.Join(t.TempDir(), "manual")
	var out, errs bytes.Buffer
	t.Chdir(t.TempDir()) // where no copy is
	if end := run([]string{"press", "--into", manual}, desk{out: &out, err: &errs}); end != done {
		t.Fatalf("the demonstration does not press: %s", errs.String())
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"), chromedp.Flag("proxy-server", "http://127.0.0.1:9"))
	allocator, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	browser, stop := chromedp.NewContext(allocator)
	t.Cleanup(stop)
	address := url.URL{Scheme: "file", Path: filepath.Join(manual, page)}
	if err := chromedp.Do(browser, chromedp.Navigate(address.String())); err != nil {
		t.Fatalf("chromium (Debian package chromium): %v", err)
	}
	pdf, err := chromedp.Run(browser, chromedp.PrintToPDF())
	if err != nil {
		t.Fatalf("chromium does not print: %v", err)
	}
	reading := exec.Command("pdftotext", "-layout", "-", "-")
	reading.Stdin = bytes.NewReader(pdf)
	text, err := reading.Output()
	if err != nil {
		t.Fatalf("pdftotext (Debian package poppler-utils): %v", err)
	}
	return strings.ReplaceAll(string(text), "\f", "\n") // a new side
}
