package trade

import "testing"

// TestTradeNames: each figure of the list is a name beside its words, and a
// figure like any other without them.
func TestTradeNames(t *testing.T) {
	names := Library().TradeNames()
	if len(names) < 9 {
		t.Fatalf("only %d names", len(names))
	}
	for _, n := range names {
		for _, word := range append([]string{"speaker"}, n.Beside...) {
			want := n.Beside == nil || word != "speaker"
			if got := n.Means(n.Figure, []string{"a", word + "s"}); got != want {
				t.Errorf("%s beside %q: %v", n.Figure.Text, word, got)
			}
		}
		other := n.Figure
		other.Value *= 1.01
		if n.Means(other, n.Beside) {
			t.Errorf("%s: another figure is taken for it", n.Figure.Text)
		}
	}
}
