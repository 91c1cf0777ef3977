package trade

import (
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/method"
)

// TestTerms holds the shipped words of the trade to be whole: the pairs that
// the trade and its customers differ by are among them.
func TestTerms(t *testing.T) {
	all := Library().Terms()
	const fewest = 150
	if len(all) < fewest {
		t.Errorf("%d terms, want at least %d", len(all), fewest)
	}
	same := map[string]string{}
	for _, term := range all {
		for _, w := range append(append([]string{term.Name}, term.Others()...), term.Misspelt...) {
			same[w] += " " + term.Name
		}
	}
	for _, pair := range [][2]string{
		{"earth", "ground"}, {"aerial", "antenna"}, {"valve", "tube"}, {"hum", "buzz"}, {"lead", "cord"},
		{"record player", "gramophone"}, {"turntable", "gramophone"}, {"record output", "REC OUT"}, {"hum", "ground loop"}, {"amplifier", "amp"},
		{"impedance", "impedence"}, {"banana plug", "bannana"}, {"antenna", "antena"}, {"speaker", "speeker"}, {"ohm", "om"},
	} {
		if same[pair[0]] == "" || same[pair[0]] != same[pair[1]] {
			t.Errorf("%s stands under%s, and %s under%s", pair[0], same[pair[0]], pair[1], same[pair[1]])
		}
	}
}

// TestTermsKeptApart holds words apart that are often taken for one another:
// some of them kill, others burn a speaker, and the rest send a reader astray.
func TestTermsKeptApart(t *testing.T) {
	under := map[string][]string{}
	for _, term := range Library().Terms() {
		for _, w := range append([]string{term.Name}, term.Others()...) {
			under[strings.ToLower(w)] = append(under[strings.ToLower(w)], term.Name)
		}
	}
	for _, pair := range [][2]string{
		{"GND", "earth"}, {"GND", "mains"}, {"two squares", "two-core"}, {"double insulated", "two-core"}, {"overhead line", "headroom"},
		{"ringing", "resonance"}, {"switch box", "speaker selector"}, {"integrated amplifier", "amplifier"},
		{"REC OUT", "line output"}, {"bass speaker", "subwoofer"}, {"smoke", "smell"}, {"tingle", "shock"},
	} {
		for _, name := range under[strings.ToLower(pair[0])] {
			if slices.Contains(under[strings.ToLower(pair[1])], name) {
				t.Errorf("%s and %s both stand under %s", pair[0], pair[1], name)
			}
		}
	}
	for _, w := range strings.Fields("smoke smell tingle shock fire lightning storm ladder laser child capacitor GND") {
		if !slices.Contains(under[strings.ToLower(w)], w) {
			t.Errorf("somebody who is frightened looks for %q, which has no entry", w)
		}
	}
}

// TestTermsToldWrong reads entries that are not sound.
func TestTermsToldWrong(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"another's name", "earth: {also: [ground]}\nground: {also: [soil]}\n", `1:16: stop: "ground" has an entry of its own`},
		{"mistyped and a word", "earth: {also: [ground], misspelt: [Ground]}\n", `1:36: stop: "Ground" is a word, and stands among those mistyped`},
		{"twice", "earth: {also: [ground, ground]}\n", `1:24: stop: "ground" stands twice`},
		{"an unknown line", "earth: {alias: [ground]}\n", `1:9: stop: a term has no "alias"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, faults := method.Load(method.Sources{Terms: fault.NewText("terms.yaml", c.text)}, nil)
			if got := faults.String(); !strings.HasPrefix(got, "terms.yaml:"+c.want) {
				t.Errorf("got %s\nwant terms.yaml:%s", got, c.want)
			}
		})
	}
}
