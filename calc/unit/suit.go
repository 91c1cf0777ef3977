package unit

import (
	"strings"

	"bindpost/calc/fault"
)

// suit sees that a typed value is of the kind of the wanted unit, and makes
// a sound level of plain decibels where one is wanted.
func (t *typed) suit(want Unit) *fault.Fault {
	if want.Kind().Scale == SoundLevel && t.Unit == index()["dB"].unit {
		t.Unit = index()["dB SPL"].unit
		t.Value = t.Unit.ToBase(t.number)
		return nil
	}
	if t.Unit.Symbol() == "" && want.Symbol() != "" {
		return fault.At(t.numberAt, "%s has no unit, and %s is wanted", quoted(t.Text), kindWords(want)).
			Fix("%s", joined(shortened(t.Text), want.Symbol()))
	}
	if t.Unit.Kind() == want.Kind() {
		return nil
	}
	at := t.unitAt
	if at.Text == nil {
		at = t.numberAt
	}
	f := fault.At(at, "%s is %s, and %s is wanted", quoted(t.Text), kindWords(t.Unit), kindWords(want))
	if meant := t.meant(want); meant != "" {
		number := strings.TrimSpace(strings.TrimSuffix(t.Text, t.unitAt.String()))
		f.Fix("%s", joined(shortened(number), meant))
	}
	return f
}

// meant returns the unit that a unit of another kind was likely typed for,
// "" when there is no telling.
func (t *typed) meant(want Unit) string {
	typed := t.Unit.Symbol()
	switch {
	case typed == "dB" && want.Kind().IsPoint() && want.Kind().Step() == t.Unit.Kind():
		return want.Symbol()
	case t.Unit.Kind().IsPoint() && t.Unit.Kind().Step() == want.Kind() && t.Unit.isEven():
		return want.Symbol()
	case want.Kind().Scale == Temperature && typed == "K":
		return "°C"
	case want.Kind().Scale == Temperature && typed == "F":
		return "°F"
	case want.Kind() == index()["ohm"].unit.Kind() && typed == "K":
		return "kohm"
	}
	return ""
}

// kindWords says what a unit counts; a percentage is told from other plain
// numbers.
func kindWords(u Unit) string {
	if u.Symbol() == "%" {
		return "a percentage"
	}
	return u.Kind().String()
}

func exampleOf(u Unit) string {
	if u.Symbol() == "%" {
		return "5 %"
	}
	return u.Kind().Example()
}
