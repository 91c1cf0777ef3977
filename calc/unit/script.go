package unit

import (
	_ "embed"
	"encoding/json"
	"fmt"
)

//go:embed runtime.js
var scriptRuntime string

// Script returns the JavaScript that reads and prints values as this package
// does, to be written behind that of package formula, and the table of all
// units that it reads. It is the same text each time.
func Script() string {
	return scriptRuntime + "bindpost.units(" + asJSON(scriptTable()) + ");\n"
}

// Script returns the unit as a JavaScript object: {symbol, mul, div, zero,
// kind, gauge}. Units of one kind have one text as their kind.
func (u Unit) Script() string {
	s := u.shape()
	return fmt.Sprintf("{symbol: %s, mul: %s, div: %s, zero: %s, kind: %s, gauge: %t}", asJSON(s.symbol),
		asJSON(s.mul), asJSON(s.div), asJSON(s.zero), asJSON(scriptKind(s.kind)), s.kind.Scale == Gauge)
}

// scaleNames are what scales are called in a script.
var scaleNames = [...]string{"", "temperature", "gauge", "sound", "weighted", "power", "voltage", "field", "antenna"}

// scriptKind is a kind as one text: its exponents up to the last that is not
// nought, and its scale.
func scriptKind(k Kind) string {
	text, end := "", len(k.Dims)
	for end > 0 && k.Dims[end-1] == 0 {
		end--
	}
	for i, halves := range k.Dims[:end] {
		if i > 0 {
			text += ","
		}
		text += fmt.Sprint(halves)
	}
	if k.Scale != NoScale {
		text += ":" + scaleNames[k.Scale]
	}
	return text
}

// scriptRow is a row of the table as the script reads it.
type scriptRow struct {
	Symbol   string   `json:"symbol"`
	Also     []string `json:"also,omitempty"`
	Words    []string `json:"words,omitempty"`
	Print    string   `json:"print,omitempty"`
	One      string   `json:"one"`
	Many     string   `json:"many,omitempty"`
	Dims     []int8   `json:"dims"`
	Scale    string   `json:"scale,omitempty"`
	Mul      float64  `json:"mul,omitempty"`
	Div      float64  `json:"div,omitempty"`
	Zero     float64  `json:"zero,omitempty"`
	Prefixes string   `json:"prefixes,omitempty"`
	Prefixed bool     `json:"prefixed,omitempty"`
}

func scriptTable() map[string]any {
	rows, before := make([]scriptRow, len(table)), []map[string]any{}
	for i, r := range table {
		dims := r.dims[:]
		for len(dims) > 0 && dims[len(dims)-1] == 0 {
			dims = dims[:len(dims)-1]
		}
		rows[i] = scriptRow{
			r.symbol, r.also, r.words, r.print, r.one, r.many, append([]int8{}, dims...), scaleNames[r.scale],
			r.mul, r.div, r.zero, r.prefixes, r.prefixed,
		}
	}
	for _, p := range prefixes {
		before = append(before, map[string]any{"mark": p.mark, "also": p.also, "word": p.word, "mul": p.mul, "div": p.div})
	}
	return map[string]any{
		"rows": rows, "prefixes": before, "tails": scriptTails(), "parted": scriptParted(), "slang": scriptSlang(),
		"dimensions": dimSymbols, "bases": scriptBases(),
	}
}

func scriptTails() (all []map[string]any) {
	for _, t := range tails {
		all = append(all, map[string]any{"head": t.head, "tail": t.tail, "spaced": t.spaced, "symbol": t.symbol})
	}
	return all
}

func scriptParted() (all []map[string]any) {
	for _, p := range parted {
		all = append(all, map[string]any{"large": p.large, "small": p.small, "many": p.many})
	}
	return all
}

// scriptBases are the units that values of named kinds are kept in.
func scriptBases() (all []string) {
	for _, r := range kindRows {
		if r.base == "number" {
			all = append(all, "")
			continue
		}
		all = append(all, r.base)
	}
	return all
}

func scriptSlang() (all [][2]string) {
	for _, s := range slang {
		all = append(all, [2]string{s.word, s.symbol})
	}
	return all
}

// asJSON writes a value so that it may stand in a script file and in a script
// element alike: json.Marshal escapes <, > and &.
func asJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic("unit: a table that cannot be written: " + err.Error())
	}
	return string(b)
}
