package formula

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
)

// TestChoiceOfSeveralWords reads choices that have more than one word, and
// sees where each ends.
func TestChoiceOfSeveralWords(t *testing.T) {
	ends := []string{"F plug", "F plug on the lead", "stereo plug 3.5 mm", "S/PDIF"}
	scope := &Scope{Values: map[string]Symbol{"to": {Type: Choice(ends...)}, "parts": {}}}
	cases := []struct {
		name, cond, word, text string
	}{
		{"to the end", "to is F plug on the lead", "F plug on the lead", "to is F plug on the lead"},
		{"before and", "to is F plug and parts at most 2", "F plug", "to is F plug and parts at most 2"},
		{"before or", "to is F plug on the lead or to is S/PDIF", "F plug on the lead", "to is F plug on the lead or to is S/PDIF"},
		{"before a comma", "parts = tally(to is stereo plug 3.5 mm, parts = 1)", "stereo plug 3.5 mm", "parts = tally(to is stereo plug 3.5 mm, parts = 1)"},
		{"before a bracket", "parts < tally(to is F plug)", "F plug", "parts < tally(to is F plug)"},
		{"spaces made one", "not to is F    plug", "F plug", "not to is F plug"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			n, faults := ParseCond(fault.NewText("cond", c.cond).All())
			f, more := Check(n, scope)
			if faults.Join(more); faults.Len() > 0 {
				t.Fatal(faults)
			}
			if got := Text(f.Node()); got != c.text {
				t.Errorf("it reads back as %q", got)
			}
			env := chosenEnd{c.word}
			if truth, why := f.Truth(env); truth == Untold {
				t.Errorf("with %q it cannot be told: %s", c.word, why)
			}
			if first := firstWord(f.Node()); first != c.word {
				t.Errorf("the choice is %q", first)
			}
		})
	}
}

// TestValueNamedAsAFunction reads a value of a condition whose name is also a
// built-in function's, and refuses the bare name where no value has it.
func TestValueNamedAsAFunction(t *testing.T) {
	scope := &Scope{Values: map[string]Symbol{"count": {}}}
	n, faults := ParseCond(fault.NewText("cond", "count at most 1").All())
	f, more := Check(n, scope)
	if faults.Join(more); faults.Len() > 0 {
		t.Fatal(faults)
	}
	if truth, _ := f.Truth(chosenEnd{}); truth != True {
		t.Errorf("1 at most 1 is %v", truth)
	}
	if _, more := Check(n, &Scope{}); !strings.Contains(more.String(), "its brackets are missing") {
		t.Errorf("without such a value it tells %q", more)
	}
}

// firstWord returns the first choice that a tree asks for.
func firstWord(n Node) string {
	switch n := n.(type) {
	case *Is:
		return n.Value.(*Word).Text
	case *Not:
		return firstWord(n.Test)
	case *And:
		return firstWord(n.Tests[0])
	case *Or:
		return firstWord(n.Tests[0])
	case *Compare:
		return firstWord(n.Right)
	case *Call:
		return firstWord(n.Args[0])
	}
	return ""
}

// chosenEnd answers with one choice, and with 1 for any number.
type chosenEnd struct{ word string }

func (e chosenEnd) Value(name string) Value {
	if name == "to" {
		return WordOf(e.word)
	}
	return Quantity(1)
}

func (e chosenEnd) Given(string) bool   { return true }
func (e chosenEnd) Missing(string) bool { return false }
