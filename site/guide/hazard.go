package guide

import (
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// A guide that speaks of a danger must carry its caution: where the words of one
// pull it in and neither a method nor the docket brings it, the press stops.

// checkHazards sees that the guide carries the cautions which the words of one
// piece of text pull in. A caution is told of once, at the first.
func (r *reader) checkHazards(s *saying, text string, hazards []method.Hazard, told map[string]bool) {
	for _, h := range hazards {
		if told[h.Caution.ID] || r.isListed(text) || r.isStetWord(text[h.From:h.To]) {
			continue
		}
		if slices.Contains(r.cautions, h.Caution) {
			r.warn(h.Caution, s.place(r, h.From, h.To).Start)
			continue
		}
		told[h.Caution.ID] = true
		r.faults.Add(fault.At(s.place(r, h.From, h.To), "%q speaks of a danger, and this guide does not carry the warning of it", oneLine(text[h.From:h.To])).
			Want("the caution %q", h.Caution.ID).
			Fix("%s: %s in the docket; or, where the words mean something else, stet: %s, because …",
				cautionsWord, strings.Join(append(r.docketCautions(), h.Caution.ID), ", "), oneLine(text[h.From:h.To])))
	}
}

// isListed reports whether a text is, word for word, what the library calls one
// of its own. A list of them warns of nothing and advises nothing.
func (r *reader) isListed(text string) bool { return r.kit.Library.Lists(text) }

// docketCautions returns the cautions that the docket names already.
func (r *reader) docketCautions() []string {
	var all []string
	if p, ok := r.guide.Docket.Places[cautionsWord]; ok {
		for _, one := range parted(p) {
			all = append(all, one.String())
		}
	}
	return all
}

// oneLine is a text as it reads when its line ends are spaces.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// isStetWord reports whether words that pull a caution in stand for something
// else, as the docket says.
func (r *reader) isStetWord(words string) bool {
	for _, s := range r.guide.Stets {
		if s.words && strings.EqualFold(s.Figure, oneLine(words)) {
			s.used = true
			return true
		}
	}
	return false
}
