package method

import (
	"math"
	"slices"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/unit"
)

// DontKnow is what an author types for a value that nobody knows.
const DontKnow = "don't know"

// mostPoints is the longest sweep of one value: more rows or columns than any
// printed table has.
const mostPoints = 200

// Read reads one typed value of the input. A value beyond the hard bounds
// stops; one beyond the usual range warns. A point whose value is not Known
// and not "don't know" was refused.
func (i *Input) Read(p fault.Place) (Point, *fault.List) {
	points, faults := i.ReadSweep(p)
	if len(points) > 1 {
		faults.Add(fault.At(p, "%s takes one value here, and %d stand", i.Name, len(points)).
			Want("one value, such as %s", points[0].Text))
	}
	if len(points) == 0 || faults.Stopped() {
		return Point{Place: p}, faults
	}
	return points[0], faults
}

// ReadSweep reads the cases of a sweep: values parted by a comma and a space,
// `from … to … by …`, or a single value. Members of one list are joined by
// `and`. It returns no points where a fault stops.
func (i *Input) ReadSweep(p fault.Place) ([]Point, *fault.List) {
	faults := &fault.List{}
	p = p.Trim()
	if p.String() == "" {
		faults.Add(fault.At(p, "%s has no value", i.Name).Want("%s", i.wanted()))
		return nil, faults
	}
	var points []Point
	switch {
	case i.Choice != nil:
		points = i.choices(p, faults)
	case i.Group == "" && isRange(p.String()):
		points = i.steps(p, faults)
	default:
		points = i.cases(p, faults)
	}
	if faults.Stopped() {
		return nil, faults
	}
	if len(points) > mostPoints {
		faults.Add(fault.At(p, "%s runs through %d values", i.Name, len(points)).Want("at most %d", mostPoints))
		return nil, faults
	}
	return points, faults
}

// wanted says what a value of the input looks like.
func (i *Input) wanted() string {
	switch {
	case i.Choice != nil:
		return "one of: " + strings.Join(i.Offered(), ", ")
	case len(i.Book) > 0:
		return "for example " + i.Book[0].Text
	}
	return "for example " + i.anyValue()
}

func (i *Input) choices(p fault.Place, faults *fault.List) []Point {
	var points []Point
	for _, part := range split(p, ", ") {
		word := part.String()
		switch {
		case word == DontKnow:
			points = append(points, i.dontKnow(part))
		case i.Group != "":
			points = append(points, i.words(part, faults))
		case slices.Contains(i.Choice, word):
			points = append(points, Point{Value: formula.Value{State: formula.Known, Word: word}, Text: i.Printed(word), Place: part})
		default:
			faults.Add(i.noWord(part))
		}
	}
	return points
}

// words reads a list of a choice's words, joined by `and`.
func (i *Input) words(p fault.Place, faults *fault.List) Point {
	list := Point{Value: formula.Value{State: formula.Known}, Place: p}
	var texts []string
	for _, part := range split(p, " and ") {
		word := part.String()
		if !slices.Contains(i.Choice, word) {
			faults.Add(i.noWord(part))
			continue
		}
		list.Value.List = append(list.Value.List, formula.WordOf(word))
		texts = append(texts, i.Printed(word))
	}
	list.Text = strings.Join(texts, " and ")
	return list
}

func (i *Input) dontKnow(p fault.Place) Point {
	return Point{Value: i.unknown(), Text: DontKnow, Place: p}
}

func (i *Input) unknown() formula.Value {
	return formula.Value{State: formula.Unknown, Why: i.Fact() + notKnown}
}

// cases reads values parted by commas. A bare number takes the unit of the
// last value, so that `12, 14, 16 AWG` reads as people write it.
func (i *Input) cases(p fault.Place, faults *fault.List) []Point {
	parts := split(p, ", ")
	if f := i.lastOnly(parts); f != nil {
		faults.Add(f)
		return nil
	}
	end := readEnd(parts)
	last := i.leveled(end.unit)
	points := make([]Point, 0, len(parts))
	for n, part := range parts {
		if n < len(parts)-1 && last.Symbol() == "" && i.lacksUnit(part) {
			continue // told once, at the last value
		}
		if part.String() == DontKnow {
			points = append(points, i.dontKnow(part))
			continue
		}
		switch {
		case i.Group == "" && part == end.at && end.value.Suits(i.Unit):
			points = append(points, i.known(end.value, part, faults))
			continue
		case i.Group == "":
			points = append(points, i.member(part, last, faults))
			continue
		}
		points = append(points, i.list(part, last, faults))
	}
	return points
}

// lacksUnit reports whether a value is a bare number where a unit is wanted.
func (i *Input) lacksUnit(p fault.Place) bool {
	q, f := unit.Read(p)
	return f == nil && q.Unit.Symbol() == "" && i.Unit.Symbol() != ""
}

func (i *Input) list(p fault.Place, last unit.Unit, faults *fault.List) Point {
	list := Point{Value: formula.Value{State: formula.Known}, Unit: i.Unit, Place: p}
	var texts []string
	one := true // all members in one unit, which then stands once, at the end
	for n, part := range split(p, " and ") {
		m := Point{Value: i.unknown(), Text: "-", Unit: list.Unit}
		switch s := part.String(); {
		case isAsked(s) && list.Asked > 0:
			faults.Add(fault.At(part, "two members of %s are asked for", i.Name).Want("one ?"))
		case isAsked(s):
			m.Text, list.Asked = askedMember, n+1
		case !isGap(s):
			m = i.member(part, last, faults)
			if n == 0 || list.Unit == i.Unit {
				list.Unit = m.Unit
			}
			for _, l := range m.Limits {
				list.Limits = append(list.Limits, Limits{Member: n, Low: l.Low, High: l.High})
			}
		}
		one = one && m.Unit == list.Unit
		list.Value.List = append(list.Value.List, m.Value)
		texts = append(texts, m.Text)
	}
	if one && list.Unit.Symbol() != "" && list.Limits == nil {
		for n := range texts {
			texts[n] = strings.TrimSpace(strings.TrimSuffix(texts[n], list.Unit.Symbol()))
		}
		list.Text = strings.Join(texts, " and ") + " " + list.Unit.Symbol()
		return list
	}
	list.Text = strings.Join(texts, " and ")
	return list
}

// isGap reports whether a member of a list is a gap: a dash, with the list's
// unit behind it where it is the last.
func isGap(s string) bool { return s == "-" || strings.HasPrefix(s, "- ") }

// askedMember stands in a list for the member that is asked for.
const askedMember = "?"

// isAsked reports whether a member of a list is the one that is asked for,
// with the list's unit behind it where it is the last.
func isAsked(s string) bool { return s == askedMember || strings.HasPrefix(s, askedMember+" ") }

// leveled returns the unit that a line of values means: where a sound level is
// wanted, the trade's plain "dB" is "dB SPL", as [unit.ReadAs] reads it.
func (i *Input) leveled(u unit.Unit) unit.Unit {
	if u.Symbol() == "dB" && i.Unit.Symbol() == "dB SPL" {
		return i.Unit
	}
	return u
}

// lineEnd is what a line of values ends with.
type lineEnd struct {
	unit  unit.Unit
	value unit.Quantity // where it could be read
	at    fault.Place   // of that value, when it is all of the last case; without a text otherwise
}

// lastUnit returns the unit that ends a line of values.
func lastUnit(parts []fault.Place) unit.Unit { return readEnd(parts).unit }

func readEnd(parts []fault.Place) lineEnd {
	end := parts[len(parts)-1]
	members := split(end, " and ")
	last := members[len(members)-1]
	if isGap(last.String()) || isAsked(last.String()) {
		u, _ := unit.Parse(last.Sub(1, len(last.String())).Trim())
		return lineEnd{unit: u}
	}
	value, amount, limited := cutLimits(last)
	q, f := unit.Read(value)
	if limited && f == nil && q.Unit.Symbol() == "" {
		q, f = unit.Read(byAmount(amount))
	}
	switch {
	case f != nil:
		return lineEnd{}
	case limited || len(members) > 1:
		return lineEnd{unit: q.Unit}
	}
	return lineEnd{unit: q.Unit, value: q, at: end}
}

// member reads one value and checks it against the bounds.
func (i *Input) member(p fault.Place, last unit.Unit, faults *fault.List) Point {
	if base, amount, ok := cutLimits(p); ok {
		return i.limited(base, amount, last, faults)
	}
	q, shares := i.sharing(p, last)
	if !shares {
		var f *fault.Fault
		if q, f = unit.ReadAs(p, i.Unit); f != nil {
			faults.Add(f)
			return Point{Place: p}
		}
	}
	return i.known(q, p, faults)
}

// known is the point of a value, which is checked against the bounds.
func (i *Input) known(q unit.Quantity, p fault.Place, faults *fault.List) Point {
	point := Point{Value: formula.Value{State: formula.Known, Number: q.Value}, Text: typed(q), Unit: q.Unit, Place: p}
	faults.Add(i.bounds(&point))
	return point
}

// sharing reads a bare number that has the unit of the last value of its line;
// false where a value is none, or the unit is not one of the input's.
func (i *Input) sharing(p fault.Place, last unit.Unit) (unit.Quantity, bool) {
	s := p.String()
	if last.Symbol() == "" || i.Unit.Symbol() == "" || last.Kind() != i.Unit.Kind() || s == "" || strings.HasSuffix(s, last.Symbol()) {
		return unit.Quantity{}, false
	}
	bare, f := unit.Read(p)
	if f != nil || bare.Unit.Symbol() != "" {
		return unit.Quantity{}, false
	}
	return unit.Quantity{Value: last.ToBase(bare.Value), Unit: last, Text: bare.Text + " " + last.Symbol()}, true
}

// bounds checks a known number against what the input allows.
func (i *Input) bounds(p *Point) *fault.Fault {
	v := p.Value.Number
	if i.Whole && !near(v, math.Round(v)) {
		return fault.At(p.Place, "%s is %s, which is no whole number", i.Name, p.Text).Want("%s", i.wanted())
	}
	if len(i.Among) > 0 {
		return i.among(p)
	}
	if f := i.outside(v); f != "" {
		return fault.At(p.Place, "%s is %s, %s", i.Name, p.Text, f).Want("%s", i.span())
	}
	if u := i.Usual; u != nil && (below(v, u.From.Value) || below(u.To.Value, v)) {
		return fault.At(p.Place, "%s is %s, which is unusual", i.Name, p.Text).
			Want("usually %s to %s", u.From.Text, u.To.Text).Graded(fault.Warn)
	}
	return nil
}

// takes reports whether the input allows a known number, usual or not.
func (i *Input) takes(v float64) bool {
	switch {
	case i.Whole && !near(v, math.Round(v)):
		return false
	case len(i.Among) > 0:
		return slices.ContainsFunc(i.Among, func(a Point) bool { return near(a.Value.Number, v) })
	}
	return (i.From == nil || !below(v, i.From.Value)) && (i.To == nil || !below(i.To.Value, v))
}

func (i *Input) among(p *Point) *fault.Fault {
	texts := make([]string, len(i.Among))
	for n, a := range i.Among {
		if near(a.Value.Number, p.Value.Number) {
			return nil
		}
		texts[n] = a.Text
	}
	return fault.At(p.Place, "%s is %s, which is not in the list", i.Name, p.Text).Want("one of: %s", strings.Join(texts, ", "))
}

// outside says on which side of the hard bounds a value lies; "" inside.
func (i *Input) outside(v float64) string {
	switch {
	case i.From != nil && below(v, i.From.Value):
		return "less than this method covers"
	case i.To != nil && below(i.To.Value, v):
		return "more than this method covers"
	}
	return ""
}

func (i *Input) span() string {
	switch {
	case i.To == nil && i.From == nil:
		return i.wanted()
	case i.To == nil:
		return "at least " + i.From.Text
	case i.From == nil:
		return "at most " + i.To.Text
	}
	return i.From.Text + " to " + i.To.Text
}

// isRange reports whether a value line is `from … to … by …`.
func isRange(s string) bool { return strings.Contains(s, " to ") }

// RunsThrough reports whether a value line is a range, `from … to … by …`, and
// so means more than the points that the table shows.
func RunsThrough(p fault.Place) bool { return isRange(p.String()) }

// RangeEnd returns the end of a range as it is written, which its step may not
// reach.
func (i *Input) RangeEnd(p fault.Place) (end float64, ok bool) {
	ends := split(p, " to ")
	if len(ends) != 2 {
		return 0, false
	}
	last := split(ends[1], " by ")[0]
	faults := &fault.List{}
	point := i.member(last, i.leveled(lastUnit([]fault.Place{last})), faults)
	return point.Value.Number, !faults.Stopped()
}

// steps reads `from … to … by …`. Each point is made from its number, not by
// adding steps up, so that the last one is as exact as the first.
func (i *Input) steps(p fault.Place, faults *fault.List) []Point {
	if _, amount, ok := cutLimits(p); ok {
		faults.Add(fault.At(amount, "a range of cases has no limits of its own").Want("values one by one, each with its ±, or a range without"))
		return nil
	}
	ends := split(p, " to ")
	var tail []fault.Place
	if len(ends) == 2 {
		tail = split(ends[1], " by ")
	}
	if len(tail) != 2 {
		faults.Add(fault.At(p, "this range of %s is not whole", i.Name).
			Want("from, to and step, such as 3 m to 15 m by 3 m").Fix("say by what step it goes, or list the values"))
		return nil
	}
	last := i.leveled(lastUnit(tail[:1]))
	from, to := i.member(ends[0], last, faults), i.member(tail[0], last, faults)
	q, f := unit.Read(ends[0])
	shown := last
	if f == nil && q.Unit.Symbol() != "" {
		shown = q.Unit
	}
	step := i.stride(tail[1], shown, faults)
	if faults.Stopped() {
		return nil
	}
	return i.between(from, to, step, shown, faults)
}

// stride reads the step of a range. On a scale `5 °C` means a step of 5 K.
func (i *Input) stride(p fault.Place, shown unit.Unit, faults *fault.List) float64 {
	step := i.Unit.Step()
	q, f := unit.Read(p)
	if f == nil && q.Unit.Kind() == i.Unit.Kind() && q.Unit.Kind().IsPoint() {
		q = unit.Quantity{Value: q.Unit.Step().ToBase(q.Unit.FromBase(q.Value)), Unit: q.Unit.Step()}
	} else if f == nil && q.Unit.Symbol() == "" && step.Symbol() != "" && shown.Kind() == i.Unit.Kind() {
		q = unit.Quantity{Value: shown.Step().ToBase(q.Value), Unit: shown.Step()}
	} else {
		q, f = unit.ReadAs(p, step)
	}
	if f != nil {
		faults.Add(f)
		return 0
	}
	if q.Value <= 0 {
		faults.Add(fault.At(p, "the step of %s is %q, and goes nowhere", i.Name, p.String()).Want("a step above nothing"))
	}
	return q.Value
}

func (i *Input) between(from, to Point, step float64, shown unit.Unit, faults *fault.List) []Point {
	span := to.Value.Number - from.Value.Number
	if span < 0 {
		faults.Add(fault.At(from.Place.To(to.Place), "this range of %s runs backwards", i.Name).
			Want("the lower end first").Fix("%s to %s", to.Text, from.Text))
		return nil
	}
	count := math.Floor(span/step*(1+1e-12)+1e-9) + 1
	if count > mostPoints {
		faults.Add(fault.At(from.Place.To(to.Place), "%s runs through %.0f values", i.Name, count).
			Want("at most %d", mostPoints).Fix("a longer step"))
		return nil
	}
	points := make([]Point, int(count))
	for n := range points {
		v := from.Value.Number + float64(n)*step
		points[n] = Point{
			Value: formula.Value{State: formula.Known, Number: v},
			Text:  typed(unit.Quantity{Value: v, Unit: shown}), Unit: shown, Place: from.Place.To(to.Place),
		}
	}
	return points
}

// split parts a place at a mark, and trims the parts.
func split(p fault.Place, mark string) []fault.Place {
	s, at := p.String(), 0
	parts := make([]fault.Place, 0, strings.Count(s, mark)+1)
	for {
		i := strings.Index(s[at:], mark)
		if i < 0 {
			return append(parts, p.Sub(at, len(s)).Trim())
		}
		parts = append(parts, p.Sub(at, at+i).Trim())
		at += i + len(mark)
	}
}

// typed prints a quantity in its own unit with as few digits as it needs; one
// that needs more than six decimals (33 1/3 rpm) is shown as it was typed.
func typed(q unit.Quantity) string {
	const mostPlaces = 6
	if text, ok := q.Unit.Shortest(q.Value, mostPlaces, near); ok {
		return text
	}
	if q.Text != "" {
		return q.Text
	}
	return unit.Format{Unit: q.Unit, Figures: 6}.Text(q.Value)
}

// closeness is how near two values must be, relative to the larger, to count
// as the same: the tolerance of the language's comparisons.
const closeness = 1e-9

func near(a, b float64) bool {
	return a == b || math.Abs(a-b) <= closeness*math.Max(math.Abs(a), math.Abs(b))
}

func below(a, b float64) bool { return a < b && !near(a, b) }
