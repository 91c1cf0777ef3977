package unit

import (
	"math"
	"sync"

	"bindpost/calc/fault"
)

// Quantity is a typed value.
type Quantity struct {
	Value float64 // in base units, finite
	Unit  Unit    // as typed; of "5 ft 6 in" the first
	Text  string  // as typed, without white space round it
}

// Read reads a typed value that takes up the whole place: "6 m", "16AWG",
// "-10 dBV", "33 1/3 rpm", "5 ft 6 in", "1/0 AWG", "1.79 dB/100 ft". A number
// without a unit is a plain number; whether that will do is for the caller
// to say, or for [ReadAs]. Anything else is a fault at the very character or
// word that is wrong.
func Read(p fault.Place) (Quantity, *fault.Fault) {
	r := newReader(p)
	t, f := r.all()
	if f != nil && f.Wanted == "" {
		f.Want("a number and its unit, such as 9 m")
	}
	return t.Quantity, f
}

// ReadAs reads a typed value as [Read] does and sees that it is of the kind
// of the wanted unit, in whichever unit. The unit must be typed unless a
// number without one is wanted. Where a sound level is wanted, "dB" is read
// as "dB SPL".
func ReadAs(p fault.Place, want Unit) (Quantity, *fault.Fault) {
	r := newReader(p)
	r.want, r.wants = want, true
	t, f := r.all()
	if f == nil {
		f = t.suit(want)
	}
	if f != nil {
		if f.Wanted == "" {
			f.Want("%s, such as %s", kindWords(want), exampleOf(want))
		}
		return Quantity{}, f
	}
	return t.Quantity, nil
}

// Suits reports whether a value that was read is of the kind of a wanted unit as
// it stands: [ReadAs] reads the same.
func (q Quantity) Suits(want Unit) bool {
	return q.Unit.Kind() == want.Kind() && (q.Unit.Symbol() != "" || want.Symbol() == "")
}

// ScanValue returns the length of the typed value at the head of s, with its
// sign, its unit and the inches after feet; 0: there is none. The value ends
// before the first word that is no unit.
func ScanValue(s string) int {
	r := &reader{s: s}
	if _, f := r.value(); f != nil {
		return 0
	}
	return r.at
}

// A typed value or a unit longer than this, in bytes, is refused before it is
// looked at.
const longestValue = 200

// reader reads one typed value from its text.
type reader struct {
	p     fault.Place
	s     string
	at    int
	want  Unit
	wants bool // this unit before another
}

func newReader(p fault.Place) reader {
	p = p.Trim()
	return reader{p: p, s: p.String()}
}

func (r *reader) rest() string                     { return r.s[r.at:] }
func (r *reader) place(start, end int) fault.Place { return r.p.Sub(start, end) }
func (r *reader) skip()                            { r.at += spaces(r.rest()) }

// typed is a value that has been read, with the places of its pieces.
type typed struct {
	Quantity
	number   float64 // in the unit
	numberAt fault.Place
	unitAt   fault.Place // empty when no unit was typed
}

// all reads a value that takes up the whole text.
func (r *reader) all() (typed, *fault.Fault) {
	if len(r.s) > longestValue {
		return typed{}, fault.At(r.p, "%s is too long for a value", quoted(r.s)).Want("at most %d characters", longestValue)
	}
	r.skip()
	t, f := r.value()
	if f != nil {
		return typed{}, f
	}
	end := r.at
	if r.skip(); r.at < len(r.s) {
		return typed{}, r.leftOver(t, end)
	}
	t.Text = r.s
	return t, nil
}

// value reads the value at the reader's head and leaves the reader behind it.
func (r *reader) value() (typed, *fault.Fault) {
	sign := 1.0
	if n := minus(r.rest()); n > 0 {
		sign = -1
		r.at += n
	} else {
		r.at += prefixOf(r.rest(), "+")
	}
	r.skip()
	a, f := r.amount()
	if f != nil {
		return typed{}, f
	}
	u, at := r.unit()
	if a.hollow && a.gauged && u.Symbol() == "" {
		u = index()["AWG"].unit // only a gauge is written so
	}
	if u.Kind().Scale == Gauge && a.gauged && sign > 0 {
		a.value, a.hollow, a.zero = a.gauge, false, true
	}
	if a.hollow {
		return typed{}, hollow(a, u)
	}
	t := typed{number: sign * a.value, numberAt: a.place, unitAt: at}
	t.Unit, t.Value = u, u.ToBase(t.number)
	if f := r.smaller(&t, a, sign); f != nil {
		return typed{}, f
	}
	return t, t.finite(a)
}

// hollow returns the fault of a fraction over nothing.
func hollow(a amount, u Unit) *fault.Fault {
	if u.Kind().Scale == Gauge {
		return fault.At(a.place, "%s is not a wire gauge", quoted(a.place.String())).
			Want("a wire gauge, from 40 AWG for thin wire to 4/0 AWG for the thickest")
	}
	return fault.At(a.place, "%s divides by nothing", quoted(a.place.String())).
		Want("a fraction such as 33 1/3, or a wire gauge from 1/0 to 4/0 AWG")
}

// finite returns a fault when a value is too large, or so small that nothing
// is left of it.
func (t typed) finite(a amount) *fault.Fault {
	if math.IsInf(t.Value, 0) {
		return tooLarge(a.place)
	}
	if !a.zero && (t.number == 0 || t.Value == 0 && t.Unit.zero() == 0) {
		return fault.At(a.place, "%s is too small to reckon with", quoted(a.place.String())).
			Want("a number that a calculator can hold")
	}
	return nil
}

// unit reads the unit at the reader's head, if there is one, and its place.
func (r *reader) unit() (Unit, fault.Place) {
	gap := spaces(r.rest())
	u, n := scanUnit(r.rest()[gap:], true)
	if n == 0 {
		return Unit{}, fault.Place{}
	}
	start := r.at + gap
	r.at = start + n
	return u, r.place(start, r.at)
}

// parted are the units that are typed one after the other, large and small.
var parted = []struct {
	large, small string
	many         float64 // of the small in the large
}{
	{"ft", "in", 12},
	{"lb", "oz", 16},
	{"h", "min", 60},
	{"min", "s", 60},
	{"deg", "arcmin", 60},
}

// partedLarge are the large ones of these.
var partedLarge = sync.OnceValue(func() []Unit {
	var all []Unit
	for _, pair := range parted {
		all = append(all, index()[pair.large].unit)
	}
	return all
})

// smaller reads the "6 in" of "5 ft 6 in" and adds it to the value.
func (r *reader) smaller(t *typed, a amount, sign float64) *fault.Fault {
	if !a.whole {
		return nil
	}
	for i, pair := range parted {
		if t.Unit != partedLarge()[i] {
			continue
		}
		back := r.at
		r.skip()
		b, f := r.amount()
		u, at := r.unit()
		if f != nil || b.hollow || u != index()[pair.small].unit {
			r.at = back
			return nil
		}
		if b.value >= pair.many {
			p := b.place.To(at)
			return fault.At(p, "%s is a whole %s or more", quoted(p.String()), t.Unit.one()).
				Want("less than %v %s after the %s", pair.many, u.Spoken(), t.Unit.Spoken())
		}
		t.Value = u.ToBase(sign * (a.value*pair.many + b.value))
		return nil
	}
	return nil
}
