package fault_test

import (
	"testing"

	"bindpost/calc/fault"
)

// A text that was let go is brought back as it was, whenever it is wanted; one
// that is another by now shows nothing, and its places hold.
func TestLetGo(t *testing.T) {
	now, there := "\ufeffrun: 9 ohm\r\nload: 8 ohm\r\n", true
	text := fault.NewText("kitchen.md", now)
	at := text.Place(5, 10)
	told := fault.At(at, "wrong").Error()
	text.LetGo(func() (string, bool) { return now, there })
	if got := fault.At(at, "wrong").Error(); got != told || at.String() != "9 ohm" || text.Line(2) != "load: 8 ohm" {
		t.Errorf("brought back, it tells %s of %q; line 2 is %q", got, at, text.Line(2))
	}
	for _, other := range []string{"run: 7 ohm\nload: 8 ohm\n", "x"} {
		now = other
		if got := at.String(); got != "     " {
			t.Errorf("of another text it shows %q", got)
		}
	}
	there = false
	if line, column := text.Position(at.Start); line != 1 || column != 6 {
		t.Errorf("a text that is gone has it at %d:%d", line, column)
	}
}
