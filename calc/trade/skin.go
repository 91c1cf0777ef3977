package trade

import (
	"math/cmplx"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/unit"
)

// skinCases were worked outside: with SciPy, or by rings in a circuit solver.
const skinCases = `gauge=12 AWG; frequency=20 kHz | ratio | 1.35299543 | 0.0001 | scipy-skin
gauge=16 AWG; frequency=20 kHz | ratio | 1.071510908 | 0.0001 | scipy-skin
gauge=12 AWG; frequency=20 kHz; metal=aluminium | ratio | 1.1578 | 0.0005 | ngspice-rings
gauge=10 AWG; frequency=50 kHz | ratio | 2.4607 | 0.004 | ngspice-rings
`

// SkinEffect returns the method skin-effect: by how much the resistance of a
// solid round wire is greater at a note than for direct current, and what that
// adds to the level lost in a run. It takes the gauge (0 to 30 AWG), the metal
// (copper or aluminium), the frequency (20 Hz to 100 kHz), and, for the level,
// the run and the speaker's rated impedance; without these two the level is
// cannot tell. The depth is worked by skin-depth, whose text is rule, the
// losses by speaker-wire.
func SkinEffect(rule *fault.Text) method.Method {
	metal := &method.Input{Name: "metal", Says: "the wire's metal", Choice: []string{"copper", "aluminium"}}
	copper := word("copper")
	metal.Usually = &copper
	frequency := &method.Input{Name: "frequency", Says: "the frequency", Unit: unit.Must("Hz")}
	frequency.From, frequency.To = &method.Bound{Value: 20, Text: "20 Hz"}, &method.Bound{Value: 1e5, Text: "100 kHz"}
	frequency.Usual = &method.Usual{From: method.Bound{Value: 20, Text: "20 Hz"}, To: method.Bound{Value: 2e4, Text: "20 kHz"}}
	frequency.Book = []method.Point{pointOf(frequency, "20 kHz")}
	r := &ruled{sheet: &method.Sheet{
		Name: "skin-effect", Asks: "Does the skin effect matter in speaker wire?", Area: "wire",
		Takes: []*method.Input{metal, frequency}, Gives: skinResults(), Borrows: []string{"skin-depth", "wire-size", "speaker-wire"},
		Moves: []method.Move{
			{Result: "ratio", Way: "rises", With: "frequency"}, {Result: "ratio", Way: "falls", With: "gauge"},
			{Result: "depth", Way: "falls", With: "frequency"}, {Result: "loss_added", Way: "rises", With: "frequency"},
			{Result: "loss_added", Way: "rises", With: "run"}, {Result: "loss_added", Way: "falls", With: "load"},
		},
		CoversNot: "stranded wire, in which the effect is no greater than in solid wire of the same area; clad wire; and two conductors so close that they push each other's current aside",
		Notes:     "For information: it settles no choice of speaker wire.",
		Hash:      hashOf("skin-effect 1", rule),
	}, shared: []string{"gauge", "run", "load"}, optional: []string{"run", "load"}, references: []string{"round-wire", "skin-depth-formula", "magnetic-constant"}, cases: skinCases,
		rule: "the radius by wire-size, the depth by skin-depth, and the sums of the series for the two", says: said{
			"frequency": "the frequency is not known", "gauge": "the wire's gauge is not known",
			"run": "the run is not known", "load": "the load is not known",
		}}
	r.answer = func(l *method.Library, at method.Values) map[string]formula.Value { return skinAnswer(r, l, at) }
	return r
}

func skinResults() []*method.Result {
	return []*method.Result{
		giving("ratio", "resistance at this frequency, over that for direct current", "number", unit.Format{Figures: 3, Round: unit.Up}),
		giving("depth", "skin depth", "mm", unit.Format{Figures: 3, Round: unit.Down}),
		giving("loss_added", "level lost at this frequency beyond what the wire loses anyway", "dB", unit.Format{Places: 2, Round: unit.Up}),
	}
}

// skinAnswer works the three results, each from the values that it needs.
func skinAnswer(r *ruled, l *method.Library, at method.Values) map[string]formula.Value {
	all := each(r.sheet.Gives, formula.CannotTell(r.says.say("frequency")))
	if _, ok := at["frequency"]; !ok {
		return all
	}
	worked := func(name, result string, v method.Values) formula.Value {
		m, _ := l.Method(name)
		return m.Run(v, result).Results.Of(result)
	}
	depth := worked("skin-depth", "depth", method.Values{"frequency": at["frequency"], "metal": at["metal"]})
	all["depth"] = depth
	if _, ok := at["gauge"]; !ok {
		all["ratio"] = formula.CannotTell(r.says.say("gauge"))
		all["loss_added"] = all["ratio"]
		return all
	}
	diameter := worked("wire-size", "diameter", method.Values{"gauge": at["gauge"]})
	ratio := skinRatio(diameter.Number / 2 / depth.Number)
	all["ratio"] = formula.Quantity(ratio)
	for _, name := range []string{"run", "load"} {
		if _, ok := at[name]; !ok {
			all["loss_added"] = formula.CannotTell(r.says.say(name))
			return all
		}
	}
	each := worked("wire-resistance", "each", method.Values{"gauge": at["gauge"], "metal": at["metal"], "strands": word("solid")})
	loss := func(perMetre float64) float64 {
		return worked("speaker-wire", "loss", method.Values{
			"measured": {Value: formula.Quantity(perMetre)}, "run": at["run"], "load": at["load"],
		}).Number
	}
	all["loss_added"] = formula.Quantity(loss(each.Number*ratio) - loss(each.Number))
	return all
}

// skinRatio is the resistance of a round wire to alternating current over that
// to direct current, where its radius is so many skin depths: the real part of
// z J0(z) / 2 J1(z) for z = (1 - j) depths. Both functions are summed as
// power series in w = -z^2/4, which loses fewer than five digits up to 20
// depths, the thickest wire at the highest frequency.
func skinRatio(depths float64) float64 {
	w := complex(0, depths*depths/2)
	zeroth, first := complex(1, 0), complex(1, 0)
	a, b := zeroth, first
	for k := 1.0; cmplx.Abs(a) > 1e-18*cmplx.Abs(zeroth); k++ {
		a *= w / complex(k*k, 0)
		b *= w / complex(k*(k+1), 0)
		zeroth += a
		first += b
	}
	return real(zeroth / first)
}
