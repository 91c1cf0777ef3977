package method

import (
	"math"
	"slices"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// What a change to a line costs its reader. The cheapest that comes out is
// taken, the first of those alike.
const (
	costUnit      = 1.0 // a number in another unit than the one before it on the page
	costPrefix    = 0.1 // that unit having a prefix
	costLong      = 1.0 // a number of many digits, or noughts
	costPower     = 1.5 // a factor that is a power of ten
	costFactor    = 3.0 // any other
	longestNumber = 8   // characters of a number that is no nuisance, and
	mostPlain     = 1e5 // below what, and
	leastPlain    = 1e-4
	mostSettings  = 1000
)

// bareEnv answers with bare numbers.
type bareEnv struct {
	formula.Env
	values map[string]formula.Value
}

// Value implements [formula.Env].
func (e bareEnv) Value(name string) formula.Value { return e.values[name] }

// work works the rule with one number, or list of them, for each operand.
func (c *calculator) work(at []formula.Value) formula.Value {
	env := bareEnv{c.given, map[string]formula.Value{}}
	for i, operand := range c.operands {
		env.values[operand.name] = at[i]
	}
	return c.rule.Eval(env)
}

// isNumber reports whether a value is a number, or several.
func isNumber(v formula.Value) bool {
	return v.State == formula.Known && v.Word == "" && (v.List == nil || eachKnown(v.List))
}

// others are the ways to put a value otherwise: in its own unit where it is
// written in two, in the unit of the result, in the unit of its kind, and with
// a prefix before that.
func (c *calculator) others(own put) []put {
	var all []put
	if _, plain := own.bare(); !plain && own.text != "" {
		all = append(all, own.in(own.unit))
	}
	base := own.unit.Kind().Base()
	if own.text == "" || own.unit == base || own.value.Word != "" {
		return all
	}
	if c.result.Kind() == own.unit.Kind() && c.result != own.unit && c.result != base {
		all = append(all, own.in(c.result))
	}
	all = append(all, own.in(base))
	for _, prefix := range []string{"m", "k", "M", "µ"} {
		if u, ok := scanned(prefix + base.Symbol()); ok && u.Kind() == base.Kind() && u != own.unit {
			all = append(all, own.in(u))
		}
	}
	return all
}

// scanned reads a unit.
func scanned(symbol string) (unit.Unit, bool) {
	u, n := unit.ScanUnit(symbol)
	return u, n > 0 && n == len(symbol)
}

// best tries every way of putting the operands, and keeps the one that costs
// least. As the units of all kinds multiply out, there is always one, but for
// a result on a scale with a zero of its own.
func (c *calculator) best() setting {
	best := setting{choice: make([]int, len(c.operands)), factor: 1, cost: math.Inf(1)}
	keep := func(choice []int) {
		if s, ok := c.try(choice, best.cost); ok {
			s.choice = slices.Clone(choice)
			best = s
		}
	}
	keep(c.allBase())
	choice := make([]int, len(c.operands))
	for range mostSettings {
		keep(choice)
		if best.cost == 0 || !c.next(choice) {
			break
		}
	}
	return best
}

// allBase puts every operand in the unit of its kind.
func (c *calculator) allBase() []int {
	choice := make([]int, len(c.operands))
	for i, o := range c.operands {
		base := o.options[0].unit.Kind().Base()
		choice[i] = max(0, slices.IndexFunc(o.options, func(p put) bool { return p.unit == base }))
	}
	return choice
}

// next steps to the next way of putting the operands, like an odometer.
func (c *calculator) next(choice []int) bool {
	for i := range choice {
		if choice[i]++; choice[i] < len(c.operands[i].options) {
			return true
		}
		choice[i] = 0
	}
	return false
}

// try works one way of putting the operands; it is false where that does not
// come out, or costs no less than another.
func (c *calculator) try(choice []int, below float64) (s setting, ok bool) {
	for i, j := range choice {
		s.cost += c.operands[i].options[j].cost(j == 0)
	}
	if s.cost >= below {
		return s, false
	}
	for n, sample := range c.samples {
		at := make([]formula.Value, len(choice))
		for i, j := range choice {
			at[i] = inUnit(sample.at[i], c.operands[i].options[j].unit)
		}
		got := c.work(at)
		if n == 0 {
			s.factor = between(got, sample.want)
		}
		if !isNumber(got) || !sameTimes(got, s.factor, sample.want) {
			return s, false
		}
	}
	s.cost += factorCost(s.factor)
	return s, s.cost < below
}

// cost is what a way of putting a value costs; one that no calculator can
// read costs more than any other.
func (p put) cost(asPrinted bool) float64 {
	if asPrinted {
		if _, plain := p.bare(); !plain && p.text != "" {
			return 100
		}
		return 0
	}
	cost := costUnit
	if p.unit != p.unit.Kind().Base() {
		cost += costPrefix
	}
	members := []formula.Value{p.value}
	if p.value.List != nil {
		members = p.value.List
	}
	for _, m := range members {
		if unwieldy(p.unit.FromBase(m.Number)) {
			return cost + costLong
		}
	}
	return cost
}

// unwieldy reports whether a number is a nuisance to type.
func unwieldy(x float64) bool {
	size := math.Abs(x)
	return size != 0 && (size >= mostPlain || size < leastPlain) || len(strings.TrimPrefix(writtenOut(x), "−")) > longestNumber
}

// between is the factor from one number to another; 1 where they are near, or
// where there is none.
func between(got, want formula.Value) float64 {
	for i := range want.List {
		if i < len(got.List) && got.List[i].Number != 0 && want.List[i].Number != 0 {
			return between(got.List[i], want.List[i])
		}
	}
	f := want.Number / got.Number
	if want.List != nil || f == 0 || math.IsNaN(f) || math.IsInf(f, 0) || near(f, 1) {
		return 1
	}
	return f
}

// sameTimes reports whether a number, or each of several, times a factor is
// another.
func sameTimes(got formula.Value, factor float64, want formula.Value) bool {
	if len(got.List) != len(want.List) {
		return false
	}
	for i := range got.List {
		if !sameTimes(got.List[i], factor, want.List[i]) {
			return false
		}
	}
	return got.List != nil || math.Abs(got.Number*factor-want.Number) <= closeness*math.Max(math.Abs(want.Number), closeness)
}

func factorCost(factor float64) float64 {
	cost := costFactor
	switch {
	case factor == 1:
		return 0
	case near(factor, math.Pow(10, math.Round(math.Log10(factor)))):
		cost = costPower
	}
	if unwieldy(factor) {
		cost += costLong
	}
	return cost
}

// factorNumber is the factor from the unit that a line comes out in to that of
// its result: 100 %, 1000 m/km. Where no unit can say it, it stands alone.
func factorNumber(factor float64, result unit.Unit) *formula.Number {
	n := &formula.Number{Text: writtenOut(factor), Value: factor}
	for _, prefix := range []string{"", "m", "k", "M", "µ", "c", "n", "p"} {
		base := result.Kind().Base()
		from, ok := base, true
		if prefix != "" || base.Symbol() != "" {
			from, ok = scanned(prefix + base.Symbol())
		}
		if !ok || from.Kind() != base.Kind() || !near(from.ToBase(1), result.ToBase(factor)) {
			continue
		}
		if u, ok := scanned(ratio(result.Symbol(), from.Symbol())); ok && near(u.ToBase(factor), 1) && u.Kind().IsNumber() {
			n.Unit, n.Value = u, u.ToBase(factor)
			return n
		}
	}
	return n
}

// ratio writes one unit over another, what both have before their strokes left
// out: m/km for ohm/km over ohm/m.
func ratio(over, under string) string {
	if under == "" {
		return over
	}
	top, bottom, _ := strings.Cut(over, "/")
	head, tail, _ := strings.Cut(under, "/")
	switch {
	case bottom == "" && tail == "":
		return top + "/" + head
	case top == head && bottom != "" && tail != "":
		return tail + "/" + bottom
	}
	return ""
}
