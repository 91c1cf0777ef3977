package render

import (
	"testing"

	"bindpost/site/guide"
)

// TestSenseOnce names a sense beside a label, and a label that is its own
// sense once.
func TestSenseOnce(t *testing.T) {
	s := &setter{words: newWords(map[string]string{"table-sense": "{label} ({sense})"})}
	for _, c := range []struct{ label, sense, want string }{
		{"run", "one way", "run (one way)"}, {"leg", "leg", "leg"}, {"loss", "", "loss"},
	} {
		t.Run(c.label, func(t *testing.T) {
			if got := string(s.sensed(guide.Heading{Label: c.label, Sense: c.sense})); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
