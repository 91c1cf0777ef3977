package press_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/press"
	"bindpost/templates"
)

// textWidths are the widths of the text on each paper in CSS pixels, rounded
// down: the paper less the 35 mm of its margins.
var textWidths = map[string]int64{"A4": 661, "Letter": 683}

// outside finds words, drawings and charts that pass the edge of the text, and
// words that are smaller than their edition is set. Signs that stand raised or
// lowered are smaller in every type, and words in a drawing have the drawing's size.
const outside = `(least => {
	const edge = document.querySelector('main').getBoundingClientRect(), found = [];
	const note = (why, node, where) => found.push(why + ': ' + where.closest('article').id + ' ' + (where.closest('[id]') || where).id + ' "' + node.textContent.trim().slice(0, 60) + '"');
	const shown = e => !e.closest('.spoken') && e.checkVisibility();
	const words = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
	for (let n; (n = words.nextNode());) {
		const e = n.parentElement;
		if (!n.data.trim() || e.closest('svg') || !shown(e)) continue;
		for (const word of n.data.matchAll(/\S+/g)) {
			const range = document.createRange();
			range.setStart(n, word.index);
			range.setEnd(n, word.index + word[0].length);
			const r = range.getBoundingClientRect();
			const room = e.closest('math') ? 12 : 1; // a formula cannot be parted: 3 mm of it may stand in the 15 mm of the margin
			if (r.right > edge.right + room || r.left < edge.left - 1) { note('passes the edge by ' + Math.round(r.right - edge.right), n, e); break; }
		}
		if (!e.closest('math, sup, sub') && parseFloat(getComputedStyle(e).fontSize) < least) note('is smaller', n, e);
	}
	for (const e of document.querySelectorAll('main img, main svg')) {
		const r = e.getBoundingClientRect();
		if (shown(e) && (r.right > edge.right + 1 || r.left < edge.left - 1)) note('passes the edge by ' + Math.round(r.right - edge.right), e, e);
	}
	return found;
})`

// TestOnPaper sets the demonstration in both sizes of type for both papers, and
// sees that no word passes the edge of the text and that none is too small. What
// is wider than the sheet would make a browser print all of the page smaller.
func TestOnPaper(t *testing.T) {
	r := open(t)
	for paper, width := range textWidths {
		for size, least := range leastType {
			t.Run(paper+", "+size, func(t *testing.T) {
				r.folder = t.TempDir()
				page := toPrint(t, press.Setting{Paper: paper, Type: size})
				must(t, os.WriteFile(filepath.Join(r.folder, "all.html"), page, 0o666))
				b := r.tab(t, "all.html")
				call(t, b.Context, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
				must(t, chromedp.Do(b, chromedp.EmulateViewport(width, 1000)))
				if faults := js[[]string](b, outside+"("+least+")"); len(faults) > 0 {
					t.Errorf("%d faults:\n%s", len(faults), strings.Join(faults, "\n"))
				}
				if wide := js[int64](b, "document.documentElement.scrollWidth"); wide > width+12 {
					t.Errorf("something hidden reaches to %d px, and the text is %d px wide", wide, width)
				}
			})
		}
	}
}

// leastType is the size in CSS pixels below which no word is set in each
// edition: in that of 12 pt, labels and codes are of 10 pt.
var leastType = map[string]string{"12 pt": "13.3", "18 pt": "24"}

// toPrint returns the page of the whole demonstration that is printed as the
// booklet.
func toPrint(t *testing.T, s press.Setting) []byte {
	t.Helper()
	var page []byte
	enough := errors.New("the page is wanted, not its print")
	_, faults, err := press.Press(press.Order{
		Copy: content.Files, Into: filepath.Join(t.TempDir(), "manual"), Library: trade.Library(), Templates: templates.Files,
		Program: "test", Setting: s, Print: func(p []byte) ([]byte, error) { page = p; return nil, enough },
	})
	if page == nil || !errors.Is(err, enough) {
		t.Fatalf("the demonstration does not press: %v\n%v", err, faults)
	}
	return page
}
