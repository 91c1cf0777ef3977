package guide

import (
	"bindpost/calc/fault"
	"bindpost/calc/wording"
)

// checkAdvice looks through the words of the guide, and the words that its
// limits print, for advice that no page prints. It is told of once for each
// piece of text and entry of the list.
func (r *reader) checkAdvice(sayings []*saying) {
	for _, s := range sayings {
		told := map[string]bool{}
		for _, a := range r.kit.Library.Forbids(s.adviceWords()) {
			if !told[a.Forbidden.ID] && !r.isListed(s.text.String()) {
				told[a.Forbidden.ID] = true
				r.faults.Add(a.Fault(s.place(r, a.From, a.To)))
			}
		}
	}
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
