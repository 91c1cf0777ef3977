package method

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// A made-up rule whose cautions and verdicts are worked by hand beside each
// case: hill is greatest, 25, at x = 5 and nowhere else.
const worstMethod = `method: made-up
asks: Which shapes has a curve?
takes:
  x: {unit: number, from: 0, to: 100}
  y: {unit: number, from: 0, to: 100, optional: yes}
  z: {unit: number, from: 0, to: 100, usually: 3}
working:
  - hill = x*(10 - x)   [rule]
  - dip = 1 - 2*exp(-((x - 36.6137)/0.006)^2)   [rule]
  - helped = hill - z when hill > 24.9, else hill   [rule]
  - twice = (x - 3)^2 - (y - 4)^2   [rule]
  - log = none "there is none" when x = 0, else log10(x)   [rule]
gives:
  hill: {unit: number, places: 2, round: either}
  deep: {of: dip, unit: number, places: 2, round: either}
verdicts:
  top:
    - do not connect "it is above 24.9" when hill > 24.9
    - doubtful "it is above 20" when hill > 20
    - else fits "it is low"
  bottom:
    - ask first "it is below nothing" when dip < 0
    - else fits "it is above nothing"
  fact:
    - doubtful "it is high" when helped > 30
    - else fits "it is not high"
  number:
    - doubtful "it is high" when log > 3
    - else fits "it is not high"
cautions: [high when hill > 24.9, deep when dip < 0, never when hill > 25.0001, open when y > 10 and twice + 1e-13*x < (x - 3)^2 - (y - 4)^2 + 1e-13*x, always]
no outside case: made up
`

const worstCautions = `high: {signal: WARNING, happens: It is high., how: So., instead: Lower., ask: anybody}
deep: {signal: WARNING, happens: It is deep., how: So., instead: Higher., ask: anybody}
never: {signal: WARNING, happens: It is higher than can be., how: So., instead: Lower., ask: anybody}
open: {signal: WARNING, happens: It is open., how: So., instead: Shut., ask: anybody}
always: {signal: NOTE, happens: It is there., how: So., instead: Away., ask: anybody}
`

// TestAtWorst: within limits every caution counts that may be met anywhere,
// and the worst verdict that may be.
func TestAtWorst(t *testing.T) {
	l, faults := Load(Sources{
		Methods:    []*fault.Text{fault.NewText("made-up.yaml", worstMethod)},
		References: []*fault.Text{fault.NewText("references.yaml", "rule: {title: A rule, mark: practice}\n")},
		Cautions:   fault.NewText("cautions.yaml", worstCautions),
	}, nil)
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	m, _ := l.Method("made-up")
	for _, c := range []struct{ name, x, y, z, cautions, verdicts string }{
		// From 1 to 7 hill is 9 and 21 at the ends and 24 in the middle.
		{"only between ends and middle", "4 ± 3", "", "", "high always",
			"do not connect: it is above 24.9; so it is somewhere within the limits | fits: it is above nothing | fits: it is not high | fits: it is not high"},
		{"at an end", "3 ± 2", "", "", "high always", // 9, 21 and, at 5, 25
			"do not connect: it is above 24.9; so it is at an end of the limits | fits: it is above nothing | fits: it is not high | fits: it is not high"},
		{"nowhere", "3 ± 1.6", "", "", "always", // at most 24.84
			"doubtful: it is above 20 | fits: it is above nothing | fits: it is not high | fits: it is not high"},
		{"in the middle", "5 ± 4", "", "", "high always",
			"do not connect: it is above 24.9 | fits: it is above nothing | fits: it is not high | fits: it is not high"},
		// dip is below 0 for one ten-thousandth of the range, 36.6087 to 36.6187.
		{"in one ten-thousandth", "50 ± 50", "", "", "high deep always",
			"do not connect: it is above 24.9; so it is somewhere within the limits | ask first: it is below nothing; so it is somewhere within the limits | " +
				"fits: it is not high | cannot tell: there is none; so it is at an end of the limits"},
		{"a stand-in inside", "4 ± 3", "", "don't know", "high always",
			"do not connect: it is above 24.9; so it is somewhere within the limits | fits: it is above nothing | " +
				"doubtful: it is not high; a value stands in for what is not known: z; so it is somewhere within the limits | fits: it is not high"},
		// Both sides are equal everywhere; no part is ever narrow enough to show it.
		{"not to be settled", "9 ± 0.5", "50 ± 50", "", "open always",
			"fits: it is low | fits: it is above nothing | fits: it is not high | fits: it is not high"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := Values{}
			for name, text := range map[string]string{"x": c.x, "y": c.y, "z": c.z} {
				if text == "" {
					continue
				}
				p, faults := m.Sheet().Input(name).Read(fault.NewText(name, text).All())
				if faults.Stopped() {
					t.Fatal(faults)
				}
				v[name] = p
			}
			if c.y == "" { // or the caution would be brought for want of it
				p, _ := m.Sheet().Input("y").Read(fault.NewText("y", "4").All())
				v["y"] = p
			}
			o := m.Run(v)
			o.AtWorst(m, v)
			var cautions, verdicts []string
			for _, w := range o.Cautions {
				cautions = append(cautions, w.ID)
			}
			for _, w := range o.Verdicts {
				verdicts = append(verdicts, w.Grade+": "+w.Words)
			}
			if got := strings.Join(cautions, " "); got != c.cautions {
				t.Errorf("it brings %q, and %q is wanted", got, c.cautions)
			}
			if got := strings.Join(verdicts, " | "); got != c.verdicts {
				t.Errorf("it is judged\n%s, and\n%s is wanted", got, c.verdicts)
			}
		})
	}
}
