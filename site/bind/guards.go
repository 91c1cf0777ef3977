package bind

import (
	"cmp"
	"slices"
	"strconv"

	"bindpost/site/guide"
)

// Guard is a caution in its place on a page.
type Guard struct {
	*guide.Caution
	Code string // "K3-C2": under the guide's code, in the order of the page
	Part int    // the section before which it stands, from 1; 0 at the head of the guide
}

// setGuards puts the cautions of a leaf before the sections that first call for
// them, the gravest of each place first, and numbers them.
func (l *Leaf) setGuards() {
	sections := l.sections()
	for _, c := range l.Cautions {
		part, _ := slices.BinarySearch(sections, c.Guards+1)
		l.Guards = append(l.Guards, Guard{Caution: c, Part: part})
	}
	slices.SortStableFunc(l.Guards, func(x, y Guard) int { return cmp.Compare(x.Part, y.Part) })
	for i := range l.Guards {
		l.Guards[i].Code = l.Guide.Docket.Code + "-C" + strconv.Itoa(i+1)
	}
}

// sections returns where each section of a guide begins in its text.
func (l *Leaf) sections() []int {
	var starts []int
	for _, h := range l.Heads {
		if h.Section() {
			starts = append(starts, h.at)
		}
	}
	return starts
}

// Section reports whether a section of the page begins at the heading: one in a
// list or a quotation opens none.
func (h Head) Section() bool {
	return h.Level == topLevel && h.top
}
