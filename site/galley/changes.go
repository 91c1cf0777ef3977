package galley

import (
	"cmp"
	"maps"
	"slices"
)

// Changes says what of a copy changed since the press before.
type Changes struct {
	// Whole says that anything may have changed: at the first press, where the
	// system lost count, where the copy came back, and where it holds links.
	Whole bool
	// Paths are what is known to have changed, relative to the copy and with
	// slashes, the last written last. One that was a folder stands for all that
	// lay in it.
	Paths []string
}

// heap gathers changes until they are handed on.
type heap struct {
	whole bool
	paths map[string]int // and the how many-th change was the last to each
	count int
}

// put notes that something changed at a path.
func (h *heap) put(path string) {
	if h.paths == nil {
		h.paths = map[string]int{}
	}
	h.count++
	h.paths[path] = h.count
}

func (h *heap) empty() bool { return !h.whole && len(h.paths) == 0 }

// changes returns what was gathered.
func (h *heap) changes() Changes {
	inOrder := slices.SortedFunc(maps.Keys(h.paths), func(a, b string) int { return cmp.Compare(h.paths[a], h.paths[b]) })
	return Changes{Whole: h.whole, Paths: inOrder}
}
