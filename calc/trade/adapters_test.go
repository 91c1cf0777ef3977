package trade_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/trade"
	"bindpost/calc/wiring"
)

// ownCatalogue reads the shipped catalogue for itself.
func ownCatalogue(t *testing.T) *trade.Catalogue {
	t.Helper()
	text, err := os.ReadFile("catalogue.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, faults := trade.ReadCatalogue("trade", fault.NewText("catalogue.yaml", string(text)))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return c
}

func chainOf(t *testing.T, from, to string) *method.Outcome {
	t.Helper()
	m, ok := trade.Library().Method("adapter-chain")
	if !ok {
		t.Fatal("there is no adapter-chain")
	}
	return m.Run(read(t, m.Sheet(), map[string]string{"from": from, "to": to}))
}

// eachPair calls do with every pair that may be asked about.
func eachPair(t *testing.T, do func(from, to string, o *method.Outcome)) {
	t.Helper()
	m, _ := trade.Library().Method("adapter-chain")
	for _, from := range m.Sheet().Input("from").Choice {
		for _, to := range m.Sheet().Input("to").Choice {
			do(from, to, chainOf(t, from, to))
		}
	}
}

// TestEveryPairIsAnswered sees that each pair has a way, or a reason of its own
// and what would help, and never both; that parts, count and way agree; and
// that every answer says where it comes from.
func TestEveryPairIsAnswered(t *testing.T) {
	ways := map[string]int{}
	eachPair(t, func(from, to string, o *method.Outcome) {
		parts, count, way := o.Results.Of("parts"), o.Results.Of("count"), o.Results.Of("way").Word
		ways[way]++
		if len(o.References) == 0 || o.Faults.Len() > 0 {
			t.Errorf("%s to %s: %d references, faults %s", from, to, len(o.References), o.Faults)
		}
		if way == "no way" {
			if parts.State != formula.None || count.State != formula.None || !strings.Contains(parts.Why, "; what helps: ") {
				t.Errorf("%s to %s: no way, and it says %q", from, to, parts.Why)
			}
			return
		}
		if parts.State != formula.Known || len(parts.List) != int(count.Number) || (way == "direct") != (count.Number == 0) {
			t.Errorf("%s to %s: %d parts are counted %v, and the way is %s", from, to, len(parts.List), count.Number, way)
		}
	})
	for _, way := range []string{"direct", "passive", "active", "no way"} {
		if ways[way] == 0 {
			t.Errorf("no pair is %q", way)
		}
	}
}

// TestRulesOfTheCatalogue takes the parts away that alone may turn one signal
// into another, and sees that no way is left between the two.
func TestRulesOfTheCatalogue(t *testing.T) {
	digital := []string{"digital", "light", "HDMI", "balanced digital"}
	analogue := []string{"line", "headphone", "speaker"}
	cases := []struct {
		name     string
		from, to []string // signals
		only     []string // the parts that may lead there
		active   bool     // each of them needs power
	}{
		{"speaker level to line", []string{"speaker"}, []string{"line"}, []string{"line-output converter"}, false},
		{"digital to analogue", digital, analogue, []string{"digital-to-analogue converter", "HDMI sound extractor"}, true},
		{"analogue to digital", analogue, digital, nil, false},
		{"a cartridge to line", []string{"moving magnet", "moving coil"}, analogue, []string{"phono preamplifier", "phono preamplifier for moving coil"}, true},
		{"moving coil to moving magnet", []string{"moving coil"}, []string{"moving magnet"}, []string{"step-up transformer"}, false},
		{"line to loudspeakers", []string{"line"}, []string{"speaker"}, []string{"amplifier"}, true},
		{"line to headphones", []string{"line"}, []string{"headphone"}, []string{"headphone amplifier"}, true},
		{"light to coaxial", []string{"light"}, []string{"digital"}, []string{"optical to coaxial converter"}, true},
		{"coaxial to light", []string{"digital"}, []string{"light"}, []string{"coaxial to optical converter"}, true},
		{"anything but a cartridge to a phono input", append(slices.Clone(digital), append(analogue, "one channel", "ceramic", "radio", "AM", "ground", "picture")...),
			[]string{"moving magnet", "moving coil"}, nil, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			own := ownCatalogue(t)
			for _, p := range own.Parts {
				if slices.Contains(c.only, p.Name) && p.Active != c.active {
					t.Errorf("%s: active is %v", p.Name, p.Active)
				}
			}
			if len(c.only) > 0 && !joins(&own.Catalogue, c.from, c.to) {
				t.Error("no way leads there at all")
			}
			own.Parts = slices.DeleteFunc(own.Parts, func(p *wiring.Part) bool { return slices.Contains(c.only, p.Name) })
			if joins(&own.Catalogue, c.from, c.to) {
				t.Errorf("a way leads there without %v", c.only)
			}
		})
	}
}

// joins reports whether any way leads from one of some signals to another.
func joins(c *wiring.Catalogue, from, to []string) bool {
	for _, a := range c.Connectors {
		for _, b := range c.Connectors {
			if slices.Contains(from, a.Signal) && slices.Contains(to, b.Signal) && a.Signal != b.Signal {
				if _, found := c.Find(a.Name, b.Name); found {
					return true
				}
			}
		}
	}
	return false
}

// TestCautionsOfAWay sees that a way brings the cautions of what it uses, and
// no others of these.
func TestCautionsOfAWay(t *testing.T) {
	watched := []string{"mute-first", "supply-check", "phono-overload", "driven-black", "volume-sets-level", "banana-mains", "din-pins", "pcm-first", "amp-off", "hearing"}
	cases := []struct{ from, to, cautions string }{
		{"F plug", "F socket", "mute-first"},
		{"phono line output", "phono line input", "mute-first"},
		{"phono line plug", "DIN line input", "mute-first din-pins"},
		{"moving-magnet phono plug", "phono line input", "mute-first supply-check"},
		{"headphone socket 3.5 mm", "phono line input", "mute-first volume-sets-level"},
		{"amplifier binding posts", "phono line input", "mute-first amp-off driven-black"},
		{"amplifier binding posts", "subwoofer speaker-level input", "mute-first amp-off driven-black"},
		{"bare speaker wire", "banana plug 4 mm", "mute-first amp-off banana-mains"},
		{"optical output", "phono line input", "mute-first supply-check pcm-first"},
		{"phono line plug", "headphone plug 6.3 mm", "mute-first supply-check hearing"},
		{"line output 3.5 mm", "moving-magnet phono input", "phono-overload"},
		{"F plug", "phono line input", ""},
	}
	for _, c := range cases {
		t.Run(c.from+" to "+c.to, func(t *testing.T) {
			want := strings.Fields(c.cautions)
			var got []string
			for _, x := range chainOf(t, c.from, c.to).Cautions {
				if slices.Contains(watched, x.ID) {
					got = append(got, x.ID)
				}
			}
			slices.Sort(got)
			if slices.Sort(want); !slices.Equal(got, want) {
				t.Errorf("it brings %v, and should bring %v", got, want)
			}
		})
	}
}

// TestNamesCanBeAskedFor reads every connector's name in a condition: a name
// with a comma or a word of the language in it could not stand there.
func TestNamesCanBeAskedFor(t *testing.T) {
	own := ownCatalogue(t)
	all := own.Names(func(*wiring.Connector) bool { return true })
	for _, name := range all {
		scope := &formula.Scope{Values: map[string]formula.Symbol{"to": {Type: formula.Choice(all...)}}}
		n, faults := formula.ParseCond(fault.NewText("cond", "to is "+name+" and to is "+name).All())
		_, more := formula.Check(n, scope)
		if faults.Join(more); faults.Len() > 0 {
			t.Error(faults)
		}
	}
}

// TestOtherWords types what labels and shops say. One thing is proposed only
// where one can be meant; a slip of typing is never mended into another plug.
func TestOtherWords(t *testing.T) {
	m, _ := trade.Library().Method("adapter-chain")
	cases := []struct{ input, typed, mend, listed string }{
		{"from", "RCA output", "", "phono line output, moving-magnet phono output"},
		{"from", "rca plug", "", "phono line plug, moving-magnet phono plug, moving-coil phono plug"},
		{"to", "cinch input", "", "phono line input, moving-magnet phono input, moving-coil phono input"},
		{"to", "MC phono input", "moving-coil phono input", ""},
		{"from", "MM phono plug", "moving-magnet phono plug", ""},
		{"from", "stereo plug 6.35 mm", "stereo plug 6.3 mm", ""},
		{"from", "phono lne output", "phono line output", ""},
		{"from", "f plug", "F plug", ""},
		{"from", "G plug", "F plug", ""},
		{"from", "SCART plug", "", ""},
		{"from", "jack plug", "", ""},
	}
	for _, c := range cases {
		t.Run(c.typed, func(t *testing.T) {
			_, faults := m.Sheet().Input(c.input).ReadSweep(fault.NewText("typed", c.typed).All())
			got := faults.String()
			if mend := "try: " + c.mend; (c.mend == "") == strings.Contains(got, "try: ") || !strings.Contains(got, strings.TrimSuffix(mend, "try: ")) {
				t.Errorf("told %q, and %q is meant", got, c.mend)
			}
			if !strings.Contains(got, c.listed) {
				t.Errorf("told %q, which does not list %q", got, c.listed)
			}
		})
	}
}

// TestUnknownEnds sees that what nobody knows is never a way.
func TestUnknownEnds(t *testing.T) {
	for _, ends := range [][2]string{{"don't know", "F socket"}, {"F plug", "don't know"}, {"don't know", "don't know"}} {
		o := chainOf(t, ends[0], ends[1])
		for _, r := range o.Results {
			if v := r.Value; v.State != formula.Unknown || v.Why == "" {
				t.Errorf("%v: %s is %v", ends, r.Name, v)
			}
		}
		if len(o.References) > 0 {
			t.Errorf("%v: it rests on %v", ends, o.References)
		}
	}
}

// TestCatalogueFaults reads catalogues with one fault each.
func TestCatalogueFaults(t *testing.T) {
	const head = "connectors:\n  - {name: a, family: F, shape: plug, signal: radio, side: both}\n  - {name: b, family: F, shape: socket, signal: radio, side: takes}\n"
	cases := []struct{ name, text, want string }{
		{"sound", head + "parts:\n  - {part: p, from: a, to: b}\n", ""},
		{"parts only", "adapters:\n  - {part: p, from: a, to: b, active: false}\n", ""},
		{"no catalogue", "- a\n", "a catalogue is a list here"},
		{"odd key", head + "bits: 1\n", `a catalogue has no "bits"`},
		{"no list", head + "parts: p\n", "a text stands here"},
		{"no part name", head + "parts:\n  - {from: a, to: b}\n", "this entry says nothing under part"},
		{"no ends", head + "parts:\n  - {part: p, from: a}\n", "does not say between which ends"},
		{"no such end", head + "parts:\n  - {part: p, from: a, to: c}\n", `there is no connector "c"`},
		{"neither yes nor no", head + "parts:\n  - {part: p, from: a, to: b, active: perhaps}\n", `"perhaps" is neither yes nor no`},
		{"odd shape", "connectors:\n  - {name: a, family: F, shape: plugg, signal: radio, side: both}\n", "try: plug"},
		{"odd side", "connectors:\n  - {name: a, family: F, shape: plug, signal: radio, side: give}\n", "try: gives"},
		{"no side", "connectors:\n  - {name: a, family: F, shape: plug, signal: radio}\n", "this entry says nothing under side"},
		{"ohms of no kind", "connectors:\n  - {name: a, family: F, shape: plug, signal: radio, side: both, ohms: 75 m}\n", "a length"},
		{"another word of a name", head + "other words:\n  F: [a]\n", `"a" stands in a name itself`},
		{"other words in a list", head + "other words: [a]\n", "a list stands here"},
		{"reason of no signal", head + "no way:\n  - {from: rado, to: any, why: w, instead: i}\n", "try: radio"},
		{"reason without help", head + "no way:\n  - {from: any, to: any, why: w}\n", "this entry says nothing under instead"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, faults := trade.ReadCatalogue("test", fault.NewText("test.yaml", c.text))
			if got := faults.String(); c.want == "" && got != "" || !strings.Contains(got, c.want) {
				t.Errorf("told %q, and should be %q", got, c.want)
			}
		})
	}
}

// TestEntriesOfACatalogue names a reference and a caution that are not there.
func TestEntriesOfACatalogue(t *testing.T) {
	text := "adapters:\n  - {part: p, from: a, to: b, reference: adapters-soled, caution: amp-of}\n"
	c, faults := trade.ReadCatalogue("test", fault.NewText("test.yaml", text))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	_, faults = method.Load(method.Sources{Go: []method.Method{trade.Adapters(c)}}, trade.Library())
	for _, want := range []string{"try: adapters-sold", "try: amp-off"} {
		if !strings.Contains(faults.String(), want) {
			t.Errorf("told %q, and should be %q", faults, want)
		}
	}
}

// TestACatalogueChangesTheHash sees that two catalogues never pass for one.
func TestACatalogueChangesTheHash(t *testing.T) {
	hash := func(text string) string {
		c, _ := trade.ReadCatalogue("test", fault.NewText("test.yaml", text))
		l, _ := method.Load(method.Sources{Go: []method.Method{trade.Adapters(c)}}, trade.Library())
		return l.Hash()
	}
	if hash("adapters:\n  - {part: p, from: a, to: b}\n") == hash("adapters:\n  - {part: p, from: a, to: c}\n") {
		t.Error("two catalogues have one hash")
	}
}
