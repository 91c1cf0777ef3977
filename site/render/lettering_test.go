package render

import (
	"html/template"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

func TestPushApart(t *testing.T) {
	one := []string{"a"}
	cases := []struct {
		name string
		y    []float64
		want []float64
	}{
		{"far apart", []float64{20, 60, 100}, []float64{20, 60, 100}},
		{"two at one place", []float64{50, 50}, []float64{41, 59}},
		{"three, a group that grows", []float64{50, 52, 70}, []float64{39.3, 57.3, 75.3}},
		{"at the top", []float64{0, 1}, []float64{9, 27}},
		{"at the foot", []float64{199, 200}, []float64{173, 191}},
		{"in any order", []float64{100, 20}, []float64{100, 20}},
		{"none", nil, nil},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var names []named
			for _, y := range c.y {
				names = append(names, named{text: one, y: y})
			}
			pushApart(names, 0, 200)
			var got []float64
			for _, n := range names {
				got = append(got, math.Round(n.at*10)/10)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("lines that end at %v are named at %v, want %v", c.y, got, c.want)
			}
		})
	}
}

// TestNamesNeverCover tries many ends of lines: no name covers another, all
// stay in the frame, and they stand in the order of the ends.
func TestNamesNeverCover(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 9))
	for range 5_000 {
		var names []named
		for range 1 + random.IntN(8) {
			text := []string{"a", "b"}
			names = append(names, named{text: text[:1+random.IntN(2)], y: 300 * random.Float64()})
		}
		pushApart(names, 0, 300)
		slices.SortFunc(names, func(a, b named) int { return int(math.Copysign(1, a.at-b.at)) })
		for i, n := range names {
			if n.at-n.height()/2 < -1e-9 || n.at+n.height()/2 > 300+1e-9 {
				t.Fatalf("a name stands outside: %+v", names)
			}
			if i > 0 && (n.at-names[i-1].at < (n.height()+names[i-1].height())/2-1e-9 || n.y < names[i-1].y) {
				t.Fatalf("two names cover one another, or stand in the wrong order: %+v", names)
			}
		}
	}
}

func TestWrapped(t *testing.T) {
	for text, want := range map[string][]string{
		"":                          {""},
		"16 AWG":                    {"16 AWG"},
		"aerial socket on a set":    {"aerial socket", "on a set"},
		"anunbreakablylongwordhere": {"anunbreakablylongwordhere"},
	} {
		if got := wrapped(text, 115); !slices.Equal(got, want) {
			t.Errorf("%q is parted into %q, want %q", text, got, want)
		}
	}
}

// TestBroken: no part of a word is wider than the room, and no letter is lost.
func TestBroken(t *testing.T) {
	for _, text := range []string{"", "a mixer", strings.Repeat("mixer", 60), "the " + strings.Repeat("w", 30) + " of old", "öüäß" + strings.Repeat("éW", 40)} {
		got := broken(text, 115)
		for _, line := range wrapped(got, 115) {
			if measured(line) > 115 {
				t.Errorf("%q is wider than there is room for", line)
			}
		}
		if whole := strings.ReplaceAll(got, "- ", ""); whole != text {
			t.Errorf("%q became %q", text, whole)
		}
	}
}

// TestMeasured holds the widths to be never less than those of the type: the
// digits of Liberation Sans are 556 thousandths wide, its m 833 and its l 222,
// read with fontTools from the font's hmtx table.
func TestMeasured(t *testing.T) {
	for text, thousandths := range map[string]float64{"0123456789": 5560, "mm": 1666, "ll": 444, "AWG": 667 + 944 + 778, "dB SPL": 556 + 667 + 278 + 667 + 667 + 556} {
		exact := thousandths / 1000 * lettering
		if got := measured(text); got < exact*0.97 || got > exact*1.15 {
			t.Errorf("%q is taken to be %g wide, and is %g", text, got, exact)
		}
	}
}

func TestSeenAndAloud(t *testing.T) {
	h := template.HTML(`Loss, 5` + noBreak + `<b>` + `<span aria-hidden="true">dB</span><span class="spoken">decibels</span></b> &amp; more`)
	if got := seen(h); got != "Loss, 5 dB & more" {
		t.Errorf("eyes read %q", got)
	}
	if got := aloud(h); got != "Loss, 5 decibels & more" {
		t.Errorf("ears hear %q", got)
	}
}
