package trade

import (
	"os"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/decide"
	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

func boxesText(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("boxes.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func readBoxes(t *testing.T) *Boxes {
	t.Helper()
	b, faults := ReadBoxes(fault.NewText("boxes.yaml", boxesText(t)))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return b
}

// everySockets calls do for each case of known sockets.
func everySockets(b *Boxes, do func(decide.Case)) {
	c := make(decide.Case, len(b.Facts))
	var walk func(int)
	walk = func(i int) {
		if i == len(c) {
			do(c)
			return
		}
		for w := range b.Facts[i].Choice {
			c[i] = decide.Reply(w)
			walk(i + 1)
		}
	}
	walk(0)
}

// TestBoxesComplete counts every case of sockets: one row at most answers it,
// each row answers some, and the rest cannot be told. That there are 288 cases,
// of which 159 have no row, was counted by hand over the trade's table.
func TestBoxesComplete(t *testing.T) {
	b := readBoxes(t)
	cases, otherwise, answered := 0, 0, make([]int, len(b.Names))
	everySockets(b, func(c decide.Case) {
		cases++
		rows := 0
		for i, rule := range b.Table.Rules {
			holds := true
			for n, s := range rule.When {
				holds = holds && s.Has(c[n])
			}
			if holds {
				answered[i]++
				rows++
			}
		}
		if rows > 1 {
			t.Errorf("%d rows answer %v", rows, c)
		}
		if rows == 0 {
			otherwise++
		}
	})
	if cases != 288 || otherwise != 159 {
		t.Errorf("%d cases, of which %d have no row; the trade's table has 288 and 159", cases, otherwise)
	}
	if i := slices.Index(answered, 0); i >= 0 {
		t.Errorf("no sockets are those of a %s", b.Names[i])
	}
}

// TestBoxesUnknown holds, for every way to leave facts out, that a box is told
// just where all sockets that agree with what is known are those of that box;
// and that what is asked for is a fact that is not known.
func TestBoxesUnknown(t *testing.T) {
	b, m := readBoxes(t), methodOf(t, "which-box")
	rules := map[string]map[int]bool{} // by what is known
	key := func(c decide.Case, known int) string {
		var k strings.Builder
		for i, r := range c {
			if known>>i&1 == 0 {
				r = 9
			}
			k.WriteByte('0' + byte(r))
		}
		return k.String()
	}
	all := 1 << len(b.Facts)
	everySockets(b, func(c decide.Case) {
		for known := range all {
			k := key(c, known)
			if rules[k] == nil {
				rules[k] = map[int]bool{}
			}
			rules[k][b.Table.Answer(c)] = true
		}
	})
	told := 0
	for k, may := range rules {
		v := method.Values{}
		for i, in := range b.Facts {
			if k[i] != '9' {
				v[in.Name] = method.Point{Value: formula.WordOf(in.Choice[k[i]-'0'])}
			}
		}
		o := m.Run(v)
		box, ask := o.Results.Of("box"), o.Results.Of("ask_for").Word
		_, known := v[ask]
		var only int
		for i := range may {
			only = i
		}
		switch {
		case len(may) == 1 && only < len(b.Names):
			told++
			if box.Word != b.Names[only] || ask != "nothing" {
				t.Errorf("%s is %s, and is told as %v, asking for %q", k, b.Names[only], box, ask)
			}
		case box.State != formula.Unknown:
			t.Errorf("%s may be %d things, and is told as %s", k, len(may), box.Word)
		case len(may) == 1 && ask != "photograph":
			t.Errorf("%s has no row, and %q is asked for", k, ask)
		case len(may) > 1 && (m.Sheet().Input(ask) == nil || known):
			t.Errorf("%s cannot be told, and %q is asked for", k, ask)
		}
	}
	if len(rules) != 3*4*3*3*3*4*3 || told == 0 {
		t.Errorf("%d ways to know facts were tried, of which %d told a box", len(rules), told)
	}
}

// TestBoxesUnsound holds that a table that is not sound is told.
func TestBoxesUnsound(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"two rows for the same sockets", "tuner: {says: tuner, antenna: seen, speakers: absent", "tuner: {says: tuner, antenna: seen", "receiver and tuner may have the same sockets"},
		{"a row without sockets", "preamplifier: {says: preamplifier, antenna: absent, speakers: absent", "preamplifier: {says: preamplifier, antenna: absent, speakers: [one, several]", "no sockets are left for preamplifier"},
		{"a word that a fact has not", "antenna: seen, speakers: [one, several]}", "antenna: found}", `antenna cannot be "found"`},
		{"a fact that is not known", "antenna: seen, speakers: [one, several]}", "aerials: seen}", "aerials"},
		{"a fact of one word", "words: {line: a line input, speaker: an input for an amplifier's speaker terminals, absent: not there}", "words: {line: a line input}", `the fact "single_pair" is not whole`},
		{"a fact without an example", "    book: seen\n", "", "has no example"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := boxesText(t)
			if !strings.Contains(text, c.from) {
				t.Fatalf("the table has no %q", c.from)
			}
			_, faults := ReadBoxes(fault.NewText("boxes.yaml", strings.Replace(text, c.from, c.to, 1)))
			if !strings.Contains(faults.String(), c.want) {
				t.Errorf("got:\n%s\nand %q was wanted", faults, c.want)
			}
		})
	}
}
