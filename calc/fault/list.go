package fault

import (
	"sort"
	"strings"
)

// List gathers faults. The zero List is empty and ready; a nil *List may be
// read as an empty one.
type List struct {
	faults []*Fault
}

// Add puts faults on the list; nil faults are passed over.
func (l *List) Add(faults ...*Fault) {
	for _, f := range faults {
		if f != nil {
			l.faults = append(l.faults, f)
		}
	}
}

// Join puts all faults of another list on this one.
func (l *List) Join(other *List) {
	if other != nil {
		l.faults = append(l.faults, other.faults...)
	}
}

// Len returns how many faults the list holds.
func (l *List) Len() int {
	if l == nil {
		return 0
	}
	return len(l.faults)
}

// Stopped reports whether a fault of grade Stop is on the list.
func (l *List) Stopped() bool {
	if l == nil {
		return false
	}
	for _, f := range l.faults {
		if f.Grade == Stop {
			return true
		}
	}
	return false
}

// All returns the faults in the order of their places; those that say the
// same of the same place appear once.
func (l *List) All() []*Fault {
	if l == nil {
		return nil
	}
	sorted := append([]*Fault(nil), l.faults...)
	sort.SliceStable(sorted, func(i, j int) bool { return sorted[i].Place.Before(sorted[j].Place) })
	type same struct {
		place   Place
		message string
	}
	seen := map[same]bool{}
	kept := sorted[:0]
	for _, f := range sorted {
		if key := (same{f.Place, f.Message}); !seen[key] {
			seen[key] = true
			kept = append(kept, f)
		}
	}
	return kept
}

// String returns all faults in order, one after the other with a newline
// between them; "" for an empty list.
func (l *List) String() string {
	all := l.All()
	texts := make([]string, len(all))
	for i, f := range all {
		texts[i] = f.Error()
	}
	return strings.Join(texts, "\n")
}

// Error makes a list an error that reads as [List.String]. Use [List.Err] to
// hand one on.
func (l *List) Error() string { return l.String() }

// Err returns the list as an error when a fault of grade Stop is on it, and
// nil otherwise.
func (l *List) Err() error {
	if l.Stopped() {
		return l
	}
	return nil
}
