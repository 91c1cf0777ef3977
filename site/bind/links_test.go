package bind

import (
	"math/rand/v2"
	"path"
	"strings"
	"testing"
)

// TestRelative follows the way from one page to another from the folder of the
// first.
func TestRelative(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 4))
	page := func() string {
		names := []string{"a", "b", "ab"}
		way := make([]string, 1+r.IntN(4))
		for i := range way {
			way[i] = names[r.IntN(len(names))]
		}
		return strings.Join(way, "/") + ".html"
	}
	for range 20_000 {
		from, to := page(), page()
		way := Relative(from, to)
		if got := path.Join(path.Dir(from), way); got != to {
			t.Fatalf("the way from %q to %q is %q, which leads to %q", from, to, way, got)
		}
		if here := path.Dir(from) + "/"; strings.HasPrefix(to, here) && strings.Contains(way, "..") {
			t.Fatalf("the way from %q to %q, which lies below it, is %q", from, to, way)
		}
	}
}
