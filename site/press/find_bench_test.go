package press_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"bindpost/calc/trade"
	"bindpost/content"
	"bindpost/site/bind"
	"bindpost/site/press"
	"bindpost/site/render"
	"bindpost/templates"
)

// indexText returns what finding looks through, out of its script.
func indexText(t testing.TB, script string) string {
	t.Helper()
	_, quoted, ok := strings.Cut(script, " = ")
	var text string
	if err := json.Unmarshal([]byte(strings.TrimSuffix(strings.TrimSpace(quoted), ";")), &text); err != nil || !ok {
		t.Fatalf("the words of the book cannot be read: %v", err)
	}
	return text
}

// repeated returns the text of so many guides, made by repeating those of a
// book under codes of their own.
func repeated(t testing.TB, text string, count int) string {
	t.Helper()
	head, guides, ok := strings.Cut(text, "\n/")
	if !ok {
		t.Fatal("the text names no page")
	}
	all := strings.Split(guides, "\n/")
	var b strings.Builder
	b.WriteString(head)
	for i := range count {
		page := all[i%len(all)]
		for _, mark := range []string{"\n?", "\n#", "\n+"} {
			page = strings.ReplaceAll(page, mark, fmt.Sprintf("%s%d.", mark, i))
		}
		fmt.Fprintf(&b, "\n/%d-%s", i, strings.TrimSuffix(page, "\n"))
	}
	b.WriteString("\n")
	return b.String()
}

// TestFindIndex holds the text that is looked through to have every page of a
// guide, every section and table, and the sentences with their figures; and
// counts its bytes.
func TestFindIndex(t *testing.T) {
	files := made(t, content.Files)
	text := indexText(t, files[render.FindIndex])
	guides := 0
	for path, page := range files {
		if strings.Contains(page, `<article class="guide"`) {
			guides++
			if !strings.Contains(text, "\n/"+path+"\t") {
				t.Errorf("the page %s is not in the text", path)
			}
			for _, code := range idsOf(page, `<h2 class="hang" id="`, `<div class="grid" id="`) {
				if strings.HasSuffix(code, "-signal") {
					continue // a caution; they stand on a page of their own
				}
				if !strings.Contains(text, "\n#"+code+"\t") && !strings.Contains(text, "\n+"+code+"\t") {
					t.Errorf("%s of %s is not in the text", code, path)
				}
			}
		}
	}
	for _, said := range []string{
		"\n?W1\tHow thick must speaker wire be?\n!", "\n!At that run the first loses 0.26 dB and the second 0.26 dB:", // as TestOneValueMoves
		"\n*hum\n.Hum is a low steady tone, from the mains.\n*buzz\n.Buzz is a hum",
		"\n=antenna\taerial\t", "\n~bannana\tbanana\n",
	} {
		if !strings.Contains(text, said) {
			t.Errorf("the text lacks %q", said)
		}
	}
	const most = 8 << 10 // bytes a guide
	each := len(text) / guides
	t.Logf("%d guides, %d bytes, %d a guide", guides, len(text), each)
	if each > most {
		t.Errorf("%d bytes a guide, want at most %d", each, most)
	}
}

func idsOf(page string, marks ...string) []string {
	var ids []string
	for _, mark := range marks {
		for _, rest := range strings.Split(page, mark)[1:] {
			id, _, _ := strings.Cut(rest, `"`)
			ids = append(ids, id)
		}
	}
	return ids
}

// rawPage reads the same text in the same way, and looks through it once for
// what is not there: what no finding can do without.
const rawPage = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>raw</title></head><body></body></html>`

const readRaw = `(() => new Promise((done, fail) => {
	setTimeout(() => fail(new Error("the text does not come")), 30000);
	const from = performance.now(), script = document.createElement("script");
	script.src = "find-index.js";
	script.onload = () => { const has = window.bindpostIndex.includes("zither of brass"); done(has ? -1 : performance.now() - from); };
	document.head.append(script);
}))()`

const firstAnswer = `(() => new Promise((done, fail) => {
	setTimeout(() => fail(new Error("no answer: " + document.getElementById("find-told").textContent)), 30000);
	const field = document.getElementById("find-word"), list = document.getElementById("find-answers");
	field.value = "hum";
	new MutationObserver(() => { if (list.children.length > 0) done(performance.now() - from); }).observe(list, { childList: true });
	const from = performance.now();
	field.focus();
}))()`

// BenchmarkFinding measures, on a thousand guides, how long it takes from
// coming to the field to the first answer, against reading the raw text, in
// turns in one browser. More than twice as long is too long.
func BenchmarkFinding(b *testing.B) {
	const guides, rounds, atMost = 1000, 7, 2.0
	m, faults := press.Make(press.Order{Copy: content.Files, Library: trade.Library(), Templates: templates.Files, Program: "test"})
	if faults.Stopped() {
		b.Fatal(faults)
	}
	folder, size := b.TempDir(), 0
	write := func(name string, data []byte) {
		if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
			b.Fatal(err)
		}
	}
	write("raw.html", []byte(rawPage))
	for _, f := range m.Files {
		switch f.Path {
		case bind.IndexPath, render.StyleSheet, "find.js":
			write(f.Path, f.Data)
		case render.FindIndex:
			text := repeated(b, indexText(b, string(f.Data)), guides)
			quoted, err := json.Marshal(text)
			must(b, err)
			size = len(text)
			write(f.Path, fmt.Appendf(nil, "\"use strict\";\nwindow.bindpostIndex = %s;\n", quoted))
		}
	}
	r := open(b)
	r.folder = folder
	_, err := chromedp.Call(r.browser, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	must(b, err) // a page that nobody looks at is never come to
	measure := func(path, script string) float64 {
		must(b, chromedp.Do(r.browser, chromedp.Navigate(r.address(path))))
		ms, err := chromedp.Run(r.browser, chromedp.Evaluate[float64](script, chromedp.EvalAwaitPromise))
		must(b, err)
		return ms
	}
	for b.Loop() {
		var raw, answer []float64
		for range rounds {
			raw, answer = append(raw, measure("raw.html", readRaw)), append(answer, measure(bind.IndexPath, firstAnswer))
		}
		slices.Sort(raw)
		slices.Sort(answer)
		ratio := answer[rounds/2] / raw[rounds/2]
		b.ReportMetric(raw[rounds/2], "ms-raw")
		b.ReportMetric(answer[rounds/2], "ms-answer")
		b.ReportMetric(ratio, "times-raw")
		b.ReportMetric(float64(size)/guides, "bytes/guide")
		if ratio > atMost {
			b.Errorf("the first answer takes %.2f times as long as reading the text: %.0f ms against %.0f ms", ratio, answer[rounds/2], raw[rounds/2])
		}
	}
}
