package unit

import (
	"fmt"
	"strconv"
	"strings"
)

// spokenParts puts a compound unit into words, of one and of many. Only the
// last part before a "per" stands in the plural: newton metres per second.
func spokenParts(parts []part) (one, many string) {
	last := -1
	for i, p := range parts {
		if p.power() > 0 {
			last = i
		}
	}
	var ones, manys, under []string
	for i, p := range parts {
		if p.power() < 0 {
			under = append(under, p.spokenUnder())
			continue
		}
		ones = append(ones, powered(p.unit.one(), p))
		if i == last {
			manys = append(manys, powered(p.unit.Spoken(), p))
		} else {
			manys = append(manys, powered(p.unit.one(), p))
		}
	}
	return strings.Join(append(ones, under...), " "), strings.Join(append(manys, under...), " ")
}

func (p part) spokenUnder() string {
	if p.count != 0 {
		return "per " + strconv.FormatFloat(p.count, 'f', -1, 64) + " " + powered(p.unit.Spoken(), p)
	}
	return "per " + powered(p.unit.one(), p)
}

// powered says a power: square metres, pascals squared.
func powered(word string, p part) string {
	halves := p.halves
	if halves < 0 {
		halves = -halves
	}
	isLength := p.unit.Kind().isLength()
	switch {
	case halves == 2:
		return word
	case halves == 4 && isLength:
		return "square " + word
	case halves == 6 && isLength:
		return "cubic " + word
	case halves == 4:
		return word + " squared"
	case halves == 6:
		return word + " cubed"
	case halves == 1:
		return "root " + word
	}
	return word + " to the power " + strconv.FormatFloat(float64(halves)/2, 'f', -1, 64)
}

// Spoken returns the printed value in words for a screen reader: "8 ohms",
// "1 metre", "minus 10 decibels above one volt".
func (f Format) Spoken(v float64) string {
	number := f.Number(v)
	words := f.Unit.Spoken()
	if number == "1" || number == "−1" {
		words = f.Unit.one()
	}
	return strings.TrimSpace(fmt.Sprintf("%s %s", spokenNumber(number), words))
}

// spokenNumber says the signs of a printed number.
func spokenNumber(number string) string {
	number = strings.ReplaceAll(number, "−", "minus ")
	if gauge, ok := strings.CutSuffix(number, "/0"); ok {
		return gauge + " nought"
	}
	if mantissa, power, ok := strings.Cut(number, " × 10"); ok {
		return mantissa + " times 10 to the power " + strings.ReplaceAll(lowered(power), "-", "minus ")
	}
	return number
}
