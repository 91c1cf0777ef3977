package trade

import (
	"strconv"
	"strings"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// adapterCases are cases over our own catalogue: from, to, how many parts, and
// what way. They were worked with SciPy 1.10.1, csgraph.shortest_path, over the
// arrows of catalogue.yaml with 1 for a passive part, 10 for an active one and
// a ten-thousandth for what goes straight in, or, since the catalogue has a box
// for moving coils, by lowering every way in Python until none got shorter, which
// gives the others too; the last column names the reference.
const adapterCases = `F plug | aerial socket on a set | 1 | passive | graph-search
bare coax | antenna screws | 2 | passive | graph-search
moving-coil phono plug | phono line input | 2 | active | every-way
optical output | line input 3.5 mm | 3 | active | graph-search
XLR output | loudspeaker spring clips | 3 | active | graph-search
phono line plug | moving-magnet phono input | none | no way | graph-search
antenna ribbon | antenna screws | 0 | direct | graph-search
`

// addCases adds the cases to the sheet, for catalogues that have their
// connectors.
func (a *adapters) addCases(faults *fault.List) {
	text := fault.NewText("the cases of adapter-chain", adapterCases)
	at := 0
	for line := range strings.Lines(adapterCases) {
		place := text.Place(at, at+len(line)-1)
		at += len(line)
		cells := strings.Split(place.String(), " | ")
		if a.catalogues[0].Connector(cells[0]) == nil || a.catalogues[0].Connector(cells[1]) == nil {
			continue
		}
		reference, ok := a.library.Reference(cells[4])
		if !ok {
			faults.Add(fault.At(place, "there is no reference %q", cells[4]).Want("a name from the reference entries"))
			continue
		}
		count := formula.Value{State: formula.None}
		if n, err := strconv.ParseFloat(cells[2], 64); err == nil {
			count = formula.Quantity(n)
		}
		a.sheet.Cases = append(a.sheet.Cases, &method.Case{
			Values: method.Values{"from": word(cells[0]), "to": word(cells[1])},
			Wants: []method.Want{
				{Result: "count", Value: count, Place: place},
				{Result: "way", Value: formula.WordOf(cells[3]), Place: place},
			},
			Reference: reference, Place: place,
		})
	}
}
