package trade

import (
	"cmp"
	"math"
	"slices"

	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// mostModes is how many standing waves of a room are listed at most: above
// some hundreds a list helps nobody.
const mostModes = 400

// roomMode is one standing wave of a room: its half waves along, across and
// upright, and its frequency in hertz.
type roomMode struct {
	halves    [3]int
	frequency float64
}

// kindsOfModes are the words for a wave by how many ways it runs in.
var kindsOfModes = []string{"axial", "tangential", "oblique"}

// kind is the word for the wave.
func (m roomMode) kind() string {
	ways := 0
	for _, n := range m.halves {
		if n > 0 {
			ways++
		}
	}
	return kindsOfModes[ways-1]
}

// modesBelow lists the standing waves up to a frequency in hertz, lowest
// first, each worked by rule, which takes the half waves. It is false where
// there are more than mostModes, or where the rule gives no number. sides are
// the room's length, width and height in metres, speed that of sound in
// metres a second: they say how far to look.
func modesBelow(limit, speed float64, sides [3]float64, rule func(halves [3]int) formula.Value) ([]roomMode, bool) {
	var most [3]int
	for i, side := range sides {
		most[i] = int(math.Floor(2*limit*side/speed + 1e-9))
	}
	if (most[0]+1)*(most[1]+1)*(most[2]+1) > 40*mostModes {
		return nil, false
	}
	var all []roomMode
	for along := range most[0] + 1 {
		for across := range most[1] + 1 {
			for upright := range most[2] + 1 {
				m := roomMode{halves: [3]int{along, across, upright}}
				if along+across+upright == 0 {
					continue
				}
				v := rule(m.halves)
				if v.State != formula.Known {
					return nil, false
				}
				if m.frequency = v.Number; m.frequency <= limit*(1+1e-12) {
					all = append(all, m)
				}
			}
		}
	}
	slices.SortFunc(all, func(a, b roomMode) int {
		return cmp.Or(cmp.Compare(a.frequency, b.frequency), slices.Compare(b.halves[:], a.halves[:]))
	})
	return all, len(all) <= mostModes
}

// halvesAsPoints are the half waves as the values that room-mode takes.
func halvesAsPoints(v method.Values, halves [3]int) method.Values {
	for i, name := range []string{"half_waves_along", "half_waves_across", "half_waves_upright"} {
		v = v.With(name, method.Point{Value: formula.Quantity(float64(halves[i]))})
	}
	return v
}
