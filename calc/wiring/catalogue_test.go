package wiring_test

import (
	"strings"
	"testing"

	"bindpost/calc/unit"
	"bindpost/calc/wiring"
)

// sound is a catalogue without a fault; each case spoils a copy of it.
func sound() *wiring.Catalogue {
	ohms := func(v float64) unit.Quantity { return unit.Quantity{Value: v, Unit: unit.Must("ohm")} }
	return &wiring.Catalogue{
		Name: "sound",
		Connectors: []*wiring.Connector{
			{Name: "coax plug", Family: "coax", Shape: wiring.Plug, Signal: "radio", Ohms: ohms(75)},
			{Name: "coax socket", Family: "coax", Shape: wiring.Socket, Signal: "radio", Ohms: ohms(75)},
			{Name: "ribbon", Family: "ribbon", Shape: wiring.End, Signal: "radio", Ohms: ohms(300), Balanced: true},
			{Name: "line plug", Family: "phono", Shape: wiring.Plug, Signal: "line"},
		},
		Parts: []*wiring.Part{
			{Name: "balun", From: "ribbon", To: "coax plug", Turns: "a transformer"},
			{Name: "tuner", From: "coax plug", To: "line plug", Active: true, Turns: "a receiver"},
		},
		Matings: []wiring.Mating{{From: "coax plug", To: "coax socket"}},
	}
}

func TestCheck(t *testing.T) {
	cases := []struct {
		name  string
		spoil func(c *wiring.Catalogue)
		want  string // "" for no fault
	}{
		{"sound", func(*wiring.Catalogue) {}, ""},
		{"two of a name", func(c *wiring.Catalogue) { c.Connectors[1].Name = "coax plug" }, `the connector "coax plug" stands twice`},
		{"from nowhere", func(c *wiring.Catalogue) { c.Parts[0].From = "ribon" }, `there is no connector "ribon"`},
		{"to nowhere", func(c *wiring.Catalogue) { c.Parts[0].To = "cox plug" }, `there is no connector "cox plug"`},
		{"in a ring", func(c *wiring.Catalogue) { c.Parts[0].To = "ribbon" }, `the part "balun" ends where it begins`},
		{"unsaid", func(c *wiring.Catalogue) { c.Parts[0].Turns = "" }, `the part "balun" changes the impedance and the balance, and does not say by what`},
		{"signal unsaid", func(c *wiring.Catalogue) { c.Parts[1].Turns = "" }, `the part "tuner" changes the signal, and does not say by what`},
		{"said in vain", func(c *wiring.Catalogue) { c.Parts[0].From = "coax socket" }, `the part "balun" says that it is a transformer, and changes nothing`},
		{"twice alike", func(c *wiring.Catalogue) { c.Parts = append(c.Parts, c.Parts[0]) }, `the part "balun" stands twice between the same ends`},
		{"mates with nothing", func(c *wiring.Catalogue) { c.Matings[0].To = "cox socket" }, `there is no connector "cox socket"`},
		{"nothing mates", func(c *wiring.Catalogue) { c.Matings[0].From = "cox plug" }, `there is no connector "cox plug"`},
		{"two families", func(c *wiring.Catalogue) { c.Connectors[1].Family = "F" }, `they are of two families`},
		{"two plugs", func(c *wiring.Catalogue) { c.Connectors[1].Shape = wiring.Plug }, `both are a plug`},
		{"two impedances", func(c *wiring.Catalogue) { c.Connectors[1].Ohms.Value = 50 }, `the impedance changes`},
		{"across balance", func(c *wiring.Catalogue) { c.Connectors[1].Balanced = true }, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			catalogue := sound()
			c.spoil(catalogue)
			got := catalogue.Check().String()
			if c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("told %q, and should be %q", got, c.want)
			}
		})
	}
}
