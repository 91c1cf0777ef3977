package trade

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"testing"

	"bindpost/calc/method"
	"bindpost/calc/wiring"
)

// instances are the outside puzzles: leads between decks, and a table of costs.
type instances struct {
	Dubbing map[string][]wiring.Lead
	Assign2 struct {
		Sources, Inputs []string
		Cost            [][]int
		ForbiddenAt     int `json:"forbidden_at"`
	}
}

func readInstances(t *testing.T) instances {
	t.Helper()
	data, err := os.ReadFile("../../testdata/inputs.json")
	if err != nil {
		t.Fatal(err)
	}
	var in instances
	if err := json.Unmarshal(data, &in); err != nil {
		t.Fatal(err)
	}
	return in
}

// dubs says by the values of copying what the outside puzzles wire.
var dubs = []struct {
	instance string
	values   [5]string // first play, first record, second play, second record, dubbing
}{
	{"one loop A, B play on AUX", [5]string{"loop", "record out", "line", "nowhere", "none"}},
	{"two loops, monitors after rec-out, no dub", [5]string{"loop", "record out", "loop", "record out", "none"}},
	{"two loops, dub 1>2 only", [5]string{"loop", "record out", "loop", "nowhere", "first to second"}},
	{"two loops, dub both ways", [5]string{"loop", "nowhere", "loop", "nowhere", "both"}},
	{"one loop A, B wired A.rec-out and AUX (danger)", [5]string{"loop", "record out", "line", "record out", "none"}},
}

// namesOfPuzzles are the places of our leads in the names of the puzzles.
var namesOfPuzzles = map[string]string{
	"first play": "A.play", "first record": "A.rec", "second play": "B.play", "second record": "B.rec",
	chosen: "sel", recordOut: "recout", heard: "mon",
}

func dubValues(m method.Method, words [5]string) method.Values {
	v := method.Values{}
	for i, in := range m.Sheet().Takes {
		v[in.Name] = factWord(in, words[i])
	}
	return v
}

// TestCopyingLeads holds the leads that the values make against those of the
// outside puzzles.
func TestCopyingLeads(t *testing.T) {
	in, m := readInstances(t), methodOf(t, "copying")
	if len(in.Dubbing) != len(dubs) {
		t.Errorf("there are %d puzzles, and %d are tried", len(in.Dubbing), len(dubs))
	}
	text := func(leads []wiring.Lead) []string {
		var all []string
		for _, l := range leads {
			all = append(all, l.From+" to "+l.To)
		}
		slices.Sort(all)
		return all
	}
	for _, d := range dubs {
		leads, ok := leadsOf(dubValues(m, d.values))
		for i, l := range leads {
			leads[i] = wiring.Lead{From: namesOfPuzzles[l.From], To: namesOfPuzzles[l.To]}
		}
		if got, want := text(leads), text(in.Dubbing[d.instance]); !ok || !slices.Equal(got, want) {
			t.Errorf("%s: the leads are %v, and the puzzle has %v", d.instance, got, want)
		}
	}
}

// TestCopyingRows holds the outside rows about copying: each says of a puzzle
// what a shortest-path search of SciPy reached.
func TestCopyingRows(t *testing.T) {
	f, err := os.Open("../../testdata/checks.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	m, held := methodOf(t, "copying"), 0
	for _, row := range rows[1:] {
		if row[column("method")] != "copying" {
			continue
		}
		held++
		i := slices.IndexFunc(dubs, func(d struct {
			instance string
			values   [5]string
		}) bool {
			return d.instance == row[column("inputs")]
		})
		if i < 0 {
			t.Errorf("%s is about no puzzle that is tried", row[column("id")])
			continue
		}
		o := m.Run(dubValues(m, dubs[i].values))
		self := "no"
		if howl := o.Results.Of("howl").Word; howl == "the second deck" || howl == "both decks" {
			self = "yes"
		}
		got := fmt.Sprintf("A>B %s; B>A %s; self-loop B>B %s", o.Results.Of("first_to_second").Word, o.Results.Of("second_to_first").Word, self)
		if want := row[column("expected")]; got != want {
			t.Errorf("%s: %s; the outside search says %s", row[column("id")], got, want)
		}
		if grade := o.Verdicts[0].Grade; (grade == method.DoNotConnect) != (self == "yes") {
			t.Errorf("%s: the verdict is %s", row[column("id")], grade)
		}
		howls := slices.ContainsFunc(o.Cautions, func(c *method.Caution) bool { return c.ID == "howl-loop" })
		if howls != (self == "yes") {
			t.Errorf("%s: the caution against the howl stands: %v", row[column("id")], howls)
		}
	}
	if held != len(dubs) {
		t.Errorf("%d rows are about copying; there are %d puzzles", held, len(dubs))
	}
}

// TestCopyingUnknown holds that no connection that is not known is told to be
// without a howl.
func TestCopyingUnknown(t *testing.T) {
	m := methodOf(t, "copying")
	for _, in := range m.Sheet().Takes[:4] {
		v := dubValues(m, dubs[0].values)
		delete(v, in.Name)
		if got := m.Run(v).Verdicts[0].Grade; got != method.CannotTell {
			t.Errorf("without %s the verdict is %s", in.Name, got)
		}
	}
}

// TestPlacingCosts holds the costs of our table against those of the outside
// puzzle, for the sources and inputs that both have.
func TestPlacingCosts(t *testing.T) {
	p, in := readPlacing(t), readInstances(t).Assign2
	ours := map[string]string{
		"turntable MM": "record player", "CD player": "CD player", "cassette deck": "cassette deck", "reel deck": "reel deck",
		"TV line out": "television", "tuner": "tuner", "PHONO": "phono", "AUX": "line", "TUNER": "tuner", "TAPE1": "tape 1",
		"TAPE2": "tape 2", "BOX1 on AUX": "switch box", "BOX2 on AUX": "switch box",
	}
	for s, source := range in.Sources {
		for c, input := range in.Inputs {
			want := in.Cost[s][c]
			if want >= in.ForbiddenAt {
				want = wiring.Forbidden
			}
			if got := p.cost[ours[source]][slices.Index(p.Inputs, ours[input])]; got != want {
				t.Errorf("%s on %s costs %d, and the puzzle has %d", source, input, got, want)
			}
		}
	}
}
