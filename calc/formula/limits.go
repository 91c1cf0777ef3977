package formula

import "bindpost/calc/fault"

// What a formula may be at most. They hold inside the parser, before any
// recursion, so that hostile text ends in a fault and not in a full stack.
const (
	mostBytes = 4096 // of one text
	mostDepth = 64   // brackets, signs and `not` within one another
	mostNodes = 2000 // pieces, with own functions written out
	mostTold  = 10   // faults told of one text
)

// tooLong returns the fault of a text beyond the limit, at the first place
// beyond it, and nil for one within.
func tooLong(p fault.Place) *fault.Fault {
	if p.End-p.Start <= mostBytes {
		return nil
	}
	return fault.At(p.Sub(mostBytes, mostBytes+1), "a formula of %d characters is too long to be read", p.End-p.Start).
		Want("at most %d", mostBytes).Fix("split it into steps of its own")
}

// clip shortens a quoted text, so that no fault repeats a whole source.
func clip(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
