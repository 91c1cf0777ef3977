package guide

import (
	"strconv"
	"strings"

	"bindpost/calc/formula"
)

// KeptValue writes a value to twelve figures in base units, or as its word, and
// "" where it is not known. Processors differ in the last bits of a power, and
// what is kept must be the same on all of them.
func KeptValue(v formula.Value) string {
	switch {
	case v.State != formula.Known:
		return ""
	case v.List != nil:
		members := make([]string, len(v.List))
		for i, m := range v.List {
			members[i] = KeptValue(m)
		}
		return strings.Join(members, " and ")
	case v.Word != "":
		return v.Word
	}
	const figures = 12
	return strconv.FormatFloat(v.Number, 'g', figures, 64)
}
