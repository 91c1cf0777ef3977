package galley

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"bindpost/calc/fault"
)

// mostFaults is how many faults a slip quotes. Who has more mends some first.
const mostFaults = 100

// slip is the errata slip at the head of a page.
type slip struct {
	Says   string
	Faults []erratum
	More   int // faults that are not quoted
}

// erratum is one fault, in the words in which a terminal prints it.
type erratum struct{ Head, Line, Caret, Wanted, Try string }

// slip returns the slip of a proof; nil where no fault stands.
func (p *proof) slip() *slip {
	all := gravestFirst(p.faults)
	if len(all) == 0 {
		return nil
	}
	s := &slip{Says: Count(p.faults) + " " + p.shows(), More: max(0, len(all)-mostFaults)}
	for _, f := range all[:len(all)-s.More] {
		line, caret := f.Quote()
		s.Faults = append(s.Faults, erratum{Head: f.Head(), Line: line, Caret: caret, Wanted: f.Wanted, Try: f.Try})
	}
	return s
}

// gravestFirst returns faults as they are quoted: what stops a press first, then
// in the order of the pages.
func gravestFirst(faults *fault.List) []*fault.Fault {
	all := faults.All()
	slices.SortStableFunc(all, func(x, y *fault.Fault) int { return cmp.Compare(y.Grade, x.Grade) })
	return all
}

// shows says what stands below a slip.
func (p *proof) shows() string {
	switch {
	case !p.stale():
		return "The pages are new: none of this stops a press."
	case p.sheets == nil:
		return "No page can be shown before that is mended."
	}
	return "The pages are those of the last good press."
}

// Count says in a sentence how many faults stand.
func Count(faults *fault.List) string {
	count := map[fault.Grade]int{}
	for _, f := range faults.All() {
		count[f.Grade]++
	}
	var parts []string
	for _, g := range []struct {
		grade     fault.Grade
		one, many string
	}{
		{fault.Stop, "1 fault stops the press", "%d faults stop the press"},
		{fault.Warn, "1 warning stands", "%d warnings stand"}, {fault.Note, "1 note stands", "%d notes stand"},
	} {
		switch n := count[g.grade]; n {
		case 0:
		case 1:
			parts = append(parts, g.one)
		default:
			parts = append(parts, fmt.Sprintf(g.many, n))
		}
	}
	if parts == nil {
		return "No fault stands."
	}
	return strings.Join(parts, "; ") + "."
}
