package trade_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"bindpost/calc/formula"
	"bindpost/calc/trade"
)

// TestWattsOfOtherKinds: peak watts, a total of channels driven singly, and
// watts of a kind that nobody knows are never the continuous watts of a
// channel, and a total is shared out among all its channels.
func TestWattsOfOtherKinds(t *testing.T) {
	for _, c := range []struct{ rating, channels, each string }{
		{"continuous", "", "120"}, {"total", "2", "60"}, {"total", "5", "24"},
		{"peak", "", ""}, {"singly", "", ""}, {"don't know", "", ""},
	} {
		t.Run(c.rating+c.channels, func(t *testing.T) {
			typed := with(map[string]string{"watts": "120 W", "rating": c.rating, "channels": c.channels}, nil)
			v, _ := result(t, "channel-share", "watts_each", typed)
			if told := v.State == formula.Known; told != (c.each != "") {
				t.Fatalf("120 W %s: %v %s", c.rating, v.Number, v.Why)
			} else if told && strconv.FormatFloat(v.Number, 'g', -1, 64) != c.each {
				t.Errorf("120 W %s over %s channels is %v, and %s is wanted", c.rating, c.channels, v.Number, c.each)
			}
		})
	}
}

// TestOneSineThreeNumbers: of one sine of 100 W the peak is 200 W, and a peak
// of 200 W is at most 100 W continuous; neither is taken for the other.
func TestOneSineThreeNumbers(t *testing.T) {
	peak, _ := result(t, "sine-power", "peak_power", map[string]string{"power": "100 W", "load": "8 ohm"})
	ceiling, _ := result(t, "channel-share", "ceiling", map[string]string{"watts": "200 W", "rating": "peak"})
	music, _ := result(t, "music-average", "average", map[string]string{"rated": "100 W", "crest": "15 dB"})
	if math.Abs(peak.Number-200) > 1e-9 || math.Abs(ceiling.Number-100) > 1e-9 {
		t.Errorf("a sine of 100 W peaks at %v, and a peak of 200 W holds %v", peak.Number, ceiling.Number)
	}
	if !(music.Number < 100.0/15) {
		t.Errorf("music of 15 dB crest takes %v of 100 W on average", music.Number)
	}
}

// TestClippingEndsAtTwiceTheWatts: a tone driven over its edge delivers more
// than the rating and never more than twice it, the power of a square wave.
func TestClippingEndsAtTwiceTheWatts(t *testing.T) {
	last := 1.0
	for _, over := range []string{"0.1", "1", "6", "10", "20", "40"} {
		v, text := result(t, "clipped-sine", "share", map[string]string{"over": over + " dB"})
		if !(v.Number > last && v.Number < 2) {
			t.Errorf("%s dB over the edge it delivers %v times its watts, and %v before", over, v.Number, last)
		}
		if printed := leading(t, text); printed < v.Number {
			t.Errorf("%v is printed as %s, which is less heat than there is", v.Number, text)
		}
		last = v.Number
	}
}

// TestCurrentLimitHolds: below the load at which the amperes run out a lower
// load takes fewer watts and not more, and the words say that it is so.
func TestCurrentLimitHolds(t *testing.T) {
	typed := map[string]string{"rated": "100 W", "rated_load": "8 ohm", "current_limit": "5 A"}
	for _, c := range []struct {
		load, grade string
		watts       float64
	}{{"8 ohm", "fits", 100}, {"6 ohm", "fits", 133.3333333}, {"4 ohm", "doubtful", 100}, {"2 ohm", "doubtful", 50}} {
		all := with(typed, map[string]string{"load": c.load})
		v, _ := result(t, "limited-load", "power", all)
		if got := verdict(t, "limited-load", all, "current"); math.Abs(v.Number-c.watts) > 1e-6 || got.Grade != c.grade {
			t.Errorf("%s: %v W, %s", c.load, v.Number, got.Grade)
		}
	}
}

// result is one result of a method and how it is printed.
func result(t *testing.T, name, wanted string, typed map[string]string) (formula.Value, string) {
	t.Helper()
	m, ok := trade.Library().Method(name)
	if !ok {
		t.Fatalf("no method %s", name)
	}
	v := m.Run(read(t, m.Sheet(), typed), wanted).Results.Of(wanted)
	return v, m.Sheet().Result(wanted).Text(v)
}

// leading is the number with which a printed figure begins.
func leading(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.Fields(text)[0], 64)
	if err != nil {
		t.Fatalf("%q begins with no number", text)
	}
	return x
}
