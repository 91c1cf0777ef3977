package method

import (
	"bindpost/calc/wording"
)

// said is what is looked for in texts, in one go: the words that pull cautions
// in, and the wordings of advice that is never printed.
type said struct {
	set   *wording.Set
	pull  []*Caution   // of its first wordings, the caution that each pulls in
	never []*Forbidden // of the others, the entry of each
}

func (l *Library) gatherSaid() *said {
	s := &said{}
	var all []wording.Pattern
	for _, id := range l.Cautions() {
		for _, p := range l.cautions[id].Words {
			all, s.pull = append(all, p), append(s.pull, l.cautions[id])
		}
	}
	for _, id := range sortedKeys(l.never) {
		for _, p := range l.never[id].Wordings {
			all, s.never = append(all, p), append(s.never, l.never[id])
		}
	}
	s.set = wording.NewSet(all)
	return s
}

// Hazard is where the words of a text pull a caution in.
type Hazard struct {
	Caution  *Caution
	From, To int // places in the text
}

// Said finds the words of a text that pull cautions in, and the advice in it
// that is never printed, each in the order of the text. A text that only warns
// against such advice is found as well: the words stand under the mark or
// nowhere, so that nobody reads half a sentence.
func (l *Library) Said(text []wording.Word) (hazards []Hazard, advice []Advice) {
	for _, m := range l.said.set.Find(text) {
		from, to := text[m.From].Start, text[m.To-1].End
		if n := m.Pattern - len(l.said.pull); n >= 0 {
			advice = append(advice, Advice{l.said.never[n], from, to})
		} else {
			hazards = append(hazards, Hazard{l.said.pull[m.Pattern], from, to})
		}
	}
	return hazards, advice
}

// Hazards finds the words of a text that pull cautions in, in their order.
func (l *Library) Hazards(text []wording.Word) []Hazard {
	hazards, _ := l.Said(text)
	return hazards
}
