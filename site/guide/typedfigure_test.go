package guide

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
)

// tradeNameCases hold, for each row of the list of trade names, a sentence in
// which it is a name, and one in which the same figure is a measure; "" where
// it is a name wherever it stands.
var tradeNameCases = map[string][2]string{
	"coax":                 {"A 75 ohm lead goes in.", "A speaker of 75 ohm is rare."},
	"ribbon":               {"The two screws marked 300 ohm.", "Headphones have 300 ohm."},
	"album":                {"It turns at 33⅓ rpm.", ""},
	"single":               {"A 45 rpm record.", ""},
	"shellac":              {"Some turn at 78 rpm.", ""},
	"small-jack":           {"A 3.5 mm plug.", "Wire of 3.5 mm."},
	"smallest-jack":        {"A 2.5-mm plug.", "A wall of 2.5 mm."},
	"large-jack":           {"It has a 6.3 mm socket.", "A hole of 6.3 mm."},
	"large-jack-of-inches": {"A ¼ inch jack.", "A drill of 1/4 inch."},
	"banana":               {"A 4-mm plug.", "A gap of 4 mm."},
	"tape":                 {"Reels of 1/4 inch tape.", "A gap of 1/4 inch."},
	"cassette":             {"It runs at 1 7/8 in/s.", ""},
}

func TestTradeNamesInSentences(t *testing.T) {
	kit := Kit{Library: trade.Library()}
	told := func(sentence string) string {
		_, faults := Read(fault.NewText("guide.md", plainDocket+"\n"+sentence+"\n"), kit)
		return faults.String()
	}
	for _, n := range kit.Library.TradeNames() {
		t.Run(n.Name, func(t *testing.T) {
			c, ok := tradeNameCases[n.Name]
			if !ok {
				t.Fatal("this trade name has no row in the test")
			}
			if got := told(c[0]); got != "" {
				t.Errorf("%s\n%s", c[0], got)
			}
			if got := told(c[1]); c[1] != "" && !strings.Contains(got, "is typed by hand") {
				t.Errorf("%q passes: %s", c[1], got)
			}
			if (c[1] == "") != (n.Beside == nil) {
				t.Error("a name with a noun beside it needs a sentence without one, and the other way about")
			}
		})
	}
}

// FuzzFindFigures wants figures in order, inside the line and apart.
func FuzzFindFigures(f *testing.F) {
	for _, path := range casePaths(f) {
		f.Add(string(readCase(f, path).Files[0].Data))
	}
	for _, c := range tradeNameCases {
		f.Add(c[0])
	}
	f.Add("15.2 m/50 ft and 8, 6 and −4 ohm")
	f.Fuzz(func(t *testing.T, s string) {
		end := 0
		for _, x := range findFigures(s) {
			if x.start < end || x.end <= x.start || x.end > len(s) {
				t.Fatalf("a figure from %d to %d, after one that ends at %d, of %d", x.start, x.end, end, len(s))
			}
			end = x.end
		}
	})
}
