package render

import (
	"math"
	"slices"
)

// ticks are the rulings of one side of a chart, in its unit. From and to are
// the ends of the frame.
type ticks struct {
	from, to float64
	labelled []float64 // rising
	between  []float64 // ruled without a label
	places   []int     // of each label
}

// A side has so many labels at least and at most, where that can be.
const (
	leastLabels = 5
	mostLabels  = 7
)

// rulings says what a side is ruled for.
type rulings struct {
	lo, hi float64   // must lie in the frame
	own    []float64 // points of the table, rising, that may serve as labels
	whole  bool      // labels are whole numbers
	tens   bool
	fits   func(ticks) bool // whether the labels have room beside each other
}

// ticks rules a side: by the table's own points where these are even and few,
// else by round numbers.
func (r rulings) ticks() ticks {
	if r.hi <= r.lo {
		r.hi, r.lo = r.hi+spare(r.hi), r.lo-spare(r.lo)
	}
	if t := r.ownTicks(); len(t.labelled) > 0 {
		return t
	}
	if r.tens {
		return r.tensTicks()
	}
	return r.evenTicks()
}

// spare is how far a frame goes beyond figures that are all the same.
func spare(v float64) float64 {
	if v == 0 {
		return 1
	}
	return math.Abs(v) / 10
}

const (
	leastOwn = 4
	mostOwn  = 8
	// tickSlack is how far off a multiple of a step a float64 may be.
	tickSlack = 1e-9
)

// ownTicks are the table's own points as labels, so that a chart is ruled as
// the table's heads are; none where they are too few, too many, uneven, or
// have no room.
func (r rulings) ownTicks() ticks {
	n := len(r.own)
	if n < leastOwn || n > mostOwn || r.lo < r.own[0] || r.hi > r.own[n-1] {
		return ticks{}
	}
	t := ticks{from: r.own[0], to: r.own[n-1], labelled: r.own}
	places, step := 0, r.own[1]-r.own[0]
	for i, v := range r.own {
		places = max(places, placesFor(v))
		if i > 0 && !r.tens && math.Abs(v-r.own[i-1]-step) > tickSlack*math.Abs(step) {
			return ticks{}
		}
	}
	for _, v := range r.own {
		if r.tens {
			places = placesFor(v)
		}
		t.places = append(t.places, places)
	}
	if !r.fits(t) {
		return ticks{}
	}
	return t
}

// placesFor is how many decimal places a number needs, at most six.
func placesFor(v float64) int {
	const most = 6
	for places := range most {
		scaled := v * math.Pow(10, float64(places))
		if math.Abs(scaled-math.Round(scaled)) <= tickSlack*math.Max(1, math.Abs(scaled)) {
			return places
		}
	}
	return most
}

// evenTicks rules by a step of 1, 2, 2.5 or 5 times a power of ten: of those
// with five to seven labels the one that leaves the least of the frame empty.
func (r rulings) evenTicks() ticks {
	var best ticks
	worth := math.Inf(1)
	power := int(math.Floor(math.Log10((r.hi-r.lo)/mostLabels))) - 1
	for p := power; p <= power+3; p++ {
		for _, m := range []float64{1, 2, 2.5, 5} {
			t, ok := r.stepped(m, p)
			if !ok {
				continue
			}
			short := max(leastLabels-len(t.labelled), len(t.labelled)-mostLabels, 0)
			if w := 10*float64(short) + (t.to-t.from)/(r.hi-r.lo); w < worth-tickSlack {
				best, worth = t, w
			}
		}
	}
	return best
}

// stepped rules by one step; it is not ok where that is no ruling for the side.
func (r rulings) stepped(m float64, power int) (t ticks, ok bool) {
	places := max(0, -power)
	if m == 2.5 {
		places = max(0, 1-power)
	}
	if r.whole && places > 0 {
		return t, false
	}
	multiple := func(n float64) float64 { // a negative power is divided by, which is exact to the last place
		if power < 0 {
			return n*m/math.Pow10(-power) + 0
		}
		return n*m*math.Pow10(power) + 0
	}
	first, last := math.Floor(r.lo/multiple(1)+tickSlack), math.Ceil(r.hi/multiple(1)-tickSlack)
	const tooMany = 40
	if last-first > tooMany {
		return t, false
	}
	if last >= first {
		t.labelled, t.places = make([]float64, 0, int(last-first)+1), make([]int, 0, int(last-first)+1)
	}
	for n := first; n <= last; n++ {
		t.labelled, t.places = append(t.labelled, multiple(n)), append(t.places, places)
	}
	t.from, t.to = t.labelled[0], t.labelled[len(t.labelled)-1]
	return t, len(t.labelled) > 1 && r.fits(t)
}

// tensTicks rules as logarithmic paper is ruled: the frame ends at 1, 2 or 5
// times a power of ten, and of these as many are labelled as have room.
func (r rulings) tensTicks() ticks {
	t := ticks{from: r.roundTens(r.lo, false), to: r.roundTens(r.hi, true)}
	for _, marks := range [][]float64{{1, 2, 5}, {1, 2}, {1, 3}, {1}} {
		try := t
		for _, v := range r.inDecades(t, marks) {
			try.labelled, try.places = append(try.labelled, v), append(try.places, placesFor(v))
		}
		if len(try.labelled) >= 2 && len(try.labelled) <= mostLabels && r.fits(try) {
			t.labelled, t.places = try.labelled, try.places
			break
		}
	}
	switch even := r.evenTicks(); {
	case len(t.labelled) < 3 && even.from > 0 && len(even.labelled) > 2: // a piece of a decade
		return even
	case len(t.labelled) == 0:
		t = r.fewTens(t)
	}
	marks := []float64{1, 2, 3, 4, 5, 6, 7, 8, 9}
	const mostDecades = 4 // beyond which so many rulings would be a grey
	if math.Log10(t.to/t.from) > mostDecades {
		marks = marks[:1]
	}
	t.between = slices.DeleteFunc(r.inDecades(t, marks), func(v float64) bool { return slices.Contains(t.labelled, v) })
	return t
}

// fewTens labels every second power of ten, or every third, and so on.
func (r rulings) fewTens(t ticks) ticks {
	decades := r.inDecades(t, []float64{1})
	for skip := 2; skip <= len(decades); skip++ {
		try := ticks{from: t.from, to: t.to}
		for i := 0; i < len(decades); i += skip {
			try.labelled, try.places = append(try.labelled, decades[i]), append(try.places, placesFor(decades[i]))
		}
		if len(try.labelled) <= mostLabels && r.fits(try) {
			return try
		}
	}
	return ticks{from: t.from, to: t.to, labelled: []float64{t.from, t.to}, places: []int{placesFor(t.from), placesFor(t.to)}}
}

// inDecades returns the marks of every decade that lie in the frame.
func (r rulings) inDecades(t ticks, marks []float64) []float64 {
	var all []float64
	for p := int(math.Floor(math.Log10(t.from) - tickSlack)); p <= int(math.Ceil(math.Log10(t.to)+tickSlack)); p++ {
		for _, m := range marks {
			v := tenTimes(m, p)
			if v >= t.from*(1-tickSlack) && v <= t.to*(1+tickSlack) {
				all = append(all, v)
			}
		}
	}
	return all
}

// roundTens is the next 1, 2 or 5 times a power of ten.
func (r rulings) roundTens(v float64, up bool) float64 {
	p := int(math.Floor(math.Log10(v) + tickSlack))
	best := tenTimes(1, p)
	for _, m := range []float64{1, 2, 5, 10} {
		round := tenTimes(m, p)
		if up && round >= v*(1-tickSlack) {
			return round
		}
		if round <= v*(1+tickSlack) {
			best = round
		}
	}
	return best
}

func tenTimes(m float64, power int) float64 {
	if power < 0 {
		return m / math.Pow10(-power)
	}
	return m * math.Pow10(power)
}
