package wiring

import "strconv"

// stages: exactly one phono stage lies between a cartridge and what hears it.
// With none it is too quiet, with two it is overloaded. It touches joints behind
// a cartridge alone.
func (h *Hookup) stages(j int, reached []arrival) []Finding {
	joint := h.Joints[j]
	came := reached[joint.From]
	if !came.behind {
		return nil
	}
	f := Finding{Rule: Stages, Joint: j, Count: came.most}
	from, to := h.Jacks[joint.From].Is, h.Jacks[joint.To].Is
	switch wants := h.cartridge(joint.To); {
	case wants && came.most > 0:
		f.Count, f.Grade = came.most+1, DoNotConnect
	case wants: // its stage comes behind it
		f.Count = 1
	case came.fewest == 0 && from != nil && !h.cartridge(joint.From), came.most > 1:
		return nil // which was told where it went wrong, at a joint before this one
	case came.fewest == 0:
		if f.Count, f.Grade = 0, DoNotConnect; to == nil {
			f.Grade = Doubtful
		}
	}
	return []Finding{f}
}

// arrival is how many phono stages a signal has passed where it leaves or comes
// to a jack: the fewest and the most over the ways by which one from a
// cartridge comes there.
type arrival struct {
	behind       bool // a signal from a cartridge comes there
	fewest, most int
}

// mostStages is where counting ends: two are too many already.
const mostStages = 2

// arrivals follows the signal of every cartridge through boxes and joints. It
// goes on until nothing changes: the fewest only fall, the most only rise, and
// neither leaves 0 to 2, so that it ends though there be loops.
func (h *Hookup) arrivals() []arrival {
	reached := make([]arrival, len(h.Jacks))
	fed := map[int]bool{}
	for _, p := range h.Passes {
		fed[p.To] = true
	}
	for i, jack := range h.Jacks {
		if jack.Out && !fed[i] && (h.cartridge(i) || jack.Stages > 0) {
			reached[i] = arrival{true, jack.Stages, jack.Stages}
		}
	}
	for changed := true; changed; {
		changed = false
		for _, p := range h.Passes {
			own := 0
			if h.cartridge(p.From) && !h.cartridge(p.To) {
				own = 1
			}
			changed = reached[p.To].take(reached[p.From], own) || changed
		}
		for _, joint := range h.Joints {
			changed = reached[joint.To].take(reached[joint.From], 0) || changed
		}
	}
	return reached
}

// take adds what arrives from another jack by so many stages more, and
// reports whether that is new.
func (a *arrival) take(from arrival, own int) bool {
	if !from.behind {
		return false
	}
	before := *a
	few, many := min(from.fewest+own, mostStages), min(from.most+own, mostStages)
	if !a.behind || few < a.fewest {
		a.fewest = few
	}
	a.most, a.behind = max(a.most, many), true
	return *a != before
}

// howl: no joint closes a loop by which a signal comes back to where it began.
// Joints are taken in their order, so that the one that closes the loop is told.
func (h *Hookup) howl(j int) []Finding {
	var leads []Lead
	for _, p := range h.Passes {
		leads = append(leads, Lead{strconv.Itoa(p.From), strconv.Itoa(p.To)})
	}
	for _, before := range h.Joints[:j] {
		leads = append(leads, Lead{strconv.Itoa(before.From), strconv.Itoa(before.To)})
	}
	joint := h.Joints[j]
	if joint.From == joint.To || Reaches(leads, strconv.Itoa(joint.To), strconv.Itoa(joint.From)) {
		return []Finding{{Rule: Howl, Grade: DoNotConnect, Joint: j}}
	}
	if h.BothWays(joint) {
		return []Finding{{Rule: Howl, Joint: j}}
	}
	return nil
}

// BothWays reports whether the boxes of a joint are also joined the other way,
// straight or by way of others: a loop is then near, though what lies inside the
// boxes may keep it open.
func (h *Hookup) BothWays(joint Joint) bool {
	var leads []Lead
	for _, other := range h.Joints {
		leads = append(leads, Lead{h.Jacks[other.From].Box, h.Jacks[other.To].Box})
	}
	return Reaches(leads, h.Jacks[joint.To].Box, h.Jacks[joint.From].Box)
}
