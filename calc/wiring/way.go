package wiring

import (
	"cmp"
	"slices"
	"strings"
)

// What a part costs in the search: an active part, with a mains lead and a
// noise of its own, as much as ten passive ones.
const (
	passiveCost = 1
	activeCost  = 10
)

// Way is the shortest way from one connector to another.
type Way struct {
	Parts  []*Part // in order; none where the two go straight together or are one
	Cost   int     // 1 for each passive part, 10 for each active one
	Active bool    // it needs at least one active part
}

// cost returns what a part costs.
func (p *Part) cost() int {
	if p.Active {
		return activeCost
	}
	return passiveCost
}

// Find returns the way of least cost between two connectors, named. It is not
// found where a name is no connector's, and where no parts lead there. From a
// connector to itself, and between two that mate, the way has no part. Of
// ways that cost the same it takes, step by step, the part whose name comes
// first, and of several of one name the one whose far end comes first: the
// order of the catalogue does not matter.
func (c *Catalogue) Find(from, to string) (way Way, found bool) {
	if c.Connector(from) == nil || c.Connector(to) == nil {
		return Way{}, false
	}
	left := c.distances(to)
	if _, reached := left[from]; !reached {
		return Way{}, false
	}
	way.Cost = left[from]
	for at := from; left[at] > 0; {
		p := c.step(at, left)
		way.Parts = append(way.Parts, p)
		way.Active = way.Active || p.Active
		at = p.To
	}
	return way, true
}

// distances returns what is left to pay from each connector that leads to the
// end. Costs are small whole numbers, so that rounds over all parts until
// nothing changes are quick enough and need no queue.
func (c *Catalogue) distances(to string) map[string]int {
	left := map[string]int{to: 0}
	for _, m := range c.Matings {
		if m.To == to {
			left[m.From] = 0
		}
	}
	for changed := true; changed; {
		changed = false
		for _, p := range c.Parts {
			rest, reached := left[p.To]
			if !reached {
				continue
			}
			if known, ok := left[p.From]; !ok || rest+p.cost() < known {
				left[p.From], changed = rest+p.cost(), true
			}
		}
	}
	return left
}

// step returns the part with which a shortest way goes on: the first by name,
// and of several of one name the one whose far end comes first.
func (c *Catalogue) step(at string, left map[string]int) *Part {
	var on []*Part
	for _, p := range c.Parts {
		if rest, reached := left[p.To]; reached && p.From == at && rest+p.cost() == left[at] {
			on = append(on, p)
		}
	}
	return slices.MinFunc(on, func(a, b *Part) int {
		return cmp.Or(strings.Compare(a.Name, b.Name), strings.Compare(a.To, b.To))
	})
}
