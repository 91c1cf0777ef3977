package trade_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/method"
	"bindpost/calc/trade"
)

// amplifier is an amplifier and speakers of which everything is known and
// nothing is doubtful; a case changes some of it, and leaves out what is "".
var amplifier = map[string]string{
	"watts": "60 W", "rating": "continuous", "lowest_watts": "20 W", "highest_watts": "100 W", "sensitivity": "88 dB SPL",
	"basis": "watt", "load": "8 ohm", "distance": "3 m", "level": "80 dB SPL", "headroom": "15 dB", "rated_load": "8 ohm",
}

// pairs are two pairs on an amplifier, all known.
var pairs = map[string]string{"loads": "8 and 8 ohm", "measured": "6.5 and 6.5 ohm", "minimum": "3 ohm"}

// verdicts by the trade rule (C-range in testdata/checks.csv), by the printed
// minimum (D-ab-8min there), and by facts left out.
var verdictCases = []struct {
	name, method string
	changed      map[string]string
	verdict      string
	grade, words string // the words it holds
}{
	{"all well", "amplifier-speaker", nil, "rule", method.Fits, "no standard"},
	{"at the edge", "amplifier-speaker", map[string]string{"watts": "40 W"}, "rule", method.Fits, "at least twice"},
	{"too few watts", "amplifier-speaker", map[string]string{"watts": "39 W"}, "rule", method.Doubtful, "below twice"},
	{"above the top", "amplifier-speaker", map[string]string{"watts": "150 W"}, "rule", method.Doubtful, "above the listed top"},
	{"above the top, no lowest", "amplifier-speaker", map[string]string{"watts": "150 W", "lowest_watts": ""}, "rule", method.Doubtful, "above the listed top"},
	{"no lowest", "amplifier-speaker", map[string]string{"lowest_watts": ""}, "rule", method.CannotTell, "the lowest watts the speaker lists is not known"},
	{"no top", "amplifier-speaker", map[string]string{"highest_watts": "don't know"}, "rule", method.Doubtful, "but the highest it lists"},
	{"peak", "amplifier-speaker", map[string]string{"rating": "peak"}, "rule", method.CannotTell, "peak watts"},
	{"rating unknown", "amplifier-speaker", map[string]string{"rating": "don't know"}, "rule", method.CannotTell, "the kind of watts is not known"},
	{"a total of one channel", "amplifier-speaker", map[string]string{"rating": "total", "channels": "2", "watts": "60 W"}, "rule", method.Doubtful, "below twice"},
	{"loud enough", "amplifier-speaker", nil, "loudness", method.Fits, "in the open"},
	{"headroom met", "amplifier-speaker", map[string]string{"headroom": "19.2 dB"}, "loudness", method.Fits, "in the open"},
	{"headroom missed", "amplifier-speaker", map[string]string{"headroom": "19.3 dB"}, "loudness", method.Doubtful, "less headroom"},
	{"lower load", "amplifier-speaker", map[string]string{"load": "4 ohm"}, "loudness", method.Doubtful, "holds its volts"},
	{"rated load unknown", "amplifier-speaker", map[string]string{"rated_load": "don't know"}, "loudness", method.Doubtful, "stands in"},
	{"no basis at eight ohms", "amplifier-speaker", map[string]string{"basis": ""}, "loudness", method.Fits, "in the open"},
	{"no basis", "amplifier-speaker", map[string]string{"basis": "", "load": "6 ohm"}, "loudness", method.CannotTell, "1 W or for 2.83 V is not known"},
	{"no level", "amplifier-speaker", map[string]string{"level": ""}, "loudness", method.CannotTell, "the level wanted at the seat is not known"},
	{"rating met", "loads-parallel", nil, "by_rating", method.Fits, "not below"},
	{"at the minimum", "loads-parallel", map[string]string{"minimum": "4 ohm", "measured": ""}, "by_rating", method.Fits, "not below"},
	{"below by rating", "loads-parallel", map[string]string{"minimum": "4.1 ohm"}, "by_rating", method.DoNotConnect, "below"},
	{"no minimum", "loads-parallel", map[string]string{"minimum": ""}, "by_rating", method.CannotTell, "the minimum load the amplifier states"},
	{"lowest measured", "loads-parallel", nil, "by_lowest", method.Fits, "not below"},
	{"lowest measured below", "loads-parallel", map[string]string{"minimum": "4 ohm"}, "by_lowest", method.AskFirst, "measured"},
	{"one measured", "loads-parallel", map[string]string{"minimum": "4 ohm", "measured": "6.5 and - ohm"}, "by_lowest", method.Doubtful, "may fall below"},
	{"none measured", "loads-parallel", map[string]string{"measured": ""}, "by_lowest", method.Doubtful, "stands in"},
	{"below by rating too", "loads-parallel", map[string]string{"minimum": "8 ohm"}, "by_lowest", method.DoNotConnect, "rated load"},
	{"no minimum, lowest", "loads-parallel", map[string]string{"minimum": "don't know"}, "by_lowest", method.CannotTell, "is not known"},
}

func TestVerdicts(t *testing.T) {
	for _, c := range verdictCases {
		t.Run(c.name, func(t *testing.T) {
			known := amplifier
			if c.method == "loads-parallel" {
				known = pairs
			}
			v := verdict(t, c.method, with(known, c.changed), c.verdict)
			if v.Grade != c.grade || !strings.Contains(v.Words, c.words) {
				t.Errorf("%s: %s, and %s: … %s … is wanted", v.Grade, v.Words, c.grade, c.words)
			}
		})
	}
}

func with(known, changed map[string]string) map[string]string {
	all := maps.Clone(known)
	maps.Copy(all, changed)
	maps.DeleteFunc(all, func(_, value string) bool { return value == "" })
	return all
}

func verdict(t *testing.T, name string, typed map[string]string, wanted string) method.Verdict {
	t.Helper()
	m, _ := trade.Library().Method(name)
	for _, v := range m.Run(read(t, m.Sheet(), typed)).Verdicts {
		if v.Name == wanted {
			return v
		}
	}
	t.Fatalf("%s gives no verdict %s", name, wanted)
	return method.Verdict{}
}

// TestAFactLeftOutNeverMakesAFit takes facts away at random, and sees that no
// verdict becomes "fits" that was not.
func TestAFactLeftOutNeverMakesAFit(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		change := map[string]string{
			"watts": pick(dice, "20 W", "60 W", "150 W"), "rating": pick(dice, "continuous", "peak"), "load": pick(dice, "4 ohm", "8 ohm", "16 ohm"),
			"headroom": pick(dice, "10 dB", "19.5 dB", "25 dB"), "basis": pick(dice, "watt", "volts"), "rated_load": pick(dice, "4 ohm", "8 ohm"),
		}
		leaveOut(t, dice, "amplifier-speaker", with(amplifier, change), []string{"watts", "rating"})
		change = map[string]string{
			"minimum": pick(dice, "2 ohm", "3 ohm", "4 ohm", "5 ohm"), "loads": pick(dice, "8 and 8 ohm", "8 and 6.5 ohm", "16 and 8 ohm"),
			"measured": pick(dice, "6.5 and 6.5 ohm", "4 and 3 ohm", "8 and 6 ohm"),
		}
		leaveOut(t, dice, "loads-parallel", with(pairs, change), []string{"loads"})
	}
}

// leaveOut takes some facts of a method away, or says "don't know" for them.
func leaveOut(t *testing.T, dice *rand.Rand, name string, typed map[string]string, needed []string) {
	t.Helper()
	m, _ := trade.Library().Method(name)
	s := m.Sheet()
	whole, fewer := points(t, s, typed), points(t, s, typed)
	for _, in := range s.Takes {
		if _, typed := fewer[in.Name]; !typed || dice.IntN(4) > 0 {
			continue
		}
		fewer[in.Name] = points(t, s, map[string]string{in.Name: method.DontKnow})[in.Name]
		if !slices.Contains(needed, in.Name) && dice.IntN(2) > 0 {
			delete(fewer, in.Name)
		}
	}
	if s.Check(whole, fault.Place{}).Stopped() {
		return // measured above rated, and the like
	}
	before, after := m.Run(whole), m.Run(fewer)
	for i, v := range after.Verdicts {
		if v.Grade == method.Fits && before.Verdicts[i].Grade != method.Fits && before.Faults.Len() == 0 {
			t.Errorf("%s of %s is %s with %v, and with less of it %s", v.Name, name, before.Verdicts[i].Grade, typed, v.Grade)
		}
	}
}

func points(t *testing.T, s *method.Sheet, typed map[string]string) method.Values {
	t.Helper()
	values := method.Values{}
	for name, value := range typed {
		p, faults := s.Input(name).Read(fault.NewText(name, value).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		values[name] = p
	}
	return values
}

func pick(dice *rand.Rand, words ...string) string { return words[dice.IntN(len(words))] }

// TestCautions sees which cautions come with how much.
func TestCautions(t *testing.T) {
	for _, c := range []struct {
		name, method string
		changed      map[string]string
		cautions     string
	}{
		{"loud", "amplifier-speaker", nil, "hearing speaker-strain amp-off"},
		{"soft", "amplifier-speaker", map[string]string{"watts": "0.1 W", "lowest_watts": "", "highest_watts": "", "sensitivity": "80 dB SPL"}, "speaker-strain amp-off"},
		{"large", "amplifier-speaker", map[string]string{"watts": "120 W"}, "hearing hot-terminals speaker-strain amp-off"},
		{"untold", "amplifier-speaker", map[string]string{"rating": "don't know"}, "hearing hot-terminals speaker-strain amp-off"},
		{"pairs", "loads-parallel", nil, "min-load amp-off"},
	} {
		t.Run(c.name, func(t *testing.T) {
			known := amplifier
			if c.method == "loads-parallel" {
				known = pairs
			}
			m, _ := trade.Library().Method(c.method)
			var got []string
			for _, w := range m.Run(read(t, m.Sheet(), with(known, c.changed))).Cautions {
				got = append(got, w.ID)
			}
			if strings.Join(got, " ") != c.cautions {
				t.Errorf("it brings %v, and not %s", got, c.cautions)
			}
		})
	}
}
