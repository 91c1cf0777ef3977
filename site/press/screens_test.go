package press_test

import (
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

func fitsNarrow(t *testing.T, b *tab) {
	for _, width := range []int64{320, 400, 768, 1280} {
		must(t, chromedp.Do(b, chromedp.EmulateViewport(width, 800)))
		if wide := js[int64](b, "document.documentElement.scrollWidth"); wide > width {
			t.Errorf("on a screen of %d the page is %d wide", width, wide)
		}
	}
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

// wideMoves opens a table of many columns on a small screen: the page stays,
// the table moves in its own region, which the keyboard reaches, and says that
// more columns stand beyond the edge; on a wide screen it does not.
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
}
