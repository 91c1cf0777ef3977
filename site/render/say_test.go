package render

import (
	"html/template"
	"testing"

	"bindpost/calc/unit"
)

var spokenWords = newWords(map[string]string{
	"sign-minus": "minus", "sign-plus-minus": "plus or minus", "sign-at-most": "at most",
	"sign-at-least": "at least", "sign-times": "times", "sign-about": "about",
	"table-join": "{first}, {second}", "table-join-last": "{first} and {second}",
})

// heardAs writes what a page holds for a form that is read and a word that is
// heard.
func heardAs(written, word string) string {
	return `<span aria-hidden="true">` + written + `</span><span class="spoken">` + word + `</span>`
}

func TestComputed(t *testing.T) {
	const nb = "\u00a0"
	metres, decibels := heardAs("m", "metres"), heardAs("dB", "decibels")
	cases := []struct{ text, want string }{
		{"9 m", "9" + nb + metres},
		{"9 m, 0.5 dB", "9" + nb + metres + ", 0.5" + nb + decibels},
		{"8 ohm", "8" + nb + "ohm"},
		{"loss at most 0.5 dB", "loss at most 0.5" + nb + decibels},
		{"5 %", "5" + nb + heardAs("%", "percent")},
		{"−3 dB", heardAs("−", "minus ") + "3" + nb + decibels},
		{"± 2 dB", heardAs("±", "plus or minus ") + " 2" + nb + decibels},
		{"loss ≤ 1 dB", "loss " + heardAs("≤", "at most ") + " 1" + nb + decibels},
		{"0.2371 ohm ≈ 0.238 ohm", "0.2371" + nb + "ohm " + heardAs("≈", "about ") + " 0.238" + nb + "ohm"},
		{"run2 m", "run2 m"}, // a digit at the end of a name begins no figure
		{"copper", "copper"},
		{"", ""},
		{"a < b & c", "a &lt; b &amp; c"},
		{"12 and 16", "12 and 16"},
		{"9 metres", "9 metres"},
	}
	for _, c := range cases {
		t.Run(c.text, func(t *testing.T) {
			if got := string(spokenWords.computed(c.text)); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestQuantity(t *testing.T) {
	cases := []struct{ number, unit, want string }{
		{"16", "AWG", "16\u00a0" + heardAs("AWG", unit.Must("AWG").Spoken())},
		{"0.26", "dB", "0.26\u00a0" + heardAs("dB", "decibels")},
		{"8", "ohm", "8\u00a0ohm"},
		{"−0.1", "dB", heardAs("−", "minus ") + "0.1\u00a0" + heardAs("dB", "decibels")},
		{"copper", "number", "copper"},
	}
	for _, c := range cases {
		if got := string(spokenWords.quantity(c.number, unit.Must(c.unit))); got != c.want {
			t.Errorf("%s %s: got\n%s\nwant\n%s", c.number, c.unit, got, c.want)
		}
	}
}

func TestJoined(t *testing.T) {
	cases := []struct {
		things []string
		want   string
	}{
		{nil, ""},
		{[]string{"a"}, "a"},
		{[]string{"a", "b"}, "a and b"},
		{[]string{"a", "b", "c"}, "a, b and c"},
	}
	for _, c := range cases {
		var things []template.HTML
		for _, thing := range c.things {
			things = append(things, template.HTML(thing))
		}
		if got := string(spokenWords.joined(things)); got != c.want {
			t.Errorf("%q: got %q, want %q", c.things, got, c.want)
		}
	}
}

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{"": "", "a": "A.", "Done.": "Done.", "why?": "Why?", "éa": "Éa."} {
		if got := sentence(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// TestRows puts things in rows, also in the words of languages in which
// something stands before the first, or the second before it.
func TestRows(t *testing.T) {
	for _, c := range []struct{ join, last, want string }{
		{"{first}, {second}", "{first} and {second}", "a, b, c and d"},
		{"({first}+{second})", "[{first} and {second}]", "[((a+b)+c) and d]"},
		{"{second} < {first}", "{second} after {first}", "d after c &lt; b &lt; a"},
	} {
		w := newWords(map[string]string{"table-join": c.join, "table-join-last": c.last})
		if got := w.joined([]template.HTML{"a", "b", "c", "d"}); string(got) != c.want {
			t.Errorf("%s and %s: %s, want %s", c.join, c.last, got, c.want)
		}
		if got := w.joined([]template.HTML{"a"}) + w.joined(nil); got != "a" {
			t.Errorf("one thing and none: %s", got)
		}
	}
}
