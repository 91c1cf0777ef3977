package method

import (
	"math"
	"slices"
	"strconv"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// A pocket calculator knows no units. Where the numbers of a worked line, as
// they are printed, do not come to the printed number of its result, some are
// put in other units (0.01317 ohm/m for 13.17 ohm/km), or the line ends in a
// factor between units that is 1 (100 %, 1000 m/km): whichever changes least.

// operand is what in a rule has a number: a name, or a number with a unit.
type operand struct {
	name    string          // in the calculator's formula
	number  *formula.Number // nil for a name
	options []put           // as it stands first, then in other units
}

// calculator works a rule by its bare numbers.
type calculator struct {
	rule     *formula.Formula // each number that has a unit being a name
	scope    *formula.Scope
	operands []operand
	result   unit.Unit
	given    formula.Env
	samples  []sample
}

// sample is what the rule comes to in the unit of its result when each operand
// has one value more or less near to its own.
type sample struct {
	at   []formula.Value // by operand, in base units
	want formula.Value
}

// setting is how a rule is put so that it comes out by its bare numbers.
type setting struct {
	choice []int // of each operand, the place of its option
	factor float64
	cost   float64
}

// settled returns the rule of a step as numbers are put into it, and what is
// put in for its names.
func (p printer) settled(w worked, rule formula.Node, result unit.Unit) (formula.Node, map[string]put) {
	given := map[string]put{}
	for _, name := range formula.Names(rule) {
		if s, ok := p.shown(w.run, name); ok {
			given[name] = s
		}
	}
	c := newCalculator(w.run, rule, given, result)
	if c == nil {
		return rule, given
	}
	best := c.best()
	numbers := map[*formula.Number]*formula.Number{}
	for i, operand := range c.operands {
		switch chosen := operand.options[best.choice[i]]; {
		case best.choice[i] == 0:
		case operand.number != nil:
			numbers[operand.number] = &formula.Number{
				At: operand.number.At, Text: writtenOut(chosen.unit.FromBase(chosen.value.Number)), Unit: chosen.unit, Value: chosen.value.Number,
			}
		default:
			given[operand.name] = chosen
		}
	}
	put := formula.Replaced(rule, func(n *formula.Number) formula.Node {
		if other := numbers[n]; other != nil {
			return other
		}
		return nil
	})
	if best.factor != 1 {
		put = formula.Scaled(put, factorNumber(best.factor, result))
	}
	return put, given
}

// newCalculator returns nil where nothing is to be settled: for units that
// multiply out by themselves, for a word, a value that is not known, what is
// looked up in a table, an own function.
func newCalculator(r *run, rule formula.Node, given map[string]put, result unit.Unit) *calculator {
	c := &calculator{result: result, given: r, scope: &formula.Scope{Values: map[string]formula.Symbol{}}}
	if !c.addNames(r, rule, given) {
		return nil
	}
	bare := c.addNumbers(rule)
	if c.coherent() {
		return nil
	}
	f, faults := formula.Check(bare, c.scope)
	if faults.Stopped() {
		return nil
	}
	c.rule = f
	c.sample()
	if len(c.samples) == 0 {
		return nil
	}
	for i := range c.operands {
		c.operands[i].options = append(c.operands[i].options, c.others(c.operands[i].options[0])...)
	}
	return c
}

func (c *calculator) add(o operand) {
	symbol := formula.Symbol{Missing: true}
	if o.options[0].value.List != nil {
		symbol.Type.Group = "member"
	}
	c.scope.Values[o.name] = symbol
	c.operands = append(c.operands, o)
}

// addNames adds the names of a rule. It is false where one is a word or has
// no value.
func (c *calculator) addNames(r *run, rule formula.Node, given map[string]put) bool {
	for _, name := range formula.Names(rule) {
		as, known := given[name]
		if _, twice := c.scope.Values[name]; twice || name == "pi" {
			continue
		}
		if !known {
			as = put{value: r.Value(name), unit: c.result} // a list some members of which are given
		}
		if as.value.Word != "" || !known && as.value.List == nil {
			return false
		}
		c.add(operand{name: name, options: []put{as}})
	}
	return true
}

// addNumbers adds the numbers of a rule that have a unit, and returns the rule
// with names for them.
func (c *calculator) addNumbers(rule formula.Node) formula.Node {
	return formula.Replaced(rule, func(n *formula.Number) formula.Node {
		if n.Unit.Symbol() == "" && !n.Typed {
			return nil
		}
		own := put{text: formula.Text(n), value: formula.Quantity(n.Value), unit: n.Unit}
		o := operand{name: "number " + strconv.Itoa(len(c.operands)), number: n, options: []put{own}}
		c.add(o)
		return &formula.Name{At: n.At, Text: o.name}
	})
}

// coherent reports whether all numbers stand in the units in which values of
// their kinds are kept.
func (c *calculator) coherent() bool {
	return c.result == c.result.Kind().Base() && !slices.ContainsFunc(c.operands, func(o operand) bool {
		_, plain := o.options[0].bare()
		return !plain && o.options[0].text != "" || o.options[0].unit != o.options[0].unit.Kind().Base()
	})
}

// nearby are the samples: the values themselves first.
var nearby = []float64{1, 1.0625, 0.9375, 1.03125}

// sample works the rule where the operands have their own values, and near to
// them, in base units: these multiply out by themselves.
func (c *calculator) sample() {
	for n, by := range nearby {
		s := sample{at: make([]formula.Value, len(c.operands))}
		for i, operand := range c.operands {
			own := operand.options[0]
			s.at[i] = moved(own.value, own.unit.Kind(), math.Pow(by, 1+float64(i)/4))
		}
		got := c.work(s.at)
		if !isNumber(got) {
			if n == 0 {
				return
			}
			continue
		}
		s.want = inUnit(got, c.result)
		c.samples = append(c.samples, s)
	}
}

// moved is a value a little more or less.
func moved(v formula.Value, k unit.Kind, by float64) formula.Value {
	v.List = slices.Clone(v.List)
	for i, m := range v.List {
		v.List[i] = moved(m, k, by)
	}
	if k.IsPoint() {
		v.Number += 10 * (by - 1)
	} else {
		v.Number *= by
	}
	return v
}
