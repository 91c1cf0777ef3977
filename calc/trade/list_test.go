package trade

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// TestList holds the list of methods to the set itself.
func TestList(t *testing.T) {
	library := Library()
	var lines []string
	for _, area := range Areas {
		for _, name := range library.Names() {
			if m, _ := library.Method(name); m.Sheet().Area == area && !library.Broken(name) {
				lines = append(lines, area+"\t"+name+"\t"+m.Sheet().Asks+"\n")
			}
		}
	}
	want := strings.Join(lines, "")
	if *updateWords {
		if err := os.WriteFile("list.txt", []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	var got []string
	for _, l := range List() {
		got = append(got, l.Area+"\t"+l.Name+"\t"+l.Asks+"\n")
	}
	if !slices.Equal(got, lines) {
		t.Errorf("list.txt is not the set: go test ./calc/trade -run List -update writes it anew")
	}
	if len(lines) != len(library.Names()) {
		t.Errorf("%d methods are listed, and the set has %d", len(lines), len(library.Names()))
	}
}
