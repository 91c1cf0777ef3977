package unit

import (
	"math"
	"strconv"
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

// decimal is 0.FIGURES times ten to the power of point. Figures begin and end
// with one other than 0; zero has none.
type decimal struct {
	negative bool
	figures  [kept]byte // '0' to '9'
	count    int        // of the figures
	point    int
}

// Numbers are cut to this many figures before they are rounded, so that the
// noise of float64 arithmetic moves no directed rounding and processors that
// differ in a last bit print alike.
const kept = 12

// cut returns x to twelve figures; x must be finite.
func cut(x float64) decimal {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		panic("unit: a number that is not finite reached the printer")
	}
	if n := math.Abs(x); n < wholeBelow && n == math.Trunc(n) {
		return wholeDecimal(x < 0, uint64(n))
	}
	return cutText(x)
}

// wholeBelow is the least whole number with more than twelve figures.
const wholeBelow = 1e12

// wholeDecimal returns a whole number of up to twelve figures: most numbers that
// authors type, and quicker than by their text.
func wholeDecimal(negative bool, n uint64) decimal {
	d := decimal{negative: negative}
	at := kept
	for ; n > 0; n /= 10 {
		at--
		d.figures[at] = '0' + byte(n%10)
	}
	d.count = copy(d.figures[:], d.figures[at:])
	d.point = d.count
	return d.tidy()
}

// cutText returns any finite number by the text that stands for it.
func cutText(x float64) decimal {
	var room [kept + len(".e-308")]byte
	text := strconv.AppendFloat(room[:0], math.Abs(x), 'e', kept-1, 64) // 1.23456789012e-05
	d := decimal{negative: x < 0, count: kept, point: 1}
	d.figures[0] = text[0]
	copy(d.figures[1:], text[len("1."):])
	d.point += exponent(text[len("1.")+kept-1+len("e"):])
	return d.tidy()
}

// exponent reads a sign and the digits behind it.
func exponent(text []byte) int {
	n := 0
	for _, c := range text[1:] {
		n = 10*n + int(c-'0')
	}
	if text[0] == '-' {
		return -n
	}
	return n
}

// isZero reports whether there are no figures.
func (d *decimal) isZero() bool { return d.count == 0 }

// tidy brings a decimal to its one form.
func (d decimal) tidy() decimal {
	for d.count > 0 && d.figures[d.count-1] == '0' {
		d.count--
	}
	if d.count == 0 {
		return decimal{}
	}
	return d
}

// one is one in a place, given as a power of ten.
func one(negative bool, place int) decimal {
	return decimal{negative: negative, figures: [kept]byte{'1'}, count: 1, point: place + 1}
}

// round keeps so many figures from the first on; none or fewer are left when
// the last place wanted lies before the first figure.
func (d decimal) round(figures int, way Rounding) decimal {
	if figures >= d.count {
		return d
	}
	away := way == Up && !d.negative || way == Down && d.negative ||
		way == Either && figures >= 0 && d.figures[figures] >= '5'
	place := d.point - figures // of the last figure wanted, as a power of ten
	d.count = max(figures, 0)
	if !away {
		return d.tidy()
	}
	if d.isZero() {
		return one(d.negative, place)
	}
	return d.next()
}

// next adds one to the last figure.
func (d decimal) next() decimal {
	for d.count > 0 && d.figures[d.count-1] == '9' {
		d.count--
	}
	if d.isZero() {
		return one(d.negative, d.point)
	}
	d.figures[d.count-1]++
	return d
}

// plain writes the decimal with so many places after the point.
func (d decimal) plain(places int) string {
	var room [64]byte
	b := room[:0]
	if d.negative {
		b = append(b, "−"...)
	}
	whole := max(0, min(d.point, d.count))
	b = append(b, d.figures[:whole]...)
	if !d.isZero() {
		b = zeros(b, d.point-d.count)
	}
	if d.isZero() || d.point <= 0 {
		b = append(b, '0')
	}
	if places > 0 {
		b = append(b, '.')
		end := len(b) + places
		b = zeros(b, -d.point)
		b = append(b, d.figures[whole:d.count]...)
		b = zeros(b, end-len(b))
	}
	return string(b)
}

// zeros appends so many zeros, none where there are less than none to append.
func zeros(b []byte, many int) []byte {
	for range many {
		b = append(b, '0')
	}
	return b
}

// tenPower writes the decimal as a number between 1 and 10 times a power of
// ten, with so many figures.
func (d decimal) tenPower(figures int) string {
	m := d
	m.point = 1
	return m.plain(figures-1) + " × 10" + raised(d.point-1)
}

// exactTens is the highest power of ten that a float64 holds exactly: one
// division by it, or product with it, is rounded once and so the nearest.
const exactTens = 22

// float returns the nearest float64.
func (d decimal) float() float64 {
	digits, power := 0.0, d.point-d.count
	for _, c := range d.figures[:d.count] {
		digits = 10*digits + float64(c-'0') // whole, and far below 2⁵³
	}
	x := 0.0
	switch {
	case power >= 0 && power <= exactTens:
		x = digits * math.Pow10(power)
	case power < 0 && power >= -exactTens:
		x = digits / math.Pow10(-power)
	default:
		x, _ = strconv.ParseFloat("0."+string(d.figures[:d.count])+"e"+strconv.Itoa(d.point), 64)
	}
	if d.negative {
		return -x
	}
	return x
}
