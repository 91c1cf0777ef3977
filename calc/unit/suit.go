package unit

import (
	"strings"

	"bindpost/calc/fault"
)

// suit sees that a typed value is of the kind of the wanted unit, and makes
// a sound level of plain decibels where one is wanted.
func (t *typed) suit(want Unit) *fault.Fault {
	if want.kind.Scale == SoundLevel && t.Unit == index()["dB"].unit {
		t.Unit = index()["dB SPL"].unit
		t.Value = t.Unit.ToBase(t.number)
		return nil
	}
	if t.Unit.symbol == "" && want.symbol != "" {
		return fault.At(t.numberAt, "%s has no unit, and %s is wanted", quoted(t.Text), kindWords(want)).
			Fix("%s", joined(shortened(t.Text), want.symbol))
	}
	if t.Unit.kind == want.kind {
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
	typed := t.Unit.symbol
	switch {
	case typed == "dB" && want.kind.IsPoint() && want.kind.Step() == t.Unit.kind:
		return want.symbol
	case t.Unit.kind.IsPoint() && t.Unit.kind.Step() == want.kind && t.Unit.mul == t.Unit.div:
		return want.symbol
	case want.kind.Scale == Temperature && typed == "K":
		return "°C"
	case want.kind.Scale == Temperature && typed == "F":
		return "°F"
	case want.kind == index()["ohm"].unit.kind && typed == "K":
		return "kohm"
	}
	return ""
}

// kindWords says what a unit counts; a percentage is told from other plain
// numbers.
func kindWords(u Unit) string {
	if u.symbol == "%" {
		return "a percentage"
	}
	return u.kind.String()
}

func exampleOf(u Unit) string {
	if u.symbol == "%" {
		return "5 %"
	}
	return u.kind.Example()
}
