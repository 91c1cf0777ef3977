package wiring

// Lead is a way that a signal goes of itself: from an output through a lead or
// a switch to what hears it.
type Lead struct{ From, To string }

// Reaches reports whether a signal that leaves one place arrives at another by
// one lead or more. From a place to itself it reaches only around a loop.
func Reaches(leads []Lead, from, to string) bool {
	open, seen := []string{from}, map[string]bool{}
	for len(open) > 0 {
		at := open[0]
		open = open[1:]
		for _, l := range leads {
			if l.From != at || seen[l.To] {
				continue
			}
			if l.To == to {
				return true
			}
			seen[l.To] = true
			open = append(open, l.To)
		}
	}
	return false
}
