package press_test

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"

	"bindpost/calc/trade"
	"bindpost/site/press"
	"bindpost/site/publish"
	"bindpost/site/specimen"
	"bindpost/templates"
)

// specimenGuides is how many guides the press is timed with.
const specimenGuides = 1000

// BenchmarkCold presses a copy of a thousand guides from nothing, as the command
// does: it reads the copy, and writes the manual, the ledger and what is kept.
// Beside each press it runs the floor, which is what nobody can do without: the
// same guides with their tables typed in, through the Markdown library alone, and
// as many files of as many bytes written, on all processors too. What counts is
// times-floor, the median of the one over the median of the other.
func BenchmarkCold(b *testing.B) {
	defer debug.SetGCPercent(debug.SetGCPercent(1000)) // as the command has it, and for both
	for _, c := range []struct {
		name     string
		workings bool
	}{{"with workings", true}, {"without workings", false}} {
		b.Run(c.name, func(b *testing.B) {
			root := onDisk(b, specimenGuides, c.workings)
			typed := make([][]byte, specimenGuides)
			for i := range typed {
				typed[i] = []byte(specimen.Typed(i))
			}
			order := press.Order{
				Copy: os.DirFS(root), Root: root, Library: trade.Library(), Templates: templates.Files, Program: "test", Build: "this program",
			}
			var presses, floors []time.Duration
			var files []publish.File
			for b.Loop() {
				order.Into = filepath.Join(b.TempDir(), "manual")
				if err := os.RemoveAll(filepath.Join(root, ".bindpost")); err != nil {
					b.Fatal(err)
				}
				presses = append(presses, timed(func() {
					if _, faults, err := press.Press(order); err != nil || faults.Stopped() {
						b.Fatal(err, faults)
					}
				}))
				if files == nil {
					files = writtenFiles(b, order.Into)
				}
				os.RemoveAll(order.Into)
				into := b.TempDir()
				floors = append(floors, timed(func() { floor(b, typed, files, into) }))
				os.RemoveAll(into)
			}
			press, floor := median(presses), median(floors)
			b.ReportMetric(press.Seconds()*1e3, "press-ms")
			b.ReportMetric(floor.Seconds()*1e3, "floor-ms")
			b.ReportMetric(press.Seconds()/floor.Seconds(), "times-floor")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// floor does what no press can do without.
func floor(b *testing.B, typed [][]byte, files []publish.File, into string) {
	bare := goldmark.New(goldmark.WithExtensions(extension.Table))
	made := map[string]bool{}
	for _, f := range files {
		if dir := filepath.Dir(filepath.Join(into, f.Path)); !made[dir] {
			made[dir] = true
			if err := os.MkdirAll(dir, 0o777); err != nil {
				b.Fatal(err)
			}
		}
	}
	share(len(typed), func(i int) {
		var out bytes.Buffer
		if err := bare.Convert(typed[i], &out); err != nil {
			b.Error(err)
		}
	})
	share(len(files), func(i int) {
		if err := os.WriteFile(filepath.Join(into, files[i].Path), files[i].Data, 0o666); err != nil {
			b.Error(err)
		}
	})
}

// share calls do for 0 to n-1 on as many goroutines as there are processors.
func share(n int, do func(i int)) {
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		wait.Go(func() {
			for i := w; i < n; i += workers {
				do(i)
			}
		})
	}
	wait.Wait()
}

// onDisk writes a copy of so many specimen guides to a folder.
func onDisk(b *testing.B, guides int, workings bool) string {
	b.Helper()
	root := filepath.Join(b.TempDir(), "copy")
	if err := os.CopyFS(root, specimen.Copy(guides, workings)); err != nil {
		b.Fatal(err)
	}
	return root
}

// writtenFiles returns the files of a manual, each with bytes of its size.
func writtenFiles(b *testing.B, dir string) []publish.File {
	b.Helper()
	var files []publish.File
	for p, data := range filesIn(b, dir) {
		files = append(files, publish.File{Path: p, Data: data})
	}
	return files
}

func timed(do func()) time.Duration {
	start := time.Now()
	do()
	return time.Since(start)
}

func median(all []time.Duration) time.Duration {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)/2]
}
