package guide

import (
	"slices"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/wording"
)

// wordRooms are rooms for the words of a piece of text, from guide to guide.
var wordRooms = sync.Pool{New: func() any { return new([]wording.Word) }}

// checkSaid looks through the words of the guide, and those that its limits
// print, for dangers whose caution it does not carry and for advice that no page
// prints.
func (r *reader) checkSaid(sayings []*saying) {
	told := map[string]bool{}
	room := wordRooms.Get().(*[]wording.Word)
	defer wordRooms.Put(room)
	words := *room
	for _, s := range sayings {
		text := s.advice()
		words = wording.AppendWords(words[:0], text)
		hazards, advice := r.kit.Library.Said(words)
		r.checkHazards(s, text, hazards, told)
		r.checkAdvice(s, advice)
	}
	*room = words[:0]
	r.checkLimitWords()
}

// checkAdvice tells of the advice in a piece of text that no page prints, once
// for each entry of the list.
func (r *reader) checkAdvice(s *saying, advice []method.Advice) {
	var told []*method.Forbidden
	for _, a := range advice {
		if !slices.Contains(told, a.Forbidden) && !r.isListed(s.text.String()) {
			told = append(told, a.Forbidden)
			r.faults.Add(a.Fault(s.place(r, a.From, a.To)))
		}
	}
}

// checkLimitWords looks through the words that limits print.
func (r *reader) checkLimitWords() {
	for _, t := range r.guide.Tables {
		for _, l := range t.Limits {
			for _, a := range r.kit.Library.Forbids(wording.Split(l.Beyond)) {
				r.faults.Add(a.Fault(l.Place))
				break
			}
		}
	}
}

// checkQuestion looks through the question over a decision, which is printed
// and stands in no paragraph of the guide.
func (r *reader) checkQuestion(p fault.Place) {
	s := &saying{}
	s.sayPlain(p, r)
	for _, a := range r.kit.Library.Forbids(wording.Split(s.text.String())) {
		r.faults.Add(a.Fault(s.place(r, a.From, a.To)))
		return
	}
}
