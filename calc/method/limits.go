package method

import (
	"math"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// limitsSign stands between a value and how far it may be off; people without
// it on their keys type +-.
const limitsSign = "±"

// cutLimits parts a typed value at its ±.
func cutLimits(p fault.Place) (value, amount fault.Place, ok bool) {
	s := p.String()
	for _, sign := range []string{limitsSign, "+-", "+/-"} {
		if i := strings.Index(s, sign); i >= 0 {
			return p.Sub(0, i).Trim(), p.Sub(i, len(s)), true
		}
	}
	return p, fault.Place{}, false
}

// lastOnly is the fault of limits behind the last of several values of which
// the others share its unit: they could be meant for it alone, or for all. Nil
// where there is none.
func (i *Input) lastOnly(parts []fault.Place) *fault.Fault {
	if _, _, ok := cutLimits(parts[len(parts)-1]); !ok {
		return nil
	}
	var all []fault.Place
	for _, part := range parts {
		all = append(all, split(part, " and ")...)
	}
	_, amount, ok := cutLimits(all[len(all)-1])
	if !ok {
		return nil
	}
	for _, other := range all[:len(all)-1] {
		if _, _, own := cutLimits(other); !own && i.lacksUnit(other) {
			return fault.At(amount, "these limits stand behind the last value only").
				Want("limits behind each value that has them, as in 8 ohm ± 5 %% and 6 ohm ± 5 %%").
				Fix("a unit behind each value, and limits behind each that has them")
		}
	}
	return nil
}

// byAmount is what stands behind the sign.
func byAmount(amount fault.Place) fault.Place {
	s := amount.String()
	n := strings.IndexByte(s, '-') + 1
	if strings.HasPrefix(s, limitsSign) {
		n = len(limitsSign)
	}
	return amount.Sub(n, len(s)).Trim()
}

// Middle returns the values without their limits, as a working puts them in:
// the same values, not to be changed, where none has any.
func (v Values) Middle() Values {
	limited := false
	for _, p := range v {
		limited = limited || len(p.Limits) > 0
	}
	if !limited {
		return v
	}
	w := make(Values, len(v))
	for name, p := range v {
		if len(p.Limits) > 0 {
			p.Text, p.Limits = p.middleText(), nil
		}
		w[name] = p
	}
	return w
}

// middleText is a value with limits as it is printed without them.
func (p Point) middleText() string {
	if p.Value.List == nil {
		return typed(unit.Quantity{Value: p.Value.Number, Unit: p.Unit})
	}
	var texts []string
	for _, member := range p.Value.List {
		text := "-"
		if member.State == formula.Known {
			text = typed(unit.Quantity{Value: member.Number, Unit: p.Unit})
		}
		texts = append(texts, text)
	}
	return strings.Join(texts, " and ")
}

// limited reads a value with limits: 87 dB ± 1.5 dB, 8 ohm ± 10 %.
func (i *Input) limited(value, amount fault.Place, last unit.Unit, faults *fault.List) Point {
	by := byAmount(amount)
	if !strings.HasPrefix(amount.String(), limitsSign) {
		faults.Add(fault.At(amount, "limits are told by the sign ±").Fix("± %s", by))
		return Point{Place: value}
	}
	if i.Whole || len(i.Among) > 0 {
		faults.Add(fault.At(amount, "%s is one of certain values, and none lie between them", i.Name).Want("%s", i.wanted()))
		return Point{Place: value}
	}
	t, f := unit.Read(by)
	if f != nil {
		faults.Add(f)
		return Point{Place: value}
	}
	switch {
	case t.Unit.Symbol() == "" && i.Unit.Symbol() != "" && !i.lacksUnit(value):
		faults.Add(fault.At(by, "%q has no unit, and may be an amount or a share", by).Want("± %s %s, or ± %s %%", by, stepName(i.Unit.Step()), by))
		return Point{Place: value}
	case i.lacksUnit(value) && t.Unit.Kind() == i.Unit.Step().Kind() && last.Symbol() == "":
		last = t.Unit // 8 ± 0.5 ohm
	case t.Unit.Symbol() == "" && last.Kind() == i.Unit.Kind():
		t = unit.Quantity{Value: last.Step().ToBase(t.Value), Unit: last.Step()} // 8 ± 0.4 and 6 ± 0.3 ohm
	}
	p := i.member(value, last, faults)
	off, f := i.off(t, p, by)
	if f != nil || faults.Stopped() {
		faults.Add(f)
		return p
	}
	p.Limits = []Limits{{Member: -1, Low: p.Value.Number - off, High: p.Value.Number + off}}
	p.Text += " ± " + typed(t)
	for _, end := range []float64{p.Limits[0].Low, p.Limits[0].High} {
		if out := i.outside(end); out != "" {
			faults.Add(fault.At(amount, "%s may be %s, %s", i.Name, typed(unit.Quantity{Value: end, Unit: p.Unit}), out).Want("%s", i.span()))
		}
	}
	return p
}

// off is how far a value may be off, in base units: a share of it, or an
// amount of its kind. On an input that is a percentage, percent are points.
func (i *Input) off(t unit.Quantity, p Point, at fault.Place) (float64, *fault.Fault) {
	step := i.Unit.Step()
	share := t.Unit.Symbol() == "%" && i.Unit.Symbol() != "%"
	switch {
	case t.Value <= 0:
		return 0, fault.At(at, "these limits leave no room").Want("an amount above nothing")
	case share && i.Unit.Kind().IsPoint():
		return 0, fault.At(at, "%s is a point on a scale, of which there is no share", i.Name).Want("limits in %s", stepName(step))
	case share:
		return math.Abs(p.Value.Number) * t.Value, nil
	case t.Unit.Kind() != step.Kind():
		return 0, fault.At(at, "%q is %s, and %s may be off by %s", at, t.Unit.Kind(), i.Name, step.Kind()).Want("such as %s %s", limitsSign, step.Kind().Example())
	}
	return t.Value, nil
}

func stepName(u unit.Unit) string {
	if u.Symbol() == "" {
		return "whole steps"
	}
	return u.Spoken()
}

// FromTo prints from where to where a result goes, without its unit: the lower
// end rounded down and the upper up, with two figures of the width between
// them and no digit that is not known.
func (r *Result) FromTo(s Spread) string {
	low, high := r.Unit.FromBase(s.Low), r.Unit.FromBase(s.High)
	f := unit.Format{Unit: r.Unit}
	if wide := high - low; wide > spreadLeast*math.Abs(high) {
		places := 1 - int(math.Floor(math.Log10(wide)+closeness))
		if places >= 0 {
			f.Places = places
		} else {
			f.Figures = max(1, int(math.Floor(math.Log10(math.Max(math.Abs(low), math.Abs(high)))+closeness))+1+places)
		}
	} else {
		return r.Format.Number(s.Low + (s.High-s.Low)/2)
	}
	down, up := f, f
	down.Round, up.Round = unit.Down, unit.Up
	return down.Number(s.Low) + " to " + up.Number(s.High)
}

// FromTo works a result over the limits of the values and prints it, each
// member of a list by itself: "0.38 to 0.47". It returns the spreads too. A
// method without formulas has none.
func FromTo(m Method, v Values, r *Result) (text string, spreads []Spread, ok bool) {
	d, isData := m.(*Data)
	b := m.Sheet().Box(v)
	if !isData || len(b.Moving) == 0 {
		return "", nil, false
	}
	members := []int{-1}
	at := d.Run(v, r.Name).Results.Of(r.Name)
	if at.Word != "" {
		return "", nil, false
	}
	if at.List != nil {
		members = nil
		for n := range at.List {
			members = append(members, n)
		}
	}
	var texts []string
	for _, member := range members {
		s := d.Spread(b, r.Name, member)
		if !s.Known {
			return "", nil, false
		}
		spreads = append(spreads, s)
		texts = append(texts, r.FromTo(s))
	}
	return strings.Join(texts, " and "), spreads, len(texts) > 0
}

// Corners are the corners of the box: the values with each moving one at one
// of its ends; of more than a few only those in which the rest stand low.
func (b Box) Corners() []Values {
	n := min(len(b.Moving), mostEnds)
	var all []Values
	for corner := range 1 << n {
		i := -1
		all = append(all, b.At(func(m Moving) float64 {
			if i++; i < n && corner>>i&1 == 1 {
				return m.Hi
			}
			return m.Lo
		}))
	}
	return all
}
