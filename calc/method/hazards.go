package method

import (
	"bindpost/calc/wording"
)

// hazards are the words that pull cautions in, with the caution of each.
type hazards struct {
	set  *wording.Set
	pull []*Caution
}

func (l *Library) gatherHazards() *hazards {
	h := &hazards{}
	var all []wording.Pattern
	for _, id := range l.Cautions() {
		for _, p := range l.cautions[id].Words {
			all, h.pull = append(all, p), append(h.pull, l.cautions[id])
		}
	}
	h.set = wording.NewSet(all)
	return h
}

// Hazard is where the words of a text pull a caution in.
type Hazard struct {
	Caution  *Caution
	From, To int // places in the text
}

// Hazards finds the words of a text that pull cautions in, in their order.
func (l *Library) Hazards(text []wording.Word) []Hazard {
	var all []Hazard
	for _, m := range l.hazards.set.Find(text) {
		all = append(all, Hazard{l.hazards.pull[m.Pattern], text[m.From].Start, text[m.To-1].End})
	}
	return all
}
