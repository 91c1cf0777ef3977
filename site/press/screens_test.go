package press_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// screen is one way in which a reader may see the manual.
type screen struct {
	width int64
	text  int64 // size of the text that the reader asks for, in hundredths of the usual
	look  look
}

func (s screen) String() string {
	return fmt.Sprintf("%d wide, text %d %%, %s", s.width, s.text, s.look)
}

// look is what a reader's system asks of a page.
type look string

const (
	light  look = "light"
	dark   look = "dark"
	forced look = "forced colours"
)

// widths are those of a telephone, a larger one, a tablet, a desk.
var widths = []int64{320, 360, 768, 1440}

// screens are all widths with each size of text; the looks change no place, so
// that each is tried at one width.
func screens() []screen {
	var all []screen
	for _, text := range []int64{100, 200} {
		for _, width := range widths {
			all = append(all, screen{width, text, light})
		}
	}
	return append(all, screen{768, 100, dark}, screen{768, 100, forced})
}

// show has a page shown as a reader's screen would.
func (b *tab) show(s screen) {
	b.t.Helper()
	const usual = 16 // CSS pixels, the size of text that browsers begin with
	features := []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "light"}, {Name: "forced-colors", Value: "none"}}
	if s.look == dark {
		features[0].Value = "dark"
	}
	if s.look == forced {
		features[1].Value = "active"
	}
	call(b.t, b.Context, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
	call(b.t, b.Context, page.SetFontSizes, page.SetFontSizesParams{FontSizes: &page.FontSizes{Standard: usual * s.text / 100}})
	must(b.t, chromedp.Do(b, chromedp.EmulateViewport(s.width, 900)))
}

// askMisfits finds what a screen does to a page: whether the page moves
// sideways, which elements cut off what they hold, which words stand outside
// the screen or outside the element that holds them, where nothing moves them
// in, which lines of a chart have the colour of the paper, and what moves.
const askMisfits = `(() => {
	const found = [], wide = document.documentElement.clientWidth
	const say = (what, e) => found.push(what + ": " + e.tagName.toLowerCase() + "." + (e.className.baseVal ?? e.className) + " " + e.textContent.trim().slice(0, 50))
	if (document.documentElement.scrollWidth > wide) found.push("the page is " + document.documentElement.scrollWidth + " wide")
	const moves = e => ["auto", "scroll"].includes(getComputedStyle(e).overflowX)
	const unseen = e => {
		for (; e && e !== document.body; e = e.parentElement) if (getComputedStyle(e).clipPath !== "none") return true
		return false
	}
	// in text kept as it was typed, spaces at the end of a line hang over the edge
	const boxesOf = (text, parts) => Array.from(text.data.matchAll(parts)).flatMap(part => {
		const range = document.createRange()
		range.setStart(text, part.index)
		range.setEnd(text, part.index + part[0].length)
		return Array.from(range.getClientRects())
	})
	for (const e of document.body.querySelectorAll("*")) {
		const style = getComputedStyle(e)
		if (["hidden", "clip"].includes(style.overflowX) && e.scrollWidth > e.clientWidth + 1 && !e.closest("svg, input") && !unseen(e)) say("cut off", e)
		if (style.animationName !== "none" || parseFloat(style.transitionDuration) > 0) say("moves", e)
	}
	const lines = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
	while (lines.nextNode()) {
		const holder = lines.currentNode.parentElement
		if (!lines.currentNode.data.trim() || holder.closest("svg, math") || !holder.checkVisibility() || unseen(holder)) continue
		let left = 0, right = wide, moved = false
		for (let e = holder; e && e !== document.body; e = e.parentElement) {
			if (moves(e)) { moved = e.scrollWidth > e.clientWidth; break }
		}
		const boxes = boxesOf(lines.currentNode, holder.closest("pre") ? /\S+/g : /[^]+/g)
		if (!moved && boxes.some(b => b.right > right + 1 || b.left < left - 1)) say("outside the screen", holder)
		let block = holder
		while (getComputedStyle(block).display.startsWith("inline")) block = block.parentElement
		const frame = block.getBoundingClientRect()
		if (boxes.some(b => b.right > frame.right + 1.5)) say("outside its place", block)
	}
	const paper = getComputedStyle(document.body).backgroundColor
	for (const e of document.querySelectorAll(".curve, .frame, .level, .bar, .lead, .box")) {
		if (getComputedStyle(e).stroke === paper) say("not to be seen", e)
	}
	if (getComputedStyle(document.body).color === paper) found.push("words have the colour of the paper")
	return found
})()`

// fitsNarrow sees that nothing but a table in its own place moves sideways, and
// that each table says so where it goes on, and nowhere else.
func fitsNarrow(t *testing.T, b *tab) {
	const wide = "document.documentElement.scrollWidth"
	const ask = `Array.from(document.querySelectorAll(".grid"), e => {
		const more = e.querySelector(".more"), goes = e.scrollWidth > e.clientWidth
		return more && more.checkVisibility() !== goes ? e.id + " goes on: " + goes : ""
	}).filter(e => e)`
	for _, width := range []int64{320, 1280} {
		b.show(screen{width, 100, light})
		if wide := js[int64](b, wide); wide > width {
			t.Errorf("on a screen of %d the page is %d wide", width, wide)
		}
		wrong := js[[]string](b, ask)
		for n := 0; n < 10 && len(wrong) > 0; n++ { // the style waits for the next frame
			time.Sleep(50 * time.Millisecond)
			wrong = js[[]string](b, ask)
		}
		if len(wrong) > 0 {
			t.Errorf("on a screen of %d, tables say otherwise than they are: %q", width, wrong)
		}
	}
}

// readsOnEveryScreen opens a page on every screen.
func readsOnEveryScreen(t *testing.T, b *tab) {
	for _, s := range screens() {
		b.show(s)
		for _, misfit := range js[[]string](b, askMisfits) {
			t.Errorf("%s: %s", s, misfit)
		}
	}
	b.show(screen{1280, 100, light})
}

// keyboardSeen goes to everything that the keyboard reaches and sees that it
// can be seen where one is.
func keyboardSeen(t *testing.T, b *tab) {
	const ask = `Array.from(document.querySelectorAll("a[href], [tabindex], button, input, select"), e => {
		if (!e.checkVisibility()) return ""
		e.focus()
		const style = getComputedStyle(e)
		const seen = e.matches(":focus-visible") && style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2
		return seen ? "" : e.outerHTML.slice(0, 100)
	}).filter(e => e)`
	for _, s := range []screen{{1280, 100, light}, {1280, 100, forced}} {
		b.show(s)
		for _, unseen := range js[[]string](b, ask) {
			t.Errorf("%s: it cannot be seen that the keyboard is at %s", s, unseen)
		}
	}
	b.show(screen{1280, 100, light})
}

// answersShow sees that a wide screen cuts no answer of a table that decides off.
func (r *reader) answersShow(t *testing.T) {
	b := r.tab(t, "record-player.html")
	must(t, chromedp.Do(b, chromedp.EmulateViewport(1280, 800)))
	const table = `document.querySelector(".decision")`
	if wide := js[bool](b, table+".scrollWidth > "+table+".clientWidth"); wide {
		t.Error("on a screen of 1280 the table is wider than its place")
	}
}

// decidesNarrow reads a table that decides on a telephone: nothing moves
// sideways, each reply stands behind its question, and those who listen are
// still given a table.
func (r *reader) decidesNarrow(t *testing.T) {
	b := r.tab(t, "no-sound.html")
	b.show(screen{320, 100, light})
	const region = `document.getElementById("E5-T1")`
	if wide := js[bool](b, region+".scrollWidth > "+region+".clientWidth"); wide {
		t.Error("the table is wider than the screen")
	}
	if asked := js[bool](b, region+`.querySelector("td:not(.any) .asked").checkVisibility()`); !asked {
		t.Error("a reply does not stand behind its question")
	}
	tree := heardPage(call(t, b.Context, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{}).Nodes)
	table := tree.withRole(tree.root, "table")[0]
	rows, heads := tree.withRole(table, "row"), tree.withRole(table, "columnheader")
	if len(rows) != 8 || len(heads) != 7 {
		t.Errorf("the table is heard with %d rows and %d heads of columns, want 8 and 7", len(rows), len(heads))
	}
}

// wideMoves opens a table of many columns on a small screen: the page stays,
// the table moves in its own region, which the keyboard reaches, and says that
// more columns stand beyond the edge; on a wide screen it does not. The heads
// of the rows stay where they are.
func (r *reader) wideMoves(t *testing.T) {
	b := r.tab(t, "shapes.html")
	for _, screen := range []struct {
		table string
		width int64
		wide  bool
	}{{"S2-T1", 1280, false}, {"S2-T2", 320, true}} {
		region := `document.getElementById("` + screen.table + `")`
		must(t, chromedp.Do(b, chromedp.EmulateViewport(screen.width, 800)))
		time.Sleep(100 * time.Millisecond) // the style waits for the next frame
		if wide := js[bool](b, region+".scrollWidth > "+region+".clientWidth"); wide != screen.wide {
			t.Errorf("on a screen of %d, %s is wider than its place: %v", screen.width, screen.table, wide)
		}
		if said := js[bool](b, region+`.querySelector(".more").checkVisibility()`); said != screen.wide {
			t.Errorf("on a screen of %d, %s says that it goes on: %v", screen.width, screen.table, said)
		}
	}
	if reached := js[bool](b, `document.getElementById("S2-T2").focus(), document.activeElement.id === "S2-T2"`); !reached {
		t.Error("the keyboard does not reach the table")
	}
	headsStay(t, b)
}

// headsStay moves a wide table sideways and a long one down: the heads of the
// rows, and those of the columns, stay at the edge of their place.
func headsStay(t *testing.T, b *tab) {
	const ask = `(id, head) => {
		const region = document.getElementById(id), moved = region.querySelector(head)
		region.scrollLeft = region.scrollTop = 0
		const before = moved.getBoundingClientRect()
		region.scrollTo(80, head === "thead th:last-child" ? 900 : 0)
		const after = moved.getBoundingClientRect(), edge = region.getBoundingClientRect()
		return [after.left - edge.left, after.top - edge.top, before.left - after.left]
	}`
	at := js[[]float64](b, "("+ask+`)("S2-T2", "tbody th")`)
	if at[0] < -1 || at[0] > 3 || at[2] < -1 || at[2] > 3 {
		t.Errorf("the head of a row has left its place at the edge: %v", at)
	}
	long := js[string](b, `Array.from(document.querySelectorAll(".grid.long"), e => e.id)[0] ?? ""`)
	if at := js[[]float64](b, "("+ask+`)("`+long+`", "thead th:last-child")`); long == "" || at[1] < -1 || at[1] > 3 {
		t.Errorf("the heads of the long table %q have left its upper edge: %v", long, at)
	}
}
