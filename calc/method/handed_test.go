package method

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// TestTakeLimits: a handed figure brings its limits, and must lie within the
// bounds with all of them.
func TestTakeLimits(t *testing.T) {
	ohm := unit.Must("ohm")
	load := &Input{Name: "load", Unit: ohm, From: &Bound{1, "1 ohm"}, To: &Bound{64, "64 ohm"}}
	listed := &Input{Name: "size", Unit: ohm, Among: []Point{{Value: formula.Quantity(8), Text: "8 ohm"}}}
	for _, c := range []struct {
		name      string
		in        *Input
		low, high float64
		jumps     bool
		fault     string
	}{
		{"inside", load, 6, 10, false, ""},
		{"up to the bounds", load, 1, 64, false, ""},
		{"below", load, 0.5, 10, false, "load may be 0.5 ohm, less than this method covers"},
		{"above", load, 6, 65, false, "load may be 65 ohm, more than this method covers"},
		{"jumping", load, 6, 10, true, "somewhere within its limits this figure jumps"},
		{"of a list", listed, 6, 10, false, "size is one of certain values"},
	} {
		t.Run(c.name, func(t *testing.T) {
			limits := []Limits{{-1, c.low, c.high}}
			p, faults := c.in.Take(Handed{Value: formula.Quantity(8), Text: "6 to 10 ohm", Unit: ohm, Limits: limits, Jumps: c.jumps, Place: fault.NewText("line", "<figure>").All()})
			if c.fault == "" && faults.Len() > 0 || !strings.Contains(faults.String(), c.fault) {
				t.Errorf("the fault is %q", faults)
			}
			if len(p.Limits) != 1 || p.Limits[0] != limits[0] {
				t.Errorf("its limits are %v", p.Limits)
			}
			if m := (Values{"load": p}).Middle()["load"]; m.Text != "8 ohm" || m.Limits != nil {
				t.Errorf("its middle is %q, with limits %v", m.Text, m.Limits)
			}
		})
	}
}
