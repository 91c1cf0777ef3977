package formula

import "testing"

// TestApart: what a relation may be between two values whose difference is
// known, where those nearer than 1 are equal, and those farther apart than 2
// are not. Worked by hand.
func TestApart(t *testing.T) {
	type answers struct{ yes, no bool }
	only, never, either := answers{true, false}, answers{false, true}, answers{true, true}
	for _, c := range []struct {
		gap                                   span
		less, atMost, equal, atLeast, greater answers
	}{
		{span{-9, -3}, only, only, never, never, never},
		{span{3, 9}, never, never, never, only, only},
		{span{-1, 1}, never, only, only, only, never},
		{span{-9, 1}, either, only, either, either, never},
		{span{-1, 9}, never, either, either, only, either},
		{span{-9, 9}, either, either, either, either, either},
		{span{1.5, 9}, never, either, either, only, either},
		{span{-9, -1.5}, either, only, either, either, never},
	} {
		for relation, want := range map[Relation]answers{
			Less: c.less, AtMost: c.atMost, Equal: c.equal, AtLeast: c.atLeast, Greater: c.greater,
		} {
			if yes, no := relation.apart(c.gap, 1, 2); (answers{yes, no}) != want {
				t.Errorf("relation %d over %v may hold: %v, may not: %v; want %v", relation, c.gap, yes, no, want)
			}
		}
	}
}

// TestScaled puts a factor behind formulas and reads them again.
func TestScaled(t *testing.T) {
	by := &Number{Text: "100", Value: 100}
	for text, want := range map[string]string{
		"a/b": "a/b*100", "1 - a": "(1 - a)*100", "-a": "(-a)*100", "a": "a*100", "(a + b)": "(a + b)*100",
	} {
		n, faults := ParseBody(placed(text))
		if faults.Stopped() {
			t.Fatal(faults)
		}
		got := Text(Scaled(n, by))
		again, faults := ParseBody(placed(got))
		if faults.Stopped() || got != want || Text(again) != want {
			t.Errorf("%s times 100 is %q, want %q; read again %v", text, got, want, faults)
		}
	}
}

// TestReplaced: numbers are replaced, also in cases, but not in conditions;
// the tree itself stays.
func TestReplaced(t *testing.T) {
	n, faults := ParseBody(placed("2*sqrt(3 + a) when a > 4, else -(5)^2"))
	if faults.Stopped() {
		t.Fatal(faults)
	}
	before := Text(n)
	after := Text(Replaced(n, func(n *Number) Node {
		if n.Text == "2" {
			return nil
		}
		return &Name{Text: "x" + n.Text}
	}))
	if want := "2*sqrt(x3 + a) when a > 4, else -(x5)^2"; after != want || Text(n) != before {
		t.Errorf("replaced is %q, want %q; the tree itself is %q, and was %q", after, want, Text(n), before)
	}
}
