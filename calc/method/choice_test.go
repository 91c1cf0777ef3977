package method_test

import (
	"strings"
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/formula"
	"bindpost/calc/method"
)

// printedChoice is a method whose choices carry words for print.
const printedChoice = `method: stiffness
asks: How stiff is it?
area: wire
takes:
  class: {choice: {c2: stiff, c5: flexible}, book: c5, says: the conductor's class}
working:
  - other = class   [made-up]
gives:
  other: {choice: {c2: stiff, c5: flexible}}
no outside case: it is made up
own references:
  made-up: {title: A made-up rule, date: 2026-01-01, mark: practice, says: made up}
`

// TestPrintedChoice holds that a choice is typed by its key and read by its
// words.
func TestPrintedChoice(t *testing.T) {
	library, faults := method.Load(method.Sources{Methods: []*fault.Text{fault.NewText("stiffness.yaml", printedChoice)}}, nil)
	if faults.Len() > 0 {
		t.Fatal(faults)
	}
	m, _ := library.Method("stiffness")
	s := m.Sheet()
	in := s.Input("class")
	p, faults := in.Read(fault.NewText("typed", "c5").All())
	if faults.Len() > 0 || p.Value.Word != "c5" || p.Text != "flexible" {
		t.Errorf("c5 was read as %q, printed %q, %v", p.Value.Word, p.Text, faults)
	}
	if got := s.Result("other").Text(formula.WordOf("c2")); got != "stiff" {
		t.Errorf("the result prints as %q", got)
	}
	if got := s.Sample(); got != `stiffness class="c5"` {
		t.Errorf("it is typed as %q", got)
	}
	handed, faults := in.Take(method.Handed{Value: formula.WordOf("c2"), Text: "c2"})
	if faults.Len() > 0 || handed.Text != "stiff" {
		t.Errorf("a handed word prints as %q, %v", handed.Text, faults)
	}
	_, faults = in.Read(fault.NewText("typed", "flexible").All())
	if want := "one of: c2 (stiff), c5 (flexible)"; !strings.Contains(faults.String(), want) {
		t.Errorf("a wrong word is told as:\n%s\nand %q was wanted", faults, want)
	}
}

// TestPrintedChoiceWithoutWords holds that a key without words is told.
func TestPrintedChoiceWithoutWords(t *testing.T) {
	text := strings.Replace(printedChoice, "c5: flexible}, book", "c5: }, book", 1)
	_, faults := method.Load(method.Sources{Methods: []*fault.Text{fault.NewText("stiffness.yaml", text)}}, nil)
	if want := `it is not said what is printed for "c5"`; !strings.Contains(faults.String(), want) {
		t.Errorf("got:\n%s\nand %q was wanted", faults, want)
	}
}
