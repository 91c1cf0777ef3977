package main

import (
	"fmt"
	"strings"

	"bindpost/site/bind"
)

// decided tells of an answer of a table that decides: the replies that lead to
// it, the cautions that stand before it, and the figures in its words.
func (t *tracer) decided(p bind.Printed) {
	out, table := t.desk.out, p.Table
	line, _ := table.Block.Text.Position(table.Block.Start)
	fmt.Fprintf(out, "%s, in %s, line %d, row %d: %s\n\n", table.Number, table.Block.Text.Name(), line, p.Row, table.Decision.Question)
	if p.Where == nil {
		fmt.Fprintln(out, "It holds in every case that no other row names.")
	} else {
		fmt.Fprintln(out, "It holds where the replies are:")
	}
	for _, reply := range p.Where {
		fmt.Fprintf(out, "  %s\n", hungUnder(reply))
	}
	if cautions := table.Decision.Rules[p.Row-1].Cautions; cautions != nil {
		fmt.Fprintf(out, "\nHeed before it: %s.\n", strings.Join(cautions, ", "))
	}
}
