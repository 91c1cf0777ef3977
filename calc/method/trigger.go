package method

import (
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/record"
)

// trigger brings a caution, always or when a condition holds.
type trigger struct {
	caution *Caution
	node    formula.Node
	when    *formula.Formula // nil: always
}

// readCautions reads lines of the form: name, or: name when condition.
func (d *Data) readCautions(n *record.Node, faults *fault.List) {
	lines, fs := n.Words("cautions")
	faults.Join(fs)
	for _, line := range lines {
		id, cond, conditional := strings.Cut(line.Text, " when ")
		c, ok := d.library.cautions[id]
		if !ok {
			f := fault.At(line.Place.Sub(0, len(id)), "there is no caution %q", id).Want("a caution of the program, or one that this file brings").
				Fix("bring it under own cautions: %s, with signal, happens, how, instead and ask", id)
			if near := fault.Near(id, d.library.Cautions()); near != "" {
				f.Fix("%s", near)
			}
			faults.Add(f)
			continue
		}
		t := &trigger{caution: c}
		if conditional {
			t.node, fs = formula.ParseCond(line.Place.Sub(len(line.Text)-len(cond), len(line.Text)))
			faults.Join(fs)
		}
		d.cautions = append(d.cautions, t)
		d.sheet.Cautions = append(d.sheet.Cautions, id)
	}
}

// brought reports whether the caution belongs to a point. One whose condition
// cannot be told is brought all the same.
func (t *trigger) brought(e formula.Env) bool {
	if t.when == nil {
		return true
	}
	truth, _ := t.when.Truth(e)
	return truth != formula.False
}
