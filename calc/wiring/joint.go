package wiring

// direction: a signal goes from an output to an input.
func (h *Hookup) direction(j int) []Finding {
	joint := h.Joints[j]
	for _, end := range []struct {
		jack int
		runs bool
	}{{joint.From, h.Jacks[joint.From].Out}, {joint.To, h.Jacks[joint.To].In}} {
		if !end.runs {
			return []Finding{{Rule: Direction, Grade: DoNotConnect, Joint: j, At: end.jack}}
		}
	}
	return []Finding{{Rule: Direction, Joint: j}}
}

// twice: no jack has two leads.
func (h *Hookup) twice(j int) []Finding {
	joint := h.Joints[j]
	for i, other := range h.Joints[:j] {
		if other.Lead == joint.Lead && (other.From != joint.From || other.To != joint.To) {
			continue
		}
		for _, jack := range []int{joint.From, joint.To} {
			if jack == other.From || jack == other.To {
				return []Finding{{Rule: Twice, Grade: DoNotConnect, Joint: j, Other: i, At: jack}}
			}
		}
	}
	return nil
}

// sides: left goes to left and right to right; what carries both, or has no
// side, goes to either.
func (h *Hookup) sides(j int) []Finding {
	from, to := h.Jacks[h.Joints[j].From].Side, h.Jacks[h.Joints[j].To].Side
	switch {
	case from == One && to == One:
		return nil
	case from != One && to != One && from != to:
		return []Finding{{Rule: Sides, Grade: DoNotConnect, Joint: j}}
	}
	return []Finding{{Rule: Sides, Joint: j}}
}

// level: the signal that comes is the one that is wanted. What an unpowered
// part turns into another, as a transformer does, is that other.
func (h *Hookup) level(j int) []Finding {
	f := Finding{Rule: Level, Joint: j}
	from, to := h.Jacks[h.Joints[j].From].Is, h.Jacks[h.Joints[j].To].Is
	switch {
	case from == nil || to == nil:
		f.Grade = Doubtful
	case from.Signal == to.Signal:
	case h.leads(j):
	default:
		if _, found := h.Catalogue.Passive(from, to); !found {
			f.Grade = DoNotConnect
		}
	}
	return []Finding{f}
}

// leads reports whether what goes between leads from the one jack to the
// other without power of its own.
func (h *Hookup) leads(j int) bool {
	joint := h.Joints[j]
	from, to := h.Jacks[joint.From].Is, h.Jacks[joint.To].Is
	for _, p := range joint.By {
		if p.Active {
			return false
		}
	}
	return from != nil && to != nil && h.Catalogue.Fit(from, to, joint.By)
}

// ends: what goes between has the plugs for both.
func (h *Hookup) ends(j int) []Finding {
	f := Finding{Rule: Ends, Joint: j}
	switch joint := h.Joints[j]; {
	case h.Jacks[joint.From].Is == nil || h.Jacks[joint.To].Is == nil:
		f.Grade = Doubtful
	case !h.leads(j):
		f.Grade = DoNotConnect
	}
	return []Finding{f}
}

// ohms holds the impedances of a joint to the rule of its signal, where there
// is one.
func (h *Hookup) ohms(j int) []Finding {
	from, to := h.Jacks[h.Joints[j].From], h.Jacks[h.Joints[j].To]
	if from.Is == nil || to.Is == nil {
		return nil // which was told as a level that nobody knows
	}
	f := Finding{Joint: j, Have: to.Ohms.Value, Want: from.Ohms.Value, Known: from.Ohms.Value > 0 && to.Ohms.Value > 0}
	switch signal := to.Is.Signal; {
	case h.isOf(h.Lines, signal) && h.isOf(h.Lines, from.Is.Signal):
		f.Rule = Bridging
		if !f.Known || f.Have < BridgingLeast*f.Want*(1-within) {
			f.Grade = Doubtful
		}
	case h.cartridge(h.Joints[j].To):
		f.Rule = Wanted
		if !f.Known || f.Have < f.Want*(1-within) || f.Have > f.Want*(1+within) {
			f.Grade = Doubtful
		}
	case h.isOf(h.Speakers, signal) && h.isOf(h.Speakers, from.Is.Signal):
		return []Finding{h.load(j)}
	default:
		return nil
	}
	return []Finding{f}
}

// load holds all loudspeakers that hang on one side of an amplifier, side by
// side as if all played at once, against the lowest load that it may be given.
func (h *Hookup) load(j int) Finding {
	f := Finding{Rule: Load, Joint: j, Known: true}
	amplifier := h.Jacks[h.Joints[j].From]
	conductance := 0.0
	for _, other := range h.Joints {
		from, to := h.Jacks[other.From], h.Jacks[other.To]
		if from.Box != amplifier.Box || from.Side != amplifier.Side || from.Is == nil || !h.isOf(h.Speakers, from.Is.Signal) {
			continue
		}
		f.Count++
		f.Want = max(f.Want, from.Least.Value)
		if from.Least.Value <= 0 || to.Ohms.Value <= 0 {
			f.Known = false
			continue
		}
		conductance += 1 / to.Ohms.Value
	}
	if f.Known {
		f.Have = 1 / conductance
	}
	switch {
	case !f.Known:
		f.Grade = Doubtful
	case f.Have < f.Want*(1-within):
		f.Grade = DoNotConnect
	}
	return f
}
