package trade

import (
	_ "embed"
	"strings"
)

// list.txt has a line for each method of the shipped set, so that the set can be
// listed without being read: its area, its name and the question that it answers,
// parted by tabs, in the order in which they are listed. A test holds it to the
// set, and writes it anew: go test ./calc/trade -run List -update.
//
//go:embed list.txt
var listing string

// Listed is a method as it is listed.
type Listed struct{ Area, Name, Asks string }

// List returns the methods of the shipped set by area, and by name in each.
func List() []Listed {
	var all []Listed
	for line := range strings.Lines(listing) {
		if area, rest, ok := strings.Cut(strings.TrimSuffix(line, "\n"), "\t"); ok {
			name, asks, _ := strings.Cut(rest, "\t")
			all = append(all, Listed{area, name, asks})
		}
	}
	return all
}
