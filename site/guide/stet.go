package guide

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
	"bindpost/calc/wording"
)

// Stet is what an author lets stand, with the reason: a figure that he typed, or
// words that elsewhere would pull a caution in.
type Stet struct {
	Figure string
	Why    string

	quantity unit.Quantity
	at       fault.Place
	used     bool
	words    bool // it is no figure
}

const stetWord = "stet"

// readStet reads a line of the form: figure, because reason.
func (r *reader) readStet(l line) {
	s := l.rest.String()
	figure, why, found := strings.Cut(s, ", because ")
	if !found || strings.TrimSpace(why) == "" {
		r.faults.Add(fault.At(l.rest, "this does not say why the figure stands").Want("the figure as it is typed, a comma, because, and the reason").
			Fix("stet: 230 V, because the plate says so"))
		return
	}
	if len(r.kit.Library.Hazards(wording.Split(figure))) > 0 {
		r.guide.Stets = append(r.guide.Stets, &Stet{Figure: oneLine(figure), Why: strings.TrimSpace(why), at: l.rest.Sub(0, len(figure)), words: true})
		return
	}
	typed := findFigures(figure)
	if len(typed) != 1 || typed[0].end-typed[0].start != len(figure) || !typed[0].known {
		r.faults.Add(fault.At(l.rest.Sub(0, len(figure)), "%q is no figure with a unit", figure).Want("the figure as it is typed in the guide, such as 230 V"))
		return
	}
	r.guide.Stets = append(r.guide.Stets, &Stet{Figure: figure, Why: strings.TrimSpace(why), quantity: typed[0].q, at: l.rest.Sub(0, len(figure))})
}

// isStet reports whether a typed figure stands on purpose.
func (r *reader) isStet(f typedFigure) bool {
	for _, s := range r.guide.Stets {
		if f.known && !s.words && s.quantity.Unit.Kind() == f.quantity.Unit.Kind() && s.quantity.Value == f.quantity.Value {
			s.used = true
			return true
		}
	}
	return false
}

// tellIdleStets tells of those that let nothing stand.
func (r *reader) tellIdleStets() {
	for _, s := range r.guide.Stets {
		if !s.used {
			r.faults.Add(fault.At(s.at, "%q is typed nowhere in this guide", s.Figure).Fix("take the line out").Graded(fault.Warn))
		}
	}
}
