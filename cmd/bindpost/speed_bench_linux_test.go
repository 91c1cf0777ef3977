package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"bindpost/site/specimen"
)

// BenchmarkMemory presses copies of a thousand and of ten thousand guides as
// processes of their own, and tells the most memory that each took: over the
// bytes of the copy, and what the larger took more over the bytes that it has
// more. It takes minutes, and a
// gigabyte of the disk; only Linux tells the memory of a process in one unit.
func BenchmarkMemory(b *testing.B) {
	program := built(b, ".", ".")
	var least, leastText float64
	for _, guides := range []int{1000, 10000} {
		b.Run(fmt.Sprintf("%d guides", guides), func(b *testing.B) {
			dir := b.TempDir()
			root := filepath.Join(dir, "copy")
			if err := os.CopyFS(root, specimen.Copy(guides, true)); err != nil {
				b.Fatal(err)
			}
			text := float64(sizeOf(b, root))
			peak := 0.0
			for b.Loop() {
				os.RemoveAll(filepath.Join(root, ".bindpost"))
				cmd := exec.Command(program, "press", root, "--into", filepath.Join(dir, "manual"))
				if said, err := cmd.CombinedOutput(); err != nil {
					b.Fatalf("%v\n%s", err, said)
				}
				peak = max(peak, float64(cmd.ProcessState.SysUsage().(*syscall.Rusage).Maxrss)*1024)
			}
			b.ReportMetric(peak/1e6, "peak-MB")
			b.ReportMetric(text/1e6, "text-MB")
			b.ReportMetric(peak/text, "times-text")
			if least == 0 {
				least, leastText = peak, text
			} else {
				b.ReportMetric((peak-least)/(text-leastText), "times-text-more")
			}
			b.ReportMetric(0, "ns/op")
		})
	}
}

func sizeOf(b *testing.B, dir string) (size int64) {
	b.Helper()
	err := filepath.WalkDir(dir, func(_ string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		info, err := e.Info()
		size += info.Size()
		return err
	})
	if err != nil {
		b.Fatal(err)
	}
	return size
}
