package formula

import "math"

// function is one built-in function: a row of the table from which the parser,
// the check, the evaluation and every other face of the language are made.
// Each row must have every face; a test holds the table to it.
type function struct {
	name        string
	least, most int  // how many arguments it takes; most 0 means any number
	conditions  bool // its arguments are conditions
	rule        rule // of the kinds of its arguments and its value
	// value works it on numbers in base units. Why says what is wrong with
	// the first argument when there is no value: "is below 0".
	value func(x []float64) (y float64, why string)
}

// rule says which kinds a function takes and what kind it gives.
type rule uint8

const (
	plainRule rule = iota // a plain number -> a plain number
	rootRule              // a quantity -> its root
	angleRule             // an angle -> a plain number
	arcRule               // a plain number -> an angle
	stepRule              // a quantity, and no point -> the same
	equalRule             // quantities of one kind, or one list -> the same
	sumRule               // a list, and not of points -> one of its members' kind
	countRule             // a list -> a plain number
	tallyRule             // conditions -> a plain number
)

// functions is the table of built-in functions. It stays short: every row
// needs a value, a range, a printed form and a script.
var functions = [...]function{
	{name: "sqrt", least: 1, most: 1, rule: rootRule, value: sqrt},
	{name: "log10", least: 1, most: 1, rule: plainRule, value: logarithm(math.Log10)},
	{name: "log2", least: 1, most: 1, rule: plainRule, value: logarithm(logTwo)},
	{name: "ln", least: 1, most: 1, rule: plainRule, value: logarithm(math.Log)},
	{name: "exp", least: 1, most: 1, rule: plainRule, value: always(math.Exp)},
	{name: "sin", least: 1, most: 1, rule: angleRule, value: always(math.Sin)},
	{name: "cos", least: 1, most: 1, rule: angleRule, value: always(math.Cos)},
	{name: "tan", least: 1, most: 1, rule: angleRule, value: always(math.Tan)},
	{name: "asin", least: 1, most: 1, rule: arcRule, value: arc(arcsine)},
	{name: "acos", least: 1, most: 1, rule: arcRule, value: arc(arccosine)},
	{name: "atan", least: 1, most: 1, rule: arcRule, value: always(math.Atan)},
	{name: "abs", least: 1, most: 1, rule: stepRule, value: always(math.Abs)},
	{name: "sinc", least: 1, most: 1, rule: plainRule, value: always(sinc)},
	{name: "round", least: 1, most: 1, rule: plainRule, value: always(round)},
	{name: "roundup", least: 1, most: 1, rule: plainRule, value: always(roundUp)},
	{name: "rounddown", least: 1, most: 1, rule: plainRule, value: always(roundDown)},
	{name: "min", least: 1, rule: equalRule, value: least},
	{name: "max", least: 1, rule: equalRule, value: most},
	{name: "sum", least: 1, most: 1, rule: sumRule, value: sum},
	{name: "count", least: 1, most: 1, rule: countRule, value: count},
	{name: "tally", least: 1, conditions: true, rule: tallyRule, value: sum},
}

// builtin returns the row of a built-in function, and nil for any other name.
func builtin(name string) *function {
	for i := range functions {
		if functions[i].name == name {
			return &functions[i]
		}
	}
	return nil
}

// folds reports whether a call of the function with so many arguments makes
// one value of a list.
func (f *function) folds(args int) bool {
	return f.rule == sumRule || f.rule == countRule || f.rule == equalRule && args == 1
}

func always(f func(float64) float64) func([]float64) (float64, string) {
	return func(x []float64) (float64, string) { return f(x[0]), "" }
}

func logarithm(f func(float64) float64) func([]float64) (float64, string) {
	return func(x []float64) (float64, string) {
		switch {
		case x[0] == 0:
			return 0, "is 0"
		case x[0] < 0:
			return 0, "is below 0"
		}
		return f(x[0]), ""
	}
}

func arc(f func(float64) float64) func([]float64) (float64, string) {
	return func(x []float64) (float64, string) {
		switch {
		case x[0] > 1:
			return 0, "is above 1"
		case x[0] < -1:
			return 0, "is below -1"
		}
		return f(x[0]), ""
	}
}

func sqrt(x []float64) (float64, string) {
	if x[0] < 0 {
		return 0, "is below 0"
	}
	return math.Sqrt(x[0]), ""
}

// sinc is sin x over x, and 1 at 0, where the quotient has no value.
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}

// nearWhole is how far from a whole number a value still counts as one when it
// is rounded, so that noise in the last digits never moves it a whole step.
const nearWhole = 1e-9

func wholeNear(x float64) (float64, bool) {
	r := math.Round(x)
	return r, math.Abs(x-r) <= nearWhole
}

func round(x float64) float64 { return math.Round(x) }

func roundUp(x float64) float64 {
	if r, ok := wholeNear(x); ok {
		return r
	}
	return math.Ceil(x)
}

func roundDown(x float64) float64 {
	if r, ok := wholeNear(x); ok {
		return r
	}
	return math.Floor(x)
}

func least(x []float64) (float64, string) {
	y := math.Inf(1)
	for _, v := range x {
		y = math.Min(y, v)
	}
	return y, ""
}

func most(x []float64) (float64, string) {
	y := math.Inf(-1)
	for _, v := range x {
		y = math.Max(y, v)
	}
	return y, ""
}

func sum(x []float64) (float64, string) {
	y := 0.0
	for _, v := range x {
		y += v
	}
	return y, ""
}

func count(x []float64) (float64, string) { return float64(len(x)), "" }
