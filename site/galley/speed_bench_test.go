package galley

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/site/bind"
	"bindpost/site/guide"
	"bindpost/site/press"
	"bindpost/site/render"
	"bindpost/site/specimen"
	"bindpost/templates"
)

// BenchmarkOneChange changes a value in one guide of copies of several sizes, and
// times from the end of the quiet time, when the press begins, until the guide's
// page was sent. Beside it the same guide is made and set alone in the same
// process: what counts is times-alone, and how it grows with the copy.
func BenchmarkOneChange(b *testing.B) {
	var smallest time.Duration
	for _, guides := range []int{100, 1000, 10000} {
		b.Run(fmt.Sprintf("%d guides", guides), func(b *testing.B) {
			root := filepath.Join(b.TempDir(), "copy")
			if err := os.CopyFS(root, specimen.Copy(guides, true)); err != nil {
				b.Fatal(err)
			}
			order := press.Order{Copy: os.DirFS(root), Root: root, Library: trade.Library(), Templates: templates.Files, Program: "test"}
			g, err := Open(order, func(p Pressing) {
				if p.Faults.Len() > 0 {
					b.Fatal(p.Faults)
				}
			})
			if err != nil {
				b.Fatal(err)
			}
			b.Cleanup(func() { g.listener.Close(); g.watch.close() })
			one := newAlone(b)
			var changes, alones []time.Duration
			for n := 0; b.Loop(); n++ {
				i := n * 37 % guides / 10 * 10 // none of those quotes another
				text := strings.Replace(specimen.Guide(i), "per_metre: 100 pF/m", fmt.Sprintf("per_metre: %d pF/m", 80+n%40), 1)
				if err := os.WriteFile(filepath.Join(root, specimen.File(i)), []byte(text), 0o666); err != nil {
					b.Fatal(err)
				}
				start := time.Now()
				g.press(Changes{Paths: []string{specimen.File(i)}})
				page := fetched(b, g, press.PageOf(specimen.File(i)))
				changes = append(changes, time.Since(start))
				alones = append(alones, one.made(b, specimen.File(i), text, page))
			}
			change, alone := middle(changes), middle(alones)
			if smallest == 0 {
				smallest = change
			}
			b.ReportMetric(change.Seconds()*1e3, "change-ms")
			b.ReportMetric(alone.Seconds()*1e3, "alone-ms")
			b.ReportMetric(change.Seconds()/alone.Seconds(), "times-alone")
			b.ReportMetric(change.Seconds()/smallest.Seconds(), "times-smallest")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// fetched asks the galley for a page as a browser would.
func fetched(b *testing.B, g *Galley, page string) []byte {
	b.Helper()
	r := httptest.NewRequest(http.MethodGet, "/"+page, nil)
	r.Host = g.listener.Addr().String()
	w := httptest.NewRecorder()
	g.ServeHTTP(w, r)
	if w.Code != http.StatusOK {
		b.Fatalf("%s: %d", page, w.Code)
	}
	return w.Body.Bytes()
}

// alone makes and sets one guide with nothing round it.
type alone struct {
	kit      guide.Kit
	renderer *render.Renderer
}

func newAlone(b *testing.B) alone {
	b.Helper()
	r, err := render.New(templates.Files)
	if err != nil {
		b.Fatal(err)
	}
	return alone{guide.Kit{Library: trade.Library(), Edition: guide.Edition{
		Title: "The Long Shelf", Publisher: "The Bench Across the Yard", Language: "en-GB", Date: "2026-11-26", Paper: "A4", Type: "12 pt",
		Measures: "metric", Topics: specimen.Topics, Workings: true,
	}}, r}
}

// made returns how long it took, and sees that it is the same guide.
func (a alone) made(b *testing.B, file, text string, page []byte) time.Duration {
	b.Helper()
	start := time.Now()
	g, faults := guide.Read(fault.NewText(file, text), a.kit)
	took := time.Since(start)
	if faults.Len() > 0 {
		b.Fatal(faults)
	}
	book, _ := bind.Bind(bind.Parts{Guides: []*guide.Guide{g}, Edition: a.kit.Edition, Library: a.kit.Library})
	start = time.Now()
	set, err := a.renderer.Guide(book.Leaves[0])
	took += time.Since(start)
	if err != nil {
		b.Fatal(err)
	}
	cells := func(page []byte) []byte {
		return page[bytes.Index(page, []byte("<table")):bytes.LastIndex(page, []byte("</table>"))]
	}
	if !bytes.Equal(cells(page), cells(set.HTML())) {
		b.Fatalf("the galley shows other tables of %s", file)
	}
	return took
}

func middle(all []time.Duration) time.Duration {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)/2]
}
