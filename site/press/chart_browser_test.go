package press_test

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/chromedp"
)

// chartWords are a line of words of a chart as it is drawn: in which chart of
// the page, what stands there, where, and how high the letters are set.
type chartWords struct {
	Chart                    int
	Text                     string
	Left, Top, Right, Bottom float64
	Size                     float64
	Within                   bool // inside the drawing, from its left edge to its right
}

const askChartWords = `Array.from(document.querySelectorAll(".chart svg"), (svg, i) => {
	const box = svg.getBoundingClientRect(), scale = box.width / svg.viewBox.baseVal.width
	return Array.from(svg.querySelectorAll("text"), t => {
		const b = t.getBoundingClientRect()
		return {Chart: i, Text: t.textContent, Left: b.left, Top: b.top, Right: b.right, Bottom: b.bottom,
			Size: parseFloat(getComputedStyle(t).fontSize) * scale, Within: b.left > box.left - 1 && b.right < box.right + 1}
	})
}).flat()`

// chartsRead opens charts of every shape on screens of several widths: no word
// of a chart covers another, none is cut off, and none is too small to read.
// What is drawn is told to those who listen.
func (r *reader) chartsRead(t *testing.T) {
	b := r.tab(t, "charts.html")
	const least = 11 // CSS pixels, beneath which print on a screen is a strain; from practice
	for _, width := range []int64{320, 768, 1280} {
		must(t, chromedp.Do(b, chromedp.EmulateViewport(width, 800)))
		words := js[[]chartWords](b, askChartWords)
		if len(words) < 60 {
			t.Fatalf("on a screen of %d there are %d words in charts", width, len(words))
		}
		for i, w := range words {
			if w.Size < least {
				t.Errorf("on a screen of %d, %q is %.1f pixels high", width, w.Text, w.Size)
			}
			if !w.Within {
				t.Errorf("on a screen of %d, %q of chart %d reaches out of the drawing", width, w.Text, w.Chart)
			}
			for _, o := range words[i+1:] {
				if o.Chart == w.Chart && w.covers(o) {
					t.Errorf("on a screen of %d, %q covers %q in chart %d", width, w.Text, o.Text, w.Chart)
				}
			}
		}
	}
	r.chartsHeard(t, b)
}

// covers reports whether two words stand on one another: the boxes of a line
// of type have room above and below their letters, a quarter of their height.
func (w chartWords) covers(o chartWords) bool {
	room := (w.Bottom - w.Top) / 4
	return w.Left < o.Right && o.Left < w.Right && w.Top+room < o.Bottom-room && o.Top+room < w.Bottom-room
}

func (r *reader) chartsHeard(t *testing.T, b *tab) {
	tree := call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	charts := 0
	for _, n := range tree.Nodes {
		if n.Ignored || n.Role == nil || n.Name == nil || n.Description == nil || unquoted(n.Role) != "image" {
			continue
		}
		charts++
		name, told := unquoted(n.Name), unquoted(n.Description)
		if !strings.HasPrefix(name, "Table S4-T") || !strings.Contains(told, " has every figure.") {
			t.Errorf("a chart is heard as %q: %q", name, told)
		}
	}
	if want := js[int](b, `document.querySelectorAll(".chart").length`); charts != want || want < 5 {
		t.Errorf("%d charts are told of, of %d", charts, want)
	}
}
