package trade

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
	"bindpost/calc/wiring"
)

func placingText(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("placing.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func readPlacing(t *testing.T) *Placing {
	t.Helper()
	p, faults := ReadPlacing(fault.NewText("placing.yaml", placingText(t)))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	return p
}

// everyPlacing tries every plan there is: each source in turn stays out, or takes
// any input that is left, with a preamplifier or without; a box is opened on any
// line input that is left. It returns the most sources placed, and the least
// cost of so many.
func everyPlacing(q placingOf, at int, left []string, s stock) (count, cost int) {
	if at == len(q.sources) {
		return 0, 0
	}
	count, cost = everyPlacing(q, at+1, left, s)
	take := func(price int, left []string, s stock) {
		n, sum := everyPlacing(q, at+1, left, s)
		if n++; n > count || n == count && sum+price < cost {
			count, cost = n, sum+price
		}
	}
	for i, on := range left {
		rest := slices.Delete(slices.Clone(left), i, i+1)
		for _, through := range []bool{false, true} {
			less := s
			if through {
				if less.preamplifiers--; less.preamplifiers < 0 || !q.wantsPhono(at) {
					continue
				}
			}
			if price := q.price(at, through, on); price != wiring.Forbidden {
				take(price, rest, less)
			}
			if on != lineInput || s.boxes == 0 {
				continue
			}
			if price := q.price(at, through, switchBox); price != wiring.Forbidden {
				opened := less
				opened.boxes--
				take(price, append(slices.Clone(rest), slices.Repeat([]string{switchBox}, s.ports-1)...), opened)
			}
		}
	}
	return count, cost
}

// TestPlacingAgainstEveryPlan holds a thousand small cases against trying every
// plan.
func TestPlacingAgainstEveryPlan(t *testing.T) {
	p := readPlacing(t)
	r := rand.New(rand.NewPCG(17, 4))
	kinds := slices.DeleteFunc(slices.Clone(p.Inputs), func(k string) bool { return k == switchBox })
	out := 0
	for n := range 1000 {
		q := placingOf{table: p, off: -1, stock: stock{boxes: r.IntN(3), ports: 2 + r.IntN(2), preamplifiers: r.IntN(2)}}
		for range 1 + r.IntN(4) {
			q.sources = append(q.sources, p.Sources[r.IntN(len(p.Sources))])
		}
		for range 1 + r.IntN(3) {
			q.inputs = append(q.inputs, kinds[r.IntN(len(kinds))])
		}
		got := q.best()
		count, cost := everyPlacing(q, 0, q.inputs, q.stock)
		if got.count != count || got.cost != cost {
			t.Fatalf("case %d: %v on %v with %+v places %d for %d; trying every plan places %d for %d",
				n, q.sources, q.inputs, q.stock, got.count, got.cost, count, cost)
		}
		if count == len(q.sources) {
			continue
		}
		out++
		if boxes, preamplifiers, ok := q.cure(q.stock.ports); ok {
			more := q.stock
			more.boxes += boxes
			more.preamplifiers += preamplifiers
			if n, _ := everyPlacing(q, 0, q.inputs, more); n != len(q.sources) {
				t.Fatalf("case %d: %v on %v with %+v is to be helped by %d boxes and %d preamplifiers, and is not", n, q.sources, q.inputs, q.stock, boxes, preamplifiers)
			}
		}
	}
	if out < 100 {
		t.Errorf("only %d cases leave a source out", out)
	}
}

// TestPlacingRules holds what may never be, whatever it costs: anything but a
// cartridge on a phono input, and a cartridge anywhere else without a
// preamplifier.
func TestPlacingRules(t *testing.T) {
	p := readPlacing(t)
	for _, s := range p.Sources {
		for i, on := range p.Inputs {
			cartridge := s == "record player" || s == "moving-coil record player"
			if phono := strings.Contains(on, "phono"); cartridge != phono && p.cost[s][i] != wiring.Forbidden {
				t.Errorf("a %s may stand on %s", s, on)
			}
		}
	}
}

// placedWords runs the method and returns a result in words.
func placedWords(t *testing.T, sources, inputs, boxes, preamplifiers, result string) string {
	t.Helper()
	m, v := methodOf(t, "place-sources"), method.Values{}
	for name, typed := range map[string]string{"sources": sources, "inputs": inputs, "boxes": boxes, "preamplifiers": preamplifiers} {
		p, faults := m.Sheet().Input(name).Read(fault.NewText(name, typed).All())
		if faults.Stopped() {
			t.Fatal(faults)
		}
		v[name] = p
	}
	o := m.Run(v)
	for _, verdict := range o.Verdicts {
		if verdict.Name == result {
			return verdict.Grade + ": " + verdict.Words
		}
	}
	return m.Sheet().Result(result).Text(o.Results.Of(result))
}

// TestPlaceSources holds plans in words.
func TestPlaceSources(t *testing.T) {
	for _, c := range []struct{ name, sources, inputs, boxes, preamplifiers, result, want string }{
		{"where each belongs", "record player and CD player and tuner", "phono and line and tuner", "0", "0", "plan",
			"record player on the phono input and CD player on a line input and tuner on the tuner input"},
		{"no phono input", "record player", "line", "0", "0", "unplaced", "record player"},
		{"what helps a record player", "record player", "line", "0", "0", "cure", "a phono preamplifier"},
		{"with a preamplifier", "record player", "line", "0", "1", "plan", "record player through a phono preamplifier on a line input"},
		{"what helps too many", "CD player and television", "line", "0", "0", "cure", "a switch box"},
		{"what helps both", "record player and CD player", "line", "0", "0", "cure", "a phono preamplifier with a switch box"},
		{"a larger box", "CD player and television and streamer", "line", "0", "0", "cure", "a switch box of six sockets"},
		{"no box helps", "CD player", "phono", "0", "0", "cure", "no box of these kinds"},
		{"nothing is wanted", "CD player", "line", "0", "0", "cure", "nothing is wanted"},
		{"all placed", "CD player", "line", "0", "0", "unplaced", "nothing"},
		{"no other plan", "CD player", "line", "0", "0", "next_cost", "none: no other plan places as many sources"},
		{"a deck off its loop", "cassette deck", "line", "0", "0", "placing", "doubtful: a deck off its loop plays and cannot record"},
		{"a source on a loop", "CD player and cassette deck", "tape 1 and tape 2", "0", "0", "placing",
			"doubtful: what is on a loop plays with the monitor button pressed, and nothing goes to its record side"},
		{"all is well", "CD player and cassette deck", "line and tape 1", "0", "0", "placing", "fits: each source has an input of its kind"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := placedWords(t, c.sources, c.inputs, c.boxes, c.preamplifiers, c.result); got != c.want {
				t.Errorf("%s of %s on %s is %q; wanted %q", c.result, c.sources, c.inputs, got, c.want)
			}
		})
	}
}

// TestPlacingUnknown holds that what is not known is told, and nothing placed.
func TestPlacingUnknown(t *testing.T) {
	m := methodOf(t, "place-sources")
	o := m.Run(method.Values{"sources": wordList("CD player")})
	for _, r := range o.Results {
		if r.Value.State != formula.Unknown {
			t.Errorf("%s is %v", r.Name, r.Value)
		}
	}
	if o.Verdicts[0].Grade != method.CannotTell {
		t.Errorf("the verdict is %v", o.Verdicts[0])
	}
}

// TestPlacingUnsound holds that a table that is not sound is told.
func TestPlacingUnsound(t *testing.T) {
	for _, c := range []struct{ name, from, to, want string }{
		{"a cost short", `CD player: ["-", "-", "0", "1", "4", "4", "3"]`, `CD player: ["-", "0"]`, "CD player has 2 costs"},
		{"no number", `CD player: ["-", "-", "0"`, `CD player: ["-", "-", "much"`, `"much" is no cost`},
		{"no line", "  line: a line input\n", "  aux: a line input\n", `there is no input "line"`},
		{"no player with a preamplifier", "record player with preamplifier:", "ready player:", `there is no source "record player with preamplifier"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := placingText(t)
			if !strings.Contains(text, c.from) {
				t.Fatalf("the table has no %q", c.from)
			}
			_, faults := ReadPlacing(fault.NewText("placing.yaml", strings.Replace(text, c.from, c.to, 1)))
			if !strings.Contains(faults.String(), c.want) {
				t.Errorf("got:\n%s\nand %q was wanted", faults, c.want)
			}
		})
	}
}
