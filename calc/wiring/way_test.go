package wiring_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
	"bindpost/calc/wiring"
)

// tried is the best chain that trying every one of them has found.
type tried struct {
	cost  int
	names []string // of each part, and of its far end
}

// tryAll walks every chain of parts that passes no connector twice, and keeps
// the best for each end: no distances, no order of search, nothing that the
// program's own search rests on.
func tryAll(c *wiring.Catalogue, from string) map[string]tried {
	out := map[string][]*wiring.Part{}
	for _, p := range c.Parts {
		out[p.From] = append(out[p.From], p)
	}
	mates := map[string][]string{}
	for _, m := range c.Matings {
		mates[m.From] = append(mates[m.From], m.To)
	}
	best := map[string]tried{}
	passed := map[string]bool{}
	var walk func(at string, t tried)
	walk = func(at string, t tried) {
		passed[at] = true
		for _, end := range append([]string{at}, mates[at]...) {
			known, ok := best[end]
			if !ok || t.cost < known.cost || t.cost == known.cost && slices.Compare(t.names, known.names) < 0 {
				best[end] = tried{t.cost, slices.Clone(t.names)}
			}
		}
		for _, p := range out[at] {
			if !passed[p.To] {
				cost := 1
				if p.Active {
					cost = 10
				}
				walk(p.To, tried{t.cost + cost, append(slices.Clone(t.names), p.Name, p.To)})
			}
		}
		passed[at] = false
	}
	walk(from, tried{})
	return best
}

// agree compares the search with trying all, from every connector to every
// other, and returns how many pairs have a way.
func agree(t *testing.T, c *wiring.Catalogue) int {
	t.Helper()
	ways := 0
	for _, from := range c.Connectors {
		best := tryAll(c, from.Name)
		for _, to := range c.Connectors {
			want, is := best[to.Name]
			got, found := c.Find(from.Name, to.Name)
			if found != is {
				t.Errorf("%s to %s: found is %v, and trying all says %v", from.Name, to.Name, found, is)
				continue
			}
			if names := chain(got); is && (got.Cost != want.cost || !slices.Equal(names, want.names)) {
				t.Errorf("%s to %s: %d by %v, and trying all says %d by %v", from.Name, to.Name, got.Cost, names, want.cost, want.names)
			}
			if active := slices.ContainsFunc(got.Parts, func(p *wiring.Part) bool { return p.Active }); active != got.Active {
				t.Errorf("%s to %s: active is %v", from.Name, to.Name, got.Active)
			}
			if is {
				ways++
			}
		}
	}
	return ways
}

func chain(w wiring.Way) []string {
	var names []string
	for _, p := range w.Parts {
		names = append(names, p.Name, p.To)
	}
	return names
}

// TestOwnCatalogueAgainstTryingAll compares every pair of our own catalogue.
func TestOwnCatalogueAgainstTryingAll(t *testing.T) {
	text, err := os.ReadFile("../trade/catalogue.yaml")
	if err != nil {
		t.Fatal(err)
	}
	c, faults := trade.ReadCatalogue("trade", fault.NewText("catalogue.yaml", string(text)))
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	if ways := agree(t, &c.Catalogue); ways < 300 {
		t.Errorf("only %d pairs have a way: is this the whole catalogue?", ways)
	}
}

// TestRandomCataloguesAgainstTryingAll compares every pair of many small
// catalogues, among them parts of one name, parts both ways and halves that
// mate, and sees that the order of the parts does not matter.
func TestRandomCataloguesAgainstTryingAll(t *testing.T) {
	for seed := range uint64(150) {
		r := rand.New(rand.NewPCG(seed, 3))
		c := random(r)
		t.Run(fmt.Sprintf("seed %d", seed), func(t *testing.T) {
			agree(t, c)
			r.Shuffle(len(c.Parts), func(i, j int) { c.Parts[i], c.Parts[j] = c.Parts[j], c.Parts[i] })
			agree(t, c)
		})
	}
}

func random(r *rand.Rand) *wiring.Catalogue {
	c := &wiring.Catalogue{Name: "random"}
	n := 2 + r.IntN(6)
	name := func() string { return string(rune('a' + r.IntN(n))) }
	for i := range n {
		c.Connectors = append(c.Connectors, &wiring.Connector{Name: string(rune('a' + i))})
	}
	for range r.IntN(3 * n) {
		from, to := name(), name()
		if from != to {
			c.Parts = append(c.Parts, &wiring.Part{Name: string(rune('p' + r.IntN(4))), From: from, To: to, Active: r.IntN(4) == 0})
		}
	}
	for range r.IntN(3) {
		if from, to := name(), name(); from != to {
			c.Matings = append(c.Matings, wiring.Mating{From: from, To: to})
		}
	}
	return c
}

// small is a catalogue of five connectors in which every kind of way occurs.
func small() *wiring.Catalogue {
	c := &wiring.Catalogue{Name: "small"}
	for _, name := range []string{"plug", "socket", "pin", "ring", "lone"} {
		c.Connectors = append(c.Connectors, &wiring.Connector{Name: name})
	}
	c.Parts = []*wiring.Part{
		{Name: "box", From: "plug", To: "ring", Active: true},
		{Name: "sleeve", From: "plug", To: "pin"},
		{Name: "clamp", From: "plug", To: "pin"},
		{Name: "hoop", From: "pin", To: "ring"},
	}
	c.Matings = []wiring.Mating{{From: "plug", To: "socket"}}
	return c
}

func TestFind(t *testing.T) {
	cases := []struct {
		name, from, to string
		parts          string // "-" for no way
	}{
		{"to itself", "plug", "plug", ""},
		{"straight in", "plug", "socket", ""},
		{"the first by name", "plug", "pin", "clamp"},
		{"two passive before one active", "plug", "ring", "clamp, hoop"},
		{"no way back", "pin", "plug", "-"},
		{"not out of a socket", "socket", "plug", "-"},
		{"nothing leads there", "plug", "lone", "-"},
		{"a name of nothing", "plug", "moon", "-"},
		{"from a name of nothing", "moon", "plug", "-"},
		{"from nothing to the same nothing", "moon", "moon", "-"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			way, found := small().Find(c.from, c.to)
			var names []string
			for _, p := range way.Parts {
				names = append(names, p.Name)
			}
			got := strings.Join(names, ", ")
			if !found {
				got = "-"
			}
			if got != c.parts {
				t.Errorf("the way is %q, and should be %q", got, c.parts)
			}
		})
	}
}

// TestActiveOnlyWhereNothingElse takes the passive way away.
func TestActiveOnlyWhereNothingElse(t *testing.T) {
	c := small()
	c.Parts = c.Parts[:1]
	way, found := c.Find("plug", "ring")
	if !found || !way.Active || way.Cost != 10 {
		t.Errorf("found %v, active %v, cost %d", found, way.Active, way.Cost)
	}
}
