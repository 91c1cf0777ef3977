package main

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// inGo is a method that is no formula text.
type inGo struct{ method.Method }

// TestLimitsWithoutFormula types limits for a method that cannot be worked over
// them: its figure would be told as if the value were exact.
func TestLimitsWithoutFormula(t *testing.T) {
	m, _ := trade.Library().Method("lowest-impedance")
	for _, test := range []struct {
		name    string
		method  method.Method
		stopped bool
	}{{"by formula", m, false}, {"in Go", inGo{m}, true}} {
		t.Run(test.name, func(t *testing.T) {
			line := fault.NewText("what you typed", "load=8 ohm ± 1 ohm")
			values, faults := readTyped(m.Sheet(), line, 0, []string{line.Source()})
			r := &reckoning{method: test.method, values: values, faults: faults}
			r.checkLimits()
			if faults.Stopped() != test.stopped || test.stopped && !strings.Contains(faults.Error(), "no formula that could be worked over limits") {
				t.Errorf("the faults are %v", faults)
			}
		})
	}
}
