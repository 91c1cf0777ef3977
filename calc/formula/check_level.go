package formula

import (
	"math"
	"strconv"
	"sync"

	"bindpost/calc/fault"
	"bindpost/calc/unit"
)

// What a level is a level of. A level of a power goes with 10 dB, one of an
// amplitude with 20 dB, and the quantity under the logarithm belongs to the
// scale: kinds alone pass all of these.

// nature says how a quantity goes into a level.
type nature uint8

const (
	neither   nature = iota // a ratio that says nothing: of lengths, of numbers
	amplitude               // volts, amps, pascals: 20 dB
	energetic               // watts, joules, and squares of the above: 10 dB
)

// factor is the number of decibels that go with a nature.
func (n nature) factor() float64 {
	return map[nature]float64{amplitude: 20, energetic: 10}[n]
}

// level is what is known of a scale of levels.
type level struct {
	factor float64   // dB to a tenfold
	zero   float64   // what 0 of the scale's base unit stands for; 0 for a ratio
	unit   unit.Unit // of zero
}

// levels are the scales of levels. The reference of both sound scales is
// 20 µPa (IEC 60268-5; hearing documents use the same).
var levels = sync.OnceValue(func() map[unit.Scale]level {
	return map[unit.Scale]level{
		unit.SoundLevel:    {20, 20, unit.Must("uPa")},
		unit.WeightedLevel: {20, 20, unit.Must("uPa")},
		unit.PowerLevel:    {10, 1, unit.Must("W")},
		unit.VoltageLevel:  {20, 1, unit.Must("V")},
		unit.FieldLevel:    {20, 1, unit.Must("uV/m")},
		unit.AntennaGain:   {10, 0, unit.Unit{}},
	}
})

// natures are the kinds that are of one nature or the other.
var natures = sync.OnceValue(func() map[unit.Kind]nature {
	all := map[unit.Kind]nature{}
	for _, s := range []string{"V", "A", "Pa", "V/m", "A/m"} {
		k := unit.Must(s).Kind()
		square, _ := k.Power(4)
		all[k], all[square] = amplitude, energetic
	}
	for _, s := range []string{"W", "J", "W/m^2", "Pa^2 s"} {
		all[unit.Must(s).Kind()] = energetic
	}
	return all
})

// level tells an operation that turns a quantity into a level, or a level into
// a quantity, with a factor or a reference that is not its own.
func (c *checker) level(n *Binary) *fault.Fault {
	switch n.Op {
	case Mul, Div:
		if f := c.logFactor(n); f != nil {
			return f
		}
		return c.tenPower(n)
	case Add, Sub:
		return c.levelSum(n)
	}
	return nil
}

// decibel is the kind of a step in decibels.
var decibel = unit.Kind{Dims: unit.Dims{decibels: 2}}

// logTerm is `c dB*log10(ratio)`, with what can be said of the ratio.
type logTerm struct {
	factor float64
	mark   Node // the decibels
	arg    Node // what is under the logarithm
	ratio
}

// ratio is a quotient of two quantities of one nature.
type ratio struct {
	nature nature
	kind   unit.Kind
	under  *Number // the reference, when it is written as a number
}

// logTermOf reads a piece as a logTerm.
func (c *checker) logTermOf(n Node) (t logTerm, ok bool) {
	n = ungrouped(n)
	if neg, is := n.(*Negate); is {
		return c.logTermOf(neg.Operand)
	}
	b, is := n.(*Binary)
	if !is || b.Op != Mul {
		return t, false
	}
	for _, side := range [][2]Node{{b.Left, b.Right}, {b.Right, b.Left}} {
		x, fixed := constant(side[0])
		call, log := ungrouped(side[1]).(*Call)
		if fixed && log && call.Function == "log10" && len(call.Args) == 1 && c.types[side[0]].Kind == decibel {
			return logTerm{math.Abs(x), side[0], call.Args[0], c.ratioOf(call.Args[0])}, true
		}
	}
	return t, false
}

func ungrouped(n Node) Node {
	for {
		g, ok := n.(*Group)
		if !ok {
			return n
		}
		n = g.Inner
	}
}

// ratioOf says of which nature a plain number is a ratio. The zero ratio says
// nothing.
func (c *checker) ratioOf(n Node) ratio {
	switch n := ungrouped(n).(type) {
	case *Call:
		r := ratio{}
		if len(n.Args) == 1 && (n.Function == "abs" || n.Function == "sqrt") {
			r = c.ratioOf(n.Args[0])
		}
		if n.Function == "sqrt" {
			return r.powered(0.5)
		}
		return r
	case *Binary:
		return c.quotient(n)
	}
	return ratio{}
}

func (c *checker) quotient(n *Binary) ratio {
	l, r := c.types[n.Left].Kind, c.types[n.Right].Kind
	switch {
	case n.Op == Div && l == r && !l.IsNumber():
		under, _ := ungrouped(n.Right).(*Number)
		return ratio{natures()[l], l, under}
	case n.Op == PowerOf:
		x, _ := constant(n.Right)
		return c.ratioOf(n.Left).powered(x)
	case (n.Op == Div || n.Op == Mul) && r.IsNumber() && c.ratioOf(n.Right) == ratio{}:
		return c.ratioOf(n.Left).scaled()
	case n.Op == Mul && l.IsNumber() && c.ratioOf(n.Left) == ratio{}:
		return c.ratioOf(n.Right).scaled()
	}
	return ratio{}
}

// scaled is the ratio multiplied by a plain number: what stands under it is no
// longer its reference.
func (r ratio) scaled() ratio {
	r.under = nil
	return r
}

// powered is the ratio raised to a power: the square of a ratio of amplitudes
// is one of powers.
func (r ratio) powered(x float64) ratio {
	r = r.scaled()
	switch {
	case x == 1:
		return r
	case x == 2 && r.nature == amplitude:
		r.nature = energetic
		return r
	case x == 0.5 && r.nature == energetic:
		r.nature = amplitude
		return r
	}
	return ratio{}
}

// logFactor tells decibels that do not go with the ratio under the logarithm.
func (c *checker) logFactor(n *Binary) *fault.Fault {
	t, ok := c.logTermOf(n)
	if !ok || t.nature == neither || t.factor == t.nature.factor() {
		return nil
	}
	return wrongFactor(t.mark, t.factor, t.arg, t.ratio)
}

func wrongFactor(mark Node, factor float64, of Node, r ratio) *fault.Fault {
	said := "a ratio of powers or energies"
	if r.nature == amplitude {
		said = "a ratio of voltages, currents or pressures"
	}
	right := unit.Format{Unit: decibel.Base()}.Text(r.nature.factor())
	return fault.At(mark.Place(), "%s does not go with %q, %s", quote(mark), quote(of), said).
		Want("10 dB with powers and energies, 20 dB with voltages, currents and pressures").Fix("%s", right)
}

// levelSum tells a point on a scale of levels that is joined by the logarithm
// of a quantity that is not the scale's, or over another reference.
func (c *checker) levelSum(n *Binary) *fault.Fault {
	origin, t, ok := c.levelParts(n)
	if !ok {
		return nil
	}
	l, known := levels()[origin.Unit.Kind().Scale]
	if !known || l.zero == 0 || t.nature == neither {
		return nil
	}
	return l.judge(origin, t.ratio, t.arg)
}

// levelParts finds the point and the logarithm of a sum.
func (c *checker) levelParts(n *Binary) (origin *Number, t logTerm, ok bool) {
	if t, ok = c.logTermOf(n.Right); ok {
		origin = originOf(n.Left)
	} else if t, ok = c.logTermOf(n.Left); ok {
		origin = originOf(n.Right)
	}
	return origin, t, ok && origin != nil
}

// originOf returns the point at the head of a sum, when it is written as a
// number.
func originOf(n Node) *Number {
	switch n := ungrouped(n).(type) {
	case *Number:
		if n.Unit.Kind().IsPoint() {
			return n
		}
	case *Binary:
		if n.Op == Add || n.Op == Sub {
			return originOf(n.Left)
		}
	}
	return nil
}

// closeLevel is how far a rounded reference may be off (94 dB SPL for 1 Pa).
const closeLevel = 0.1

// judge tells a quantity that the scale does not measure, or a reference that
// is not at the point.
func (l level) judge(origin *Number, r ratio, of Node) *fault.Fault {
	own := l.unit.Kind()
	zero := l.unit.ToBase(l.zero)
	if square, _ := own.Power(4); l.factor == 20 && r.kind == square {
		own, zero, l.factor = square, zero*zero, 10
	}
	if r.kind != own {
		if origin.Unit.FromBase(origin.Value) != 0 {
			return nil
		}
		return fault.At(origin.Place(), "%q is a level of %s, and %q is of %s", quote(origin), own, quote(of), r.kind).
			Want("%s beside it", own)
	}
	if r.under == nil {
		return nil
	}
	if math.Abs(l.factor*math.Log10(r.under.Value/zero)-origin.Value) <= closeLevel {
		return nil
	}
	return fault.At(r.under.Place(), "%q is not what %q stands for", quote(r.under), quote(origin)).
		Want("the reference of the scale").Fix("%s", readable(zero*math.Pow(10, origin.Value/l.factor), own))
}

// readable writes a quantity with the prefix that leaves a short number: 20 uPa.
func readable(v float64, k unit.Kind) string {
	base := k.Base()
	for _, prefix := range []string{"", "m", "u", "n", "p", "f"} {
		u, f := unit.Parse(fault.NewText("unit", prefix+base.Symbol()).All())
		if f == nil && u.FromBase(v) >= 0.9999 && u.FromBase(v) < 1000 {
			return unit.Format{Unit: u, Places: 0}.Text(v)
		}
	}
	return strconv.FormatFloat(v, 'g', 3, 64) + " " + base.Symbol()
}

// tenPower tells a level turned into a quantity with decibels or a reference
// that are not its own: 1 W*10^((L - 0 dBW)/10 dB).
func (c *checker) tenPower(n *Binary) *fault.Fault {
	for _, side := range [][2]Node{{n.Right, n.Left}, {n.Left, n.Right}} {
		from, under, ok := c.tenPowerOf(side[0])
		k := c.types[side[1]].Kind
		r := ratio{nature: natures()[k], kind: k}
		if !ok || r.nature == neither {
			continue
		}
		factor, _ := constant(under)
		if math.Abs(factor) != r.nature.factor() {
			return wrongPower(under, side[1], r)
		}
		r.under, _ = ungrouped(side[1]).(*Number)
		origin := c.takenFrom(from)
		if origin == nil || n.Op != Mul {
			return nil
		}
		if l, known := levels()[origin.Unit.Kind().Scale]; known && l.zero != 0 {
			return l.judge(origin, r, side[1])
		}
		return nil
	}
	return nil
}

func wrongPower(under, of Node, r ratio) *fault.Fault {
	right := unit.Format{Unit: decibel.Base()}.Text(r.nature.factor())
	return fault.At(under.Place(), "%s does not go with %q, which is %s", quote(under), quote(of), r.kind).
		Want("10 dB with powers and energies, 20 dB with voltages, currents and pressures").Fix("%s", right)
}

// tenPowerOf reads a piece as 10^(from/under), with under in decibels.
func (c *checker) tenPowerOf(n Node) (from, under Node, ok bool) {
	b, is := ungrouped(n).(*Binary)
	if !is || b.Op != PowerOf {
		return nil, nil, false
	}
	ten, fixed := constant(b.Left)
	e := ungrouped(b.Right)
	if neg, is := e.(*Negate); is {
		e = ungrouped(neg.Operand)
	}
	q, is := e.(*Binary)
	if !fixed || ten != 10 || !is || q.Op != Div || c.types[q.Right].Kind != decibel {
		return nil, nil, false
	}
	_, fixed = constant(q.Right)
	return q.Left, q.Right, fixed
}

// takenFrom returns the point that is subtracted from a level, when it is
// written as a number.
func (c *checker) takenFrom(n Node) *Number {
	b, ok := ungrouped(n).(*Binary)
	if !ok || b.Op != Sub {
		return nil
	}
	return originOf(b.Right)
}
