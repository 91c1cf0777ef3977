package press_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/page"
)

// drawnWords are a line of words of a drawn hook-up: in which drawing of the
// page, where, and how high the letters are set against the text beside it.
type drawnWords struct {
	Drawing                  int
	Text                     string
	Left, Top, Right, Bottom float64
	Size, Around             float64
	Within                   bool
}

const (
	askDrawnWords = `Array.from(document.querySelectorAll(".drawn svg"), (svg, i) => {
		const box = svg.getBoundingClientRect(), scale = box.width / svg.viewBox.baseVal.width
		return Array.from(svg.querySelectorAll("text"), t => {
			const b = t.getBoundingClientRect()
			return {Drawing: i, Text: t.textContent, Left: b.left, Top: b.top, Right: b.right, Bottom: b.bottom,
				Size: parseFloat(getComputedStyle(t).fontSize) * scale, Around: parseFloat(getComputedStyle(svg.closest(".hookup")).fontSize),
				Within: b.left > box.left && b.right < box.right && b.top > box.top && b.bottom < box.bottom}
		})
	}).flat()`

	// Every lead is walked along its line: no word may stand there.
	askCrossed = `Array.from(document.querySelectorAll(".drawn svg"), svg => {
		const words = Array.from(svg.querySelectorAll("text"), t => [t.textContent, t.getBoundingClientRect()]), found = []
		for (const lead of svg.querySelectorAll(".lead")) {
			const to = lead.getScreenCTM()
			for (let at = 0; at < lead.getTotalLength(); at += 2) {
				const p = lead.getPointAtLength(at).matrixTransform(to)
				for (const [text, b] of words) if (p.x > b.left && p.x < b.right && p.y > b.top && p.y < b.bottom) found.push(text)
			}
		}
		return found
	}).flat()`

	// The ink of leads, boxes and words, and the paper.
	askInk = `(() => {
		const paper = getComputedStyle(document.body).backgroundColor, style = (s, of) => Array.from(document.querySelectorAll(".drawn " + s), e => getComputedStyle(e)[of])
		return [...style(".lead", "stroke"), ...style(".box", "stroke"), ...style(".point", "fill"), ...style("text", "fill")].filter(c => c === paper || c === "none").length
	})()`
)

// hookupsRead opens drawn hook-ups on screens of several widths: no word covers
// another or is crossed by a lead, none is cut off, all are as large as the text
// beside them, ink is never the colour of the paper, and what is drawn is told
// to those who listen.
func (r *reader) hookupsRead(t *testing.T) {
	b := r.tab(t, "hookups.html")
	for _, s := range []screen{{320, 100, light}, {360, 100, dark}, {768, 100, forced}, {1440, 100, light}} {
		b.show(s)
		words := js[[]drawnWords](b, askDrawnWords)
		if len(words) < 80 {
			t.Fatalf("%s: there are %d words in drawings", s, len(words))
		}
		for i, w := range words {
			if w.Size < w.Around*0.95 {
				t.Errorf("%s: %q is %.1f pixels high, and the text beside it %.1f", s, w.Text, w.Size, w.Around)
			}
			if !w.Within {
				t.Errorf("%s: %q of drawing %d reaches out of it", s, w.Text, w.Drawing)
			}
			for _, o := range words[i+1:] {
				if o.Drawing == w.Drawing && w.chartWords().covers(o.chartWords()) {
					t.Errorf("%s: %q covers %q in drawing %d", s, w.Text, o.Text, w.Drawing)
				}
			}
		}
		if crossed := js[[]string](b, askCrossed); len(crossed) > 0 {
			t.Errorf("%s: leads cross %q", s, crossed)
		}
		if n := js[int](b, askInk); n > 0 {
			t.Errorf("%s: %d lines and words cannot be seen", s, n)
		}
	}
	b.show(screen{1280, 100, light})
	r.hookupsHeard(t, b)
}

func (w drawnWords) chartWords() chartWords {
	return chartWords{Text: w.Text, Left: w.Left, Top: w.Top, Right: w.Right, Bottom: w.Bottom}
}

// hookupsHeard listens to the drawings: each is an image with a name and what it
// shows, and its steps are a list that is heard in full.
func (r *reader) hookupsHeard(t *testing.T, b *tab) {
	tree := call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	drawings := 0
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil || n.Name == nil || n.Description == nil || unquoted(n.Role) != "image" {
			continue
		}
		drawings++
		name, told := unquoted(n.Name), unquoted(n.Description)
		if !strings.HasPrefix(name, "Drawing S6-D") || !strings.Contains(told, " the drawing") {
			t.Errorf("a drawing is heard as %q: %q", name, told)
		}
	}
	if want := js[int](b, `document.querySelectorAll(".drawn svg").length`); drawings != want || want < 8 {
		t.Errorf("%d drawings are told of, of %d", drawings, want)
	}
}

// hookupsPrint prints drawn hook-ups: every lead's steps stand on paper, and the
// codes of the drawings.
func (r *reader) hookupsPrint(t *testing.T) {
	text := strings.Join(r.sides(t, "hookups.html", func(*page.PrintToPDFParams) {}), "\n")
	for _, want := range []string{"Drawing S6-D1", "Drawing S6-D8", "CAUTION S6-C", "pull all mains plugs", "1. Turn the volume to zero", "Do not connect it like this."} {
		if !strings.Contains(text, want) {
			t.Errorf("the printed page lacks %q", want)
		}
	}
}
