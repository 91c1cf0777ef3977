package method

import (
	"slices"

	"bindpost/calc/fault"
	"bindpost/calc/wording"
)

// Uncautioned tells of each caution that a method calls for and does not name:
// by the unit of what it gives, or by the words of its question.
func (l *Library) Uncautioned(s *Sheet) *fault.List {
	faults := &fault.List{}
	told := slices.Clone(s.Cautions)
	lacks := func(c *Caution, at fault.Place, what string) {
		if !slices.Contains(told, c.ID) {
			told = append(told, c.ID)
			faults.Add(fault.At(at, "%s speaks of a danger, and the method does not name the caution of it", what).
				Want("the caution %q, with the condition under which it holds where it does not always", c.ID).
				Fix("cautions: [%s]", c.ID))
		}
	}
	for _, r := range s.Gives {
		for _, id := range l.Cautions() {
			if c := l.cautions[id]; c.Unless != r.Sense || r.Sense == "" {
				for _, u := range c.Units {
					if r.Words == nil && u.Symbol() == r.Unit.Symbol() {
						lacks(c, r.Place, "\""+r.Name+"\", in "+u.Symbol()+",")
					}
				}
			}
		}
	}
	for _, h := range l.Hazards(wording.Split(s.Asks)) {
		lacks(h.Caution, s.Place, "\""+s.Asks[h.From:h.To]+"\"")
	}
	return faults
}
