package method

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// put is what stands in a worked line for a name or a number of the rule: its
// text, and what that is worth.
type put struct {
	text  string
	value formula.Value // in base units; a word has no unit and is not worked with
	unit  unit.Unit     // in which the text gives it
}

// shown is a name's value as the worked line prints it. A value that is no
// number is not put in.
func (p printer) shown(r *run, name string) (put, bool) {
	if !r.data.names(name) {
		return put{}, false
	}
	v := r.Value(name)
	if v.State != formula.Known || v.List != nil && !eachKnown(v.List) {
		return put{}, false
	}
	if v.Word != "" {
		return put{text: v.Word, value: v}, true
	}
	if st := r.data.byName[name]; st != nil {
		v = p.onPage(r, st)
		return put{p.text(r, st, v), v, p.format(r, st).Unit}, true
	}
	if v, f, bound := p.bound(r, name); bound {
		f.Figures = plain(f, v)
		return put{(&Result{Format: f}).Text(v), v, f.Unit}, true
	}
	if in := r.data.sheet.Input(name); in != nil {
		if t := r.in.taken(in); t.Point.Text != "" {
			return put{t.Point.Text, v, unitOf(t.Point, in)}, true
		}
	}
	if c, ok := r.data.constants[name]; ok {
		n := c.number
		return put{typed(unit.Quantity{Value: n.Value, Unit: n.Unit, Text: n.Text}), v, n.Unit}, true
	}
	return put{}, false
}

// unitOf is the unit in which a typed value stands.
func unitOf(p Point, in *Input) unit.Unit {
	if p.Unit.Kind() != in.Unit.Kind() {
		return in.Unit
	}
	return p.Unit
}

// bare is the number that somebody who heeds no units reads, or one for each
// member of a list. It is false for what is written otherwise than as a
// number in its unit: 5 ft 6 in, 33 1/3 rpm, 1/0 AWG.
func (p put) bare() (formula.Value, bool) {
	v := inUnit(p.value, p.unit)
	texts, members := []string{p.text}, []formula.Value{v}
	if v.List != nil {
		texts, members = strings.Split(p.text, " and "), v.List
	}
	if len(texts) != len(members) {
		return v, false
	}
	for i, m := range members {
		text := strings.Replace(strings.TrimSpace(texts[i]), "−", "-", 1)
		digits := strings.TrimPrefix(text, "-")
		n := unit.ScanNumber(digits)
		x, err := strconv.ParseFloat(digits[:n], 64)
		if digits != text {
			x = -x
		}
		if err != nil || strings.Contains(digits[n:], "×") || !near(x, m.Number) {
			return v, false
		}
	}
	return v, true
}

// inUnit is a value, or each member of a list, counted in a unit.
func inUnit(v formula.Value, u unit.Unit) formula.Value {
	v.List = slices.Clone(v.List)
	for i, m := range v.List {
		v.List[i] = inUnit(m, u)
	}
	if v.State == formula.Known && v.List == nil {
		v.Number = u.FromBase(v.Number)
	}
	return v
}

// in is the same value in another unit, with all the digits it needs.
func (p put) in(u unit.Unit) put {
	members := []formula.Value{p.value}
	if p.value.List != nil {
		members = p.value.List
	}
	var numbers []string
	for _, m := range members {
		numbers = append(numbers, writtenOut(u.FromBase(m.Number)))
	}
	last := len(numbers) - 1
	numbers[last] = unitBehind(numbers[last], u)
	return put{strings.Join(numbers, " and "), p.value, u}
}

// writtenOut writes a number out, to as many figures as a worked line has at most.
func writtenOut(x float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', mostFigures, 64), 64)
	if err != nil || math.IsInf(short, 0) {
		short = x
	}
	return strings.Replace(strconv.FormatFloat(short+0, 'f', -1, 64), "-", "−", 1)
}

// unitBehind sets a unit behind a number, as it is printed there.
func unitBehind(number string, u unit.Unit) string {
	return strings.Replace(unit.Format{Unit: u}.Text(u.ToBase(2)), "2", number, 1)
}
