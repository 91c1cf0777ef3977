package fault_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"bindpost/calc/fault"
)

func ExampleFault() {
	guide := fault.NewText("kitchen.md", "gauge: 16 AWG\nrun: 9 ohm\n")
	at := guide.Place(guide.Offset(2, 8), guide.Offset(2, 11))
	fmt.Println(fault.At(at, "%q is a resistance, and a length is wanted", "9 ohm").
		Want("a length, such as 9 m").Fix("run: 9 m"))
	// Output:
	// kitchen.md:2:8: stop: "9 ohm" is a resistance, and a length is wanted
	//   run: 9 ohm
	//          ^^^
	//   wanted: a length, such as 9 m
	//   try: run: 9 m
}

// Whatever an editor puts at the head and at the ends of lines, places agree.
func TestLineEnds(t *testing.T) {
	for _, source := range []string{"a\nbc\n\nd", "\ufeffa\r\nbc\r\n\r\nd", "a\rbc\r\rd"} {
		text := fault.NewText("t", source)
		if text.Source() != "a\nbc\n\nd" {
			t.Errorf("%q reads as %q", source, text.Source())
		}
		for n, want := range []string{"", "a", "bc", "", "d", ""} {
			if got := text.Line(n); got != want {
				t.Errorf("line %d of %q is %q", n, source, got)
			}
		}
	}
}

// Columns count runes, and offsets come back from them.
func TestPositions(t *testing.T) {
	text := fault.NewText("t", "8 Ω\n\t9 m²x\n")
	for _, c := range []struct{ offset, line, column int }{
		{0, 1, 1}, {2, 1, 3}, {4, 1, 4}, {5, 2, 1}, {6, 2, 2}, {11, 2, 6}, {12, 2, 7}, {13, 3, 1},
	} {
		line, column := text.Position(c.offset)
		if line != c.line || column != c.column {
			t.Errorf("offset %d is %d:%d, not %d:%d", c.offset, line, column, c.line, c.column)
		}
		if back := text.Offset(c.line, c.column); back != c.offset {
			t.Errorf("%d:%d is offset %d, not %d", c.line, c.column, back, c.offset)
		}
	}
	for _, c := range []struct{ line, column, offset int }{{0, 5, 0}, {-1, 1, 0}, {99, 1, 13}, {1, 99, 4}} {
		if got := text.Offset(c.line, c.column); got != c.offset {
			t.Errorf("%d:%d, which is not there, is offset %d, not %d", c.line, c.column, got, c.offset)
		}
	}
}

func TestPlaces(t *testing.T) {
	text := fault.NewText("t", "run:  9 m\u00a0 ")
	p := text.Place(4, 99)
	if got := p.Trim().String(); got != "9 m" {
		t.Errorf("trimmed to %q", got)
	}
	if got := p.Trim().Sub(2, 3).String(); got != "m" {
		t.Errorf("a part of it is %q", got)
	}
	if got := text.Place(0, 3).To(p.Trim()).String(); got != "run:  9 m" {
		t.Errorf("joined they are %q", got)
	}
	if got := text.Place(9, 2); got.Start != 9 || got.End != 9 {
		t.Errorf("a place upside down is %v", got)
	}
	if text.Place(4, 6).Trim().String() != "" || text.All().String() != text.Source() {
		t.Error("blanks and the whole")
	}
	var none fault.Place
	if none.String() != "" || none.Sub(1, 2) != none {
		t.Error("no place has no text")
	}
}

// What a fault quotes never runs off a terminal nor commands it.
func TestQuotes(t *testing.T) {
	long := strings.Repeat("x", 300) + "9 ohm" + strings.Repeat("y", 300)
	for _, c := range []struct {
		name, source string
		start, end   int
		want         string
	}{
		{"tab", "\trun", 1, 4, "t:1:2: stop: wrong\n   run\n   ^^^"},
		{"control", "a\x1b[2Jb", 5, 6, "t:1:6: stop: wrong\n  a\ufffd[2Jb\n       ^"},
		{"turned text", "a\u202eb", 4, 5, "t:1:3: stop: wrong\n  a\ufffdb\n    ^"},
		{"end of line", "ab\ncd", 2, 2, "t:1:3: stop: wrong\n  ab\n    ^"},
		{"over lines", "ab\ncd", 1, 5, "t:1:2: stop: wrong\n  ab\n   ^"},
		{"long", long, 300, 305, "t:1:301: stop: wrong\n  … " + strings.Repeat("x", 50) + "9 ohm" + strings.Repeat("y", 45) + " …\n  " +
			strings.Repeat(" ", 52) + "^^^^^"},
		{"long, at its end", long[:305], 300, 305, "t:1:301: stop: wrong\n  … " + strings.Repeat("x", 95) + "9 ohm\n  " + strings.Repeat(" ", 97) + "^^^^^"},
		{"empty", "", 0, 0, "t: stop: wrong"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := fault.NewText("t", c.source)
			if got := fault.At(text.Place(c.start, c.end), "wrong").Error(); got != c.want {
				t.Errorf("got\n%s\nwanted\n%s", got, c.want)
			}
		})
	}
	if got := fault.At(fault.Place{}, "wrong").Graded(fault.Note).Error(); got != "note: wrong" {
		t.Errorf("without a place it reads %q", got)
	}
}

// Faults come in the order of their places, and the same one once.
func TestList(t *testing.T) {
	a, b := fault.NewText("a.md", "xyz"), fault.NewText("b.md", "xyz")
	var l, more fault.List
	l.Add(fault.At(b.Place(0, 1), "third"), nil, fault.At(a.Place(2, 3), "second").Graded(fault.Warn), fault.At(a.Place(2, 3), "second"))
	if !l.Stopped() || l.Len() != 3 {
		t.Errorf("stopped %v, %d faults", l.Stopped(), l.Len())
	}
	more.Add(fault.At(a.Place(0, 1), "first").Graded(fault.Note))
	l.Join(&more)
	l.Join(nil)
	var got []string
	for _, f := range l.All() {
		got = append(got, f.Message)
	}
	if s := strings.Join(got, " "); s != "first second third" {
		t.Errorf("the order is %s", s)
	}
	if more.Err() != nil || more.Stopped() || l.Err() == nil || l.Error() != l.String() {
		t.Error("only a stop makes a list an error")
	}
	var none *fault.List
	if none.Len() != 0 || none.Stopped() || none.All() != nil || none.String() != "" {
		t.Error("a list that is not there is empty")
	}
}

func TestCause(t *testing.T) {
	cause := errors.New("the disk is full")
	f := fault.At(fault.Place{}, "not written")
	f.Err = cause
	if !errors.Is(f, cause) {
		t.Error("the cause is lost")
	}
	if s := fault.Grade(9).String(); s != "grade 9" {
		t.Errorf("a grade that is none reads %q", s)
	}
}

func TestNear(t *testing.T) {
	words := []string{"gauge", "run", "load", "Mohm", "mohm"}
	for typed, want := range map[string]string{
		"guage": "gauge", "rum": "run", "laod": "load", "GAUGE": "gauge", "MOHM": "Mohm", "temperature": "", "": "",
		strings.Repeat("gauge", 99): "",
	} {
		if got := fault.Near(typed, words); got != want {
			t.Errorf("near %q stands %q, not %q", typed, got, want)
		}
	}
}
