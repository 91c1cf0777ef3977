package guide

import (
	"fmt"
	"strings"
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
