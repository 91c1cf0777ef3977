package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// built builds a program into a folder and returns its path.
func built(b *testing.B, dir, what string) string {
	b.Helper()
	out := filepath.Join(b.TempDir(), "program")
	cmd := exec.Command("go", "build", "-trimpath", "-ldflags=-s -w", "-o", out, what)
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "CGO_ENABLED=0")
	if said, err := cmd.CombinedOutput(); err != nil {
		b.Fatalf("building %s: %v\n%s", what, err, said)
	}
	return out
}

// BenchmarkStartUp runs the list of methods, and in turn with it a Go program
// that does nothing: what counts is times-empty, the median of the one over the
// median of the other.
func BenchmarkStartUp(b *testing.B) {
	dir := b.TempDir()
	for name, text := range map[string]string{"go.mod": "module empty\n\ngo 1.26\n", "main.go": "package main\n\nfunc main() {}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			b.Fatal(err)
		}
	}
	empty, program := built(b, dir, "."), built(b, ".", ".")
	var nothing, methods []time.Duration
	for b.Loop() {
		nothing = append(nothing, ran(b, empty))
		methods = append(methods, ran(b, program, "methods"))
	}
	b.ReportMetric(middle(methods).Seconds()*1e3, "methods-ms")
	b.ReportMetric(middle(nothing).Seconds()*1e3, "empty-ms")
	b.ReportMetric(middle(methods).Seconds()/middle(nothing).Seconds(), "times-empty")
	b.ReportMetric(0, "ns/op")
}

func ran(b *testing.B, program string, args ...string) time.Duration {
	b.Helper()
	start := time.Now()
	if err := exec.Command(program, args...).Run(); err != nil {
		b.Fatal(err)
	}
	return time.Since(start)
}

func middle(all []time.Duration) time.Duration {
	sorted := slices.Sorted(slices.Values(all))
	return sorted[len(sorted)/2]
}
