package guide

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
)

// dumpHookup writes a hook-up as plain text.
func dumpHookup(b *strings.Builder, t *Table) {
	h := t.Hookup
	fmt.Fprintf(b, "%s %s: %s, %s%s\n", t.Number, t.Name, h.Title, h.Grade, said("panel", h.Panel))
	for _, box := range h.Boxes {
		fmt.Fprintf(b, "  box %s, %s%s\n", box.Name, box.Says, said("two", box.Two))
		for _, s := range box.Sockets {
			fmt.Fprintf(b, "    %s %s: %s %s%s%s%s %s%s\n", s.Mark, s.Side, s.Family, s.Signal, said("out", s.Out), said("lead", s.Lead), said("pair", s.Pair),
				s.Ohms, said("usual", s.Usual))
		}
	}
	for i, s := range h.Steps {
		end := func(e HookupEnd) string {
			box := h.Boxes[e.Box]
			return fmt.Sprintf("%s of %s (%s)", strings.TrimSpace(box.Sockets[e.Socket].Mark+" "+box.Sockets[e.Socket].Side), box.Name, e.Plug)
		}
		fmt.Fprintf(b, "  step %d: %s to %s, %s, by %s%s%s%s%s%s\n", i+1, end(s.From), end(s.To), s.Side, strings.Join(s.Parts, " and "),
			said(s.Length, s.Length != ""), said("again", s.Again), said("ends", s.Ends), said("speaker", s.Speaker), said("ground", s.Ground))
	}
	for _, l := range h.Lines {
		fmt.Fprintf(b, "  line of steps %v: %s\n", l.Steps, l.Grade)
		for _, c := range l.Compared {
			fmt.Fprintf(b, "    %s: %s, %q against %q, %d%s%s\n", c.Rule, c.Grade, c.Have, c.Want, c.Count, said("not known", !c.Known), said("usual", c.Usual))
		}
	}
	for i, s := range t.Sources {
		fmt.Fprintf(b, "  source %d: %s, %s\n", i, s.ID, s.Mark)
	}
	fmt.Fprintf(b, "  cautions %s\n", strings.Join(t.Cautions, ", "))
}

// TestHookupsPutTogether reads blocks put together from lines of the cases, words
// changed and letters lost: whatever stands there, each fault has its place in
// the guide, and a drawing comes only of a block in which none stops.
func TestHookupsPutTogether(t *testing.T) {
	var lines []string
	for _, name := range []string{"hookups", "hookups-wrong"} {
		a := readCase(t, casesFolder+"/"+name+".txtar")
		lines = append(lines, strings.Split(string(a.Files[0].Data), "\n")...)
	}
	words, random, drawn := strings.Fields(strings.Join(lines, " ")), rand.New(rand.NewPCG(6, 8)), 0
	kit := Kit{Library: trade.Library()}
	for range 1200 {
		block := "```hookup\nname: made\ntitle: Put together\nbox: deck is record player\nbox: amp is integrated amplifier\njoint: lead of deck to phono of amp\n"
		for range random.IntN(5) {
			if l := mangled(lines[random.IntN(len(lines))], words, random); !strings.HasPrefix(l, "`") {
				block += l + "\n"
			}
		}
		g, faults := Read(fault.NewText("guide.md", plainDocket+block+"```\n"), kit)
		for _, f := range faults.All() {
			if f.Place.Text != g.Text {
				t.Fatalf("a fault has no place: %s\n%s", f, block)
			}
		}
		if made := len(g.Tables) == 1; made {
			drawn++
			if len(g.Tables[0].Hookup.Boxes) == 0 || strings.Contains(faults.String(), ": stop: this hook-up") {
				t.Fatalf("a drawing came of this:\n%s\n%s", block, faults)
			}
		}
	}
	if drawn < 100 || drawn > 1100 {
		t.Errorf("%d of 1200 were drawn: too little of one side is seen", drawn)
	}
}

// mangled changes a word of a line, or loses a letter, or leaves it as it is.
func mangled(l string, words []string, random *rand.Rand) string {
	fields := strings.Fields(l)
	switch random.IntN(4) {
	case 0:
		if len(fields) > 1 {
			fields[1+random.IntN(len(fields)-1)] = words[random.IntN(len(words))]
			return strings.Join(fields, " ")
		}
	case 1:
		if len(l) > 2 {
			i := random.IntN(len(l))
			return l[:i] + l[i+1:]
		}
	}
	return l
}
