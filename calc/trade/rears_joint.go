package trade

import (
	"slices"

	"bindpost/calc/record"
	"bindpost/calc/wiring"
)

// joined returns the entries of the catalogue that a joint uses.
func (r *Rears) joined(h *wiring.Hookup, j wiring.Joint) []named {
	all := []named{r.always}
	from, to := h.Jacks[j.From].Is, h.Jacks[j.To].Is
	if from != nil {
		all = append(all, r.connector[from])
	}
	for _, p := range j.By {
		all = append(all, r.part[p])
	}
	if to != nil {
		all = append(all, r.connector[to])
	}
	return all
}

// Cautions returns the cautions that a joint brings, by name, each once: those
// of the catalogue, and those of a phono input, a ground wire, headphones and
// boxes that are joined both ways.
func (r *Rears) Cautions(h *wiring.Hookup, j wiring.Joint) []string {
	ids := textsOf(r.joined(h, j), func(n named) []*record.Node { return n.cautions })
	add := func(key string) {
		if id := r.cautions[key]; id != "" && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	add("always")
	if to := h.Jacks[j.To].Is; to != nil {
		switch {
		case slices.Contains(h.Cartridges, to.Signal):
			add("phono")
		case to.Signal == "ground":
			add("ground")
		case to.Signal == "headphone":
			add("headphone")
		}
	}
	if h.BothWays(j) {
		add("loop")
	}
	return ids
}

// References returns the references that a joint rests on, by name, each once,
// by the rules to which it was held.
func (r *Rears) References(h *wiring.Hookup, j wiring.Joint, rules []wiring.Rule) []string {
	ids := textsOf(r.joined(h, j), func(n named) []*record.Node { return n.references })
	for rule, key := range map[wiring.Rule]string{
		wiring.Stages: "levels", wiring.Level: "levels", wiring.Bridging: "bridging", wiring.Howl: "loops",
	} {
		if id := r.references[key]; id != "" && slices.Contains(rules, rule) && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// UsualReference names the reference of ohms that nobody typed, and
// RearsReference that of the kinds of boxes.
func (r *Rears) UsualReference() string { return r.references["ohms"] }

// RearsReference names the reference of the kinds of boxes.
func (r *Rears) RearsReference() string { return r.references["rears"] }

// textsOf returns the names under one heading of entries, each once.
func textsOf(entries []named, of func(named) []*record.Node) []string {
	var ids []string
	for _, e := range entries {
		for _, n := range of(e) {
			if !slices.Contains(ids, n.Text) {
				ids = append(ids, n.Text)
			}
		}
	}
	return ids
}

// Onto puts a box of the kind into a hook-up, under its own name: a jack for
// each side of each socket, and the ways inside it, left to left and right to
// right.
func (k *Kind) Onto(h *wiring.Hookup, box string) {
	jacks := map[string][]int{}
	for _, s := range k.Sockets {
		sides := []wiring.Side{wiring.One}
		if s.Pair {
			sides = []wiring.Side{wiring.Left, wiring.Right}
		}
		for _, side := range sides {
			jacks[s.Name] = append(jacks[s.Name], len(h.Jacks))
			h.Jacks = append(h.Jacks, wiring.Jack{
				Box: box, Mark: s.Name, Side: side, Is: s.Is, Out: s.Out, In: s.In, Ohms: s.Ohms, Least: s.Least, Stages: s.Stages,
			})
		}
	}
	for _, way := range k.Sends {
		for _, from := range jacks[way[0]] {
			for _, to := range jacks[way[1]] {
				a, b := h.Jacks[from].Side, h.Jacks[to].Side
				if a == b || a == wiring.One || b == wiring.One {
					h.Passes = append(h.Passes, wiring.Pass{From: from, To: to})
				}
			}
		}
	}
}

// OneChannel reports whether a socket that is no pair carries one channel only.
func (r *Rears) OneChannel(s *Rear) bool {
	return s.Is != nil && !s.Pair && slices.Contains(r.oneChannel, s.Is.Family)
}

// Splits reports whether a part gives what one socket has to two.
func (r *Rears) Splits(name string) bool { return slices.Contains(r.partedBy, name) }

// PartedBy returns the lead that gives what comes out of one connector to two
// others. It is not found where the catalogue has none.
func (r *Rears) PartedBy(from, to *wiring.Connector) (parts []*wiring.Part, found bool) {
	for _, name := range r.partedBy {
		if parts, found = r.Chain(from, to, []string{name}); found {
			return parts, true
		}
	}
	return nil, false
}
