package wiring

import "fmt"

// Grade is how a joint stands to a rule, best first: the worst wins.
type Grade uint8

// The grades. What is not known is doubtful, and never fits.
const (
	Fits Grade = iota
	Doubtful
	AskFirst
	DoNotConnect
)

// String returns the words of the grade.
func (g Grade) String() string {
	switch g {
	case Fits:
		return "fits"
	case Doubtful:
		return "doubtful"
	case AskFirst:
		return "ask first"
	case DoNotConnect:
		return "do not connect"
	}
	return fmt.Sprintf("grade %d", uint8(g))
}

// Rule is one rule to which a joint is held.
type Rule string

// The rules, in the order in which they are told.
const (
	Direction Rule = "direction" // from an output to an input
	Twice     Rule = "twice"     // one lead to a socket
	Sides     Rule = "sides"     // left to left, right to right
	Stages    Rule = "stages"    // exactly one phono stage behind a cartridge
	Level     Rule = "level"     // the same signal at both ends
	Ends      Rule = "ends"      // plugs and sockets that go together
	Bridging  Rule = "bridging"  // a line input of far higher impedance than its output
	Wanted    Rule = "wanted"    // the load that a cartridge wants
	Load      Rule = "load"      // no load below the amplifier's lowest
	Howl      Rule = "howl"      // no way back to where the signal began
)

// Finding is how one joint stands to one rule. A rule that does not touch a
// joint has no finding for it.
type Finding struct {
	Rule  Rule
	Grade Grade
	Joint int
	Other int     // under Twice, the joint that has the socket already
	At    int     // under Twice and Direction, the jack that it is about
	Count int     // under Stages, how many there are; under Load, how many loudspeakers side by side
	Have  float64 // under Bridging, Wanted and Load, in ohms: what stands there
	Want  float64 // and what it is held against
	Known bool    // both are known
}

// BridgingLeast is how many times the output impedance a line input must at
// least have: common practice.
const BridgingLeast = 10

// within is how far two impedances may differ and still be one: the eighth
// figure of a typed number.
const within = 1e-9

// Check holds every joint to every rule that touches it, and returns what was
// compared, in the order of the joints and then of the rules. Where a rule is
// broken that makes others pointless, these are left out: between two outputs no
// level is compared.
func (h *Hookup) Check() []Finding {
	var all []Finding
	reached := h.arrivals()
	for j := range h.Joints {
		before := len(all)
		all = append(all, h.direction(j)...)
		all = append(all, h.twice(j)...)
		if broken(all[before:], Direction) {
			continue
		}
		all = append(all, h.sides(j)...)
		all = append(all, h.stages(j, reached)...)
		if !broken(all[before:], Stages) {
			all = append(all, h.level(j)...)
		}
		if !broken(all[before:], Stages) && !broken(all[before:], Level) {
			all = append(all, h.ends(j)...)
			all = append(all, h.ohms(j)...)
		}
		all = append(all, h.howl(j)...)
	}
	return all
}

// broken reports whether one of the findings says that a rule is broken.
func broken(findings []Finding, r Rule) bool {
	for _, f := range findings {
		if f.Rule == r && f.Grade == DoNotConnect {
			return true
		}
	}
	return false
}

// Worst returns the worst grade of findings: fits where there are none.
func Worst(findings []Finding) Grade {
	worst := Fits
	for _, f := range findings {
		worst = max(worst, f.Grade)
	}
	return worst
}
