package wiring_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/trade"
	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// rig is a hook-up that a test puts together from words.
type rig struct {
	t *testing.T
	*wiring.Hookup
}

// newRig makes a hook-up of boxes, each "name is kind".
func newRig(t *testing.T, boxes ...string) rig {
	t.Helper()
	r := rig{t, trade.ShippedRears().Frame()}
	for _, b := range boxes {
		name, kind, _ := strings.Cut(b, " is ")
		k := trade.ShippedRears().Kind(kind)
		if k == nil {
			t.Fatalf("no kind %q", kind)
		}
		k.Onto(r.Hookup, name)
	}
	return r
}

// jack finds a jack: "amp: phono left", "amp: ground".
func (r rig) jack(name string) int {
	r.t.Helper()
	for i, j := range r.Jacks {
		if name == strings.TrimSpace(j.Box+": "+j.Mark+" "+string(j.Side)) {
			return i
		}
	}
	r.t.Fatalf("no jack %q", name)
	return -1
}

// join joins two jacks by the parts named, or by what the catalogue puts
// between where none is.
func (r rig) join(from, to string, parts ...string) rig {
	r.t.Helper()
	j := wiring.Joint{From: r.jack(from), To: r.jack(to), Lead: len(r.Joints)}
	a, b := r.Jacks[j.From].Is, r.Jacks[j.To].Is
	if len(parts) > 0 {
		by, found := r.Catalogue.Chain(a, b, parts)
		if !found {
			r.t.Fatalf("%v do not lead from %s to %s", parts, from, to)
		}
		j.By = by
	} else if a != nil && b != nil {
		j.By, _ = r.Catalogue.Passive(a, b)
	}
	r.Joints = append(r.Joints, j)
	return r
}

// pair joins both sides.
func (r rig) pair(from, to string, parts ...string) rig {
	r.t.Helper()
	return r.join(from+" left", to+" left", parts...).join(from+" right", to+" right", parts...)
}

// told writes what was found beside "fits", and the worst grade.
func told(findings []wiring.Finding) string {
	var lines []string
	for _, f := range findings {
		if f.Grade != wiring.Fits {
			lines = append(lines, fmt.Sprintf("%d %s %s", f.Joint, f.Rule, f.Grade))
		}
	}
	return strings.Join(append(lines, wiring.Worst(findings).String()), "; ")
}

func ohm(x float64) unit.Quantity { return unit.Quantity{Value: x, Unit: unit.Must("ohm")} }

// TestHookups holds joints to each rule of the trade: the left column is how
// they are joined, the right what must be told.
func TestHookups(t *testing.T) {
	amp, deck, player := "amp is integrated amplifier", "tape is tape deck", "deck is record player"
	for _, c := range []struct {
		name string
		rig  rig
		want string
	}{
		{"a record player on PHONO", newRig(t, player, amp).pair("deck: lead", "amp: phono").join("deck: ground", "amp: ground"), "fits"},
		{"a record player with sockets", newRig(t, "deck is record player with sockets", amp).pair("deck: out", "amp: phono"), "fits"},
		{"the same on a line input", newRig(t, "deck is record player with sockets", amp).join("deck: out left", "amp: aux left"), "0 stages do not connect; do not connect"},
		{"no stage", newRig(t, player, amp).join("deck: lead left", "amp: aux left"), "0 stages do not connect; do not connect"},
		{"two stages, one in the player", newRig(t, "deck is record player with preamplifier", amp).join("deck: lead left", "amp: phono left"), "0 stages do not connect; do not connect"},
		{"the player's own stage", newRig(t, "deck is record player with preamplifier", amp).pair("deck: lead", "amp: aux"), "fits"},
		{"a stage of its own between", newRig(t, player, "pre is phono preamplifier", amp).pair("deck: lead", "pre: in").pair("pre: out", "amp: aux"), "fits"},
		{"two stages, one of its own", newRig(t, player, "pre is phono preamplifier", amp).pair("deck: lead", "pre: in").join("pre: out left", "amp: phono left"), "2 stages do not connect; do not connect"},
		{"a stage two boxes before", newRig(t, player, "pre is phono preamplifier", deck, amp).pair("deck: lead", "pre: in").pair("pre: out", "tape: in").join("tape: out left", "amp: phono left"), "4 stages do not connect; do not connect"},
		{"a line output on PHONO", newRig(t, "cd is CD player", amp).join("cd: out left", "amp: phono left"), "0 level do not connect; do not connect"},
		{"a ceramic cartridge on PHONO", newRig(t, "deck is ceramic record player", amp).join("deck: lead left", "amp: phono left"), "0 level do not connect; do not connect"},
		{"a moving coil on PHONO by a step-up transformer", newRig(t, "deck is moving-coil record player", amp).pair("deck: lead", "amp: phono", "step-up transformer"), "0 wanted doubtful; 1 wanted doubtful; doubtful"},
		{"speakers on a line output", newRig(t, amp, "box is loudspeakers").join("amp: rec out left", "box: terminals left"), "0 level do not connect; do not connect"},
		{"a digital output on a line input", newRig(t, "cd is CD player", amp).join("cd: coaxial", "amp: aux left"), "0 level do not connect; do not connect"},
		{"coaxial to optical", newRig(t, "cd is CD player", "dac is converter").join("cd: coaxial", "dac: optical"), "0 level do not connect; do not connect"},
		{"a converter between", newRig(t, "cd is CD player", "dac is converter", amp).join("cd: coaxial", "dac: coaxial").pair("dac: out", "amp: aux"), "fits"},
		{"a telephone by its headphone socket", newRig(t, "tel is telephone", amp).join("tel: headphones", "amp: aux left"), "fits"},
		{"left into right", newRig(t, "cd is CD player", amp).join("cd: out left", "amp: aux right"), "0 sides do not connect; do not connect"},
		{"an input used twice", newRig(t, "cd is CD player", "radio is tuner", amp).join("cd: out left", "amp: aux left").join("radio: out left", "amp: aux left"), "1 twice do not connect; do not connect"},
		{"an output used twice", newRig(t, "cd is CD player", amp).join("cd: out left", "amp: aux left").join("cd: out left", "amp: tuner left"), "1 twice do not connect; do not connect"},
		{"an output into an output", newRig(t, "cd is CD player", amp).join("cd: out left", "amp: rec out left"), "0 direction do not connect; do not connect"},
		{"an input as the source", newRig(t, "cd is CD player", amp).join("amp: aux left", "amp: cd left"), "0 direction do not connect; do not connect"},
		{"a deck on its loop", newRig(t, amp, deck).pair("amp: rec out", "tape: in").pair("tape: out", "amp: tape play"), "fits"},
		{"a deck that hears itself", newRig(t, amp, deck).join("amp: rec out left", "tape: in left").join("tape: out left", "amp: aux left"), "1 howl do not connect; do not connect"},
		{"a deck into itself", newRig(t, deck).join("tape: out left", "tape: in left"), "0 howl do not connect; do not connect"},
		{"a loop over three boxes", newRig(t, "a is tape deck", "b is tape deck", "c is processor").join("a: out left", "b: in left").join("b: out left", "c: in left").join("c: out left", "a: in left"), "2 howl do not connect; do not connect"},
		{"a processor on the loop and a deck behind it", newRig(t, amp, deck, "eq is processor").join("amp: rec out left", "eq: in left").join("eq: out left", "tape: in left").join("tape: out left", "amp: tape play left"), "fits"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := told(c.rig.Check()); got != c.want {
				t.Errorf("told %q, wanted %q", got, c.want)
			}
		})
	}
}

// TestOhms holds the rules that compare impedances, with what is not known.
func TestOhms(t *testing.T) {
	line := func(out, in float64) rig {
		r := newRig(t, "cd is CD player", "amp is integrated amplifier").join("cd: out left", "amp: aux left")
		r.Jacks[r.jack("cd: out left")].Ohms, r.Jacks[r.jack("amp: aux left")].Ohms = ohm(out), ohm(in)
		return r
	}
	speakers := func(least float64, ohms ...float64) rig {
		names := []string{"amp is integrated amplifier"}
		for i := range ohms {
			names = append(names, fmt.Sprintf("box%d is loudspeakers", i))
		}
		r := newRig(t, names...)
		for i, o := range ohms {
			from := r.jack("amp: speakers left")
			if i > 0 { // a second set of terminals, as of a switch for two pairs
				r.Jacks = append(r.Jacks, r.Jacks[from])
				from = len(r.Jacks) - 1
				r.Jacks[from].Mark = "more"
			}
			r.Jacks[from].Least = ohm(least)
			to := r.jack(fmt.Sprintf("box%d: terminals left", i))
			r.Jacks[to].Ohms = ohm(o)
			by, _ := r.Catalogue.Passive(r.Jacks[from].Is, r.Jacks[to].Is)
			r.Joints = append(r.Joints, wiring.Joint{From: from, To: to, Lead: i, By: by})
		}
		return r
	}
	for _, c := range []struct {
		name string
		rig  rig
		want string
	}{
		{"ten times", line(1000, 10000), "fits"},
		{"a hair below ten times", line(1000, 9999), "0 bridging doubtful; doubtful"},
		{"an input that nobody knows", line(1000, 0), "0 bridging doubtful; doubtful"},
		{"an output that nobody knows", line(0, 47000), "0 bridging doubtful; doubtful"},
		{"8 ohm on an amplifier for 4 and more", speakers(4, 8), "fits"},
		{"4 ohm on an amplifier for 4 and more", speakers(4, 4), "fits"},
		{"4 ohm on an amplifier for 8 and more", speakers(8, 4), "0 load do not connect; do not connect"},
		{"8 and 8 ohm side by side on one for 4", speakers(4, 8, 8), "fits"},
		{"8 and 6 ohm side by side on one for 4, 3.4 ohm", speakers(4, 8, 6), "0 load do not connect; 1 load do not connect; do not connect"},
		{"a speaker that nobody knows", speakers(4, 0), "0 load doubtful; doubtful"},
		{"an amplifier whose lowest nobody knows", speakers(0, 8), "0 load doubtful; doubtful"},
		{"one known and one not", speakers(4, 8, 0), "0 load doubtful; 1 load doubtful; doubtful"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := told(c.rig.Check()); got != c.want {
				t.Errorf("told %q, wanted %q", got, c.want)
			}
		})
	}
	t.Run("a socket that nobody knows never fits", func(t *testing.T) {
		r := newRig(t, "deck is record player", "amp is integrated amplifier").join("deck: lead left", "amp: phono left")
		r.Jacks[r.jack("amp: phono left")].Is = nil
		if got := told(r.Check()); got != "0 stages doubtful; 0 level doubtful; 0 ends doubtful; doubtful" {
			t.Error(got)
		}
	})
	t.Run("a lead that fits at one end only", func(t *testing.T) {
		r := newRig(t, "cd is CD player", "amp is integrated amplifier").join("cd: out left", "amp: aux left")
		r.Joints[0].By = nil
		if got := told(r.Check()); got != "0 ends do not connect; do not connect" {
			t.Error(got)
		}
	})
}

// TestAcceptedHookups draws joints at random and holds what is accepted, and
// what is not, to rules that are written here anew: no search, no counting in
// rounds, nothing that the program's own check rests on.
func TestAcceptedHookups(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 8))
	kinds := trade.ShippedRears().KindNames()
	accepted := 0
	for range 12000 {
		var boxes []string
		for i := range 2 + random.IntN(3) {
			boxes = append(boxes, fmt.Sprintf("b%d is %s", i, kinds[random.IntN(len(kinds))]))
		}
		r := newRig(t, boxes...)
		for i := range 1 + random.IntN(4) {
			j := wiring.Joint{From: random.IntN(len(r.Jacks)), To: random.IntN(len(r.Jacks)), Lead: i}
			for range 60 { // mostly joints that may pass, so that both answers are common
				if a, b := r.Jacks[j.From], r.Jacks[j.To]; a.Out && b.In && a.Side == b.Side && a.Box != b.Box && a.Is.Family == b.Is.Family {
					break
				}
				j.From, j.To = random.IntN(len(r.Jacks)), random.IntN(len(r.Jacks))
			}
			j.By, _ = r.Catalogue.Passive(r.Jacks[j.From].Is, r.Jacks[j.To].Is)
			r.Joints = append(r.Joints, j)
		}
		found := r.Check()
		wrong := breaks(r)
		if refused := wiring.Worst(found) == wiring.DoNotConnect; refused != (wrong != "") {
			t.Fatalf("%v\n%v\ntold %s; by the rules written anew: %q", boxes, describe(r), told(found), wrong)
		}
		if wrong == "" {
			accepted++
		}
	}
	if accepted < 1000 || accepted > 10000 {
		t.Errorf("%d of 12000 were accepted: the draw shows too little of one side", accepted)
	}
}

func describe(r rig) (lines []string) {
	for _, j := range r.Joints {
		a, b := r.Jacks[j.From], r.Jacks[j.To]
		lines = append(lines, fmt.Sprintf("%s %s %s to %s %s %s", a.Box, a.Mark, a.Side, b.Box, b.Mark, b.Side))
	}
	return lines
}

// breaks names a rule that the joints of a rig break, "" where there is none.
func breaks(r rig) string {
	used := map[int]int{}
	for i, j := range r.Joints {
		a, b := r.Jacks[j.From], r.Jacks[j.To]
		if !a.Out || !b.In {
			return "direction"
		}
		if a.Side != "" && b.Side != "" && a.Side != b.Side {
			return "sides"
		}
		used[j.From]++
		if used[j.To]++; used[j.From] > 1 || used[j.To] > 1 {
			return "twice"
		}
		way, found := r.Catalogue.Find(a.Is.Name, b.Is.Name)
		if !found || way.Active {
			return fmt.Sprintf("level or connector at %d", i)
		}
	}
	// Every way of the signal, walked to its end from every jack.
	next := map[int][]int{}
	for _, j := range r.Joints {
		next[j.From] = append(next[j.From], j.To)
	}
	for _, p := range r.Passes {
		next[p.From] = append(next[p.From], p.To)
	}
	problem := ""
	var walk func(at int, path []int)
	walk = func(at int, path []int) {
		if slices.Contains(path, at) {
			problem = "howl"
			return
		}
		path = append(slices.Clone(path), at)
		if p := walked(r, path); p != "" {
			problem = p
		}
		for _, n := range next[at] {
			walk(n, path)
		}
	}
	for i := range r.Jacks {
		walk(i, nil)
	}
	return problem
}

// walked holds one way of the signal to the rule of the phono stage.
func walked(r rig, path []int) string {
	is := func(i int) bool {
		return slices.Contains([]string{"moving magnet", "moving coil", "ceramic"}, r.Jacks[path[i]].Is.Signal)
	}
	first := r.Jacks[path[0]]
	if !is(0) && first.Stages == 0 || !first.Out || first.In {
		return ""
	}
	for _, p := range r.Passes {
		if p.To == path[0] {
			return "" // its signal came from elsewhere
		}
	}
	stages := first.Stages
	for i := 1; i < len(path); i++ {
		if r.Jacks[path[i]].In && r.Jacks[path[i-1]].Out && r.Jacks[path[i]].Box == r.Jacks[path[i-1]].Box {
			continue
		}
		inside := r.Jacks[path[i]].Box == r.Jacks[path[i-1]].Box
		switch {
		case inside && is(i-1) && !is(i):
			stages++
		case !inside && !is(i) && stages != 1, !inside && is(i) && stages != 0:
			return "stages"
		}
	}
	return ""
}
