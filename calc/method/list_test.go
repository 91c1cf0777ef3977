package method_test

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// shares is a method whose results are lists.
const shares = `method: shares
asks: What has each?
takes:
  parts: {unit: ohm, each: part, from: 0, to: 64}
  volts: {unit: V, from: 0, to: 200, optional: yes}
working:
  - amps = volts/parts   [circuit-theory]
gives:
  amps: {unit: A, places: 1, round: up}
`

// A list of which no member can be told is one answer, and one that a member
// of failed is a fault.
func TestListsThatAreNone(t *testing.T) {
	m, _ := load(t, shares+"no outside case: made up\n").Method("shares")
	s := m.Sheet()
	v := method.Values{"parts": value(t, s, "parts", "4 and 8 ohm")}
	if got := s.Result("amps").Text(m.Run(v).Results.Of("amps")); got != "cannot tell: volts is not known" {
		t.Errorf("without volts it is %s", got)
	}
	v["volts"] = value(t, s, "volts", "20 V")
	if got := s.Result("amps").Text(m.Run(v).Results.Of("amps")); got != "5.0 and 2.5 A" {
		t.Errorf("with volts it is %s", got)
	}
	v["parts"] = value(t, s, "parts", "4 and - ohm")
	if got := m.Run(v).Results.Of("amps"); len(got.List) != 2 || got.List[1].State != formula.Unknown {
		t.Errorf("with a gap it is %v", got)
	}
	v["parts"] = value(t, s, "parts", "4 and 0 ohm")
	if o := m.Run(v); o.Results.Of("amps").State != formula.Failed || !o.Faults.Stopped() {
		t.Errorf("by nothing it is %v", o.Results.Of("amps"))
	}
}

// A case may want a list, and is told where one member is off.
func TestCasesOfLists(t *testing.T) {
	for wanted, met := range map[string]bool{"5 and 2.5 A": true, "5 and 2.6 A": false, "5 A": false, "5 and 2.5 and 1 A": false} {
		t.Run(wanted, func(t *testing.T) {
			text := shares + "cases:\n  - {parts: 4 and 8 ohm, volts: 20 V, amps: " + wanted + ", within: 0.01 A, reference: arithmetic}\n"
			_, faults := method.Load(method.Sources{Methods: []*fault.Text{fault.NewText("shares.yaml", text)}}, trade.Library())
			if faults.Stopped() == met {
				t.Errorf("met should be %v: %v", met, faults)
			}
		})
	}
}

// A verdict that asks whether a fact is given does not fit for want of it.
func TestAVerdictForWantOfAFact(t *testing.T) {
	m, _ := load(t, `method: bounded
asks: Is it below the top?
takes:
  drive: {unit: W, from: 0, to: 64}
  top: {unit: W, from: 0, to: 64, optional: yes}
verdicts:
  rule:
    - doubtful "above" when top is given and drive > top
    - else fits "below"
no outside case: made up
`).Method("bounded")
	v := method.Values{"drive": value(t, m.Sheet(), "drive", "20 W"), "top": value(t, m.Sheet(), "top", "30 W")}
	if got := m.Run(v).Verdicts[0]; got.Grade != method.Fits || got.Words != "below" {
		t.Errorf("it is %s: %s", got.Grade, got.Words)
	}
	delete(v, "top")
	if got := m.Run(v).Verdicts[0]; got.Grade != method.Doubtful || !strings.Contains(got.Words, "this is not known: top") {
		t.Errorf("without a top it is %s: %s", got.Grade, got.Words)
	}
}
