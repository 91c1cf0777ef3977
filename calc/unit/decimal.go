package unit

import (
	"math"
	"strconv"
	"strings"
)

// Rounding is the direction in which a printed number may leave the computed
// one.
type Rounding uint8

const (
	Either Rounding = iota // to the nearest; halves away from zero
	Up                     // on the number line, also below zero
	Down
)

// Way returns the way of a rounding that has only one, "up" or "down", and else
// "".
func (r Rounding) Way() string {
	switch r {
	case Up:
		return "up"
	case Down:
		return "down"
	}
	return ""
}

// decimal is 0.DIGITS times ten to the power of point. Digits begin and end
// with a figure other than 0; zero has none.
type decimal struct {
	negative bool
	digits   string
	point    int
}

// Numbers are cut to this many figures before they are rounded, so that the
// noise of float64 arithmetic moves no directed rounding and processors that
// differ in a last bit print alike.
const kept = 12

// cut returns x to twelve figures; x must be finite.
func cut(x float64) decimal {
	text := strconv.FormatFloat(math.Abs(x), 'e', kept-1, 64)
	mantissa, power, _ := strings.Cut(text, "e")
	exponent, err := strconv.Atoi(power)
	if err != nil {
		panic("unit: a number that is not finite reached the printer")
	}
	return decimal{x < 0, strings.Replace(mantissa, ".", "", 1), exponent + 1}.tidy()
}

// tidy brings a decimal to its one form.
func (d decimal) tidy() decimal {
	led := strings.TrimLeft(d.digits, "0")
	d.point -= len(d.digits) - len(led)
	d.digits = strings.TrimRight(led, "0")
	if d.digits == "" {
		return decimal{}
	}
	return d
}

// round keeps so many figures from the first on; none or fewer are left when
// the last place wanted lies before the first figure.
func (d decimal) round(figures int, way Rounding) decimal {
	if figures >= len(d.digits) {
		return d
	}
	away := way == Up && !d.negative || way == Down && d.negative ||
		way == Either && figures >= 0 && d.digits[figures] >= '5'
	unit := d.point - figures // of the last place wanted, as a power of ten
	d.digits = d.digits[:max(figures, 0)]
	if !away {
		return d.tidy()
	}
	if d.digits == "" {
		return decimal{d.negative, "1", unit + 1}
	}
	return d.next()
}

// next adds one to the last figure.
func (d decimal) next() decimal {
	nines := len(d.digits) - len(strings.TrimRight(d.digits, "9"))
	head := d.digits[:len(d.digits)-nines]
	if head == "" {
		return decimal{d.negative, "1", d.point + 1}
	}
	last := len(head) - 1
	d.digits = head[:last] + string(head[last]+1)
	return d
}

// plain writes the decimal with so many places after the point.
func (d decimal) plain(places int) string {
	whole, fraction := "0", ""
	switch {
	case d.point >= len(d.digits):
		if d.digits != "" {
			whole = d.digits + strings.Repeat("0", d.point-len(d.digits))
		}
	case d.point > 0:
		whole, fraction = d.digits[:d.point], d.digits[d.point:]
	default:
		fraction = strings.Repeat("0", -d.point) + d.digits
	}
	if places > 0 {
		whole += "." + fraction + strings.Repeat("0", places-len(fraction))
	}
	return d.sign() + whole
}

// tenPower writes the decimal as a number between 1 and 10 times a power of
// ten, with so many figures.
func (d decimal) tenPower(figures int) string {
	m := d
	m.point = 1
	return m.plain(figures-1) + " × 10" + raised(d.point-1)
}

func (d decimal) sign() string {
	if d.negative {
		return "−"
	}
	return ""
}

// float returns the nearest float64.
func (d decimal) float() float64 {
	x, _ := strconv.ParseFloat("0."+d.digits+"e"+strconv.Itoa(d.point), 64)
	if d.negative {
		return -x
	}
	return x
}
