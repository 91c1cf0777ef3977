package guide

import (
	"testing"

	"bindpost/calc/fault"
	"bindpost/calc/trade"
)

// TestArticles: the article before a word by region is that of the word which
// the edition prints.
func TestArticles(t *testing.T) {
	for language, words := range map[string]map[string]string{
		"en-GB": {"an-earth-pin": "an earth pin", "A-wall-socket": "A wall socket", "a-valve": "a valve", "an-aerial": "an aerial", "a-aerial": "an aerial"},
		"en-US": {"an-earth-pin": "a ground prong", "A-wall-socket": "A wall outlet", "a-valve": "a tube", "An-aerial": "An antenna", "a-loft": "an attic"},
	} {
		kit := Kit{Library: trade.Library().In(language)}
		for typed, want := range words {
			r := &reader{kit: kit, text: fault.NewText("guide.md", typed), faults: &fault.List{}}
			if got, ok := r.regionalWord(r.text.All()); !ok || got != want {
				t.Errorf("%s in %s is %q, wanted %q", typed, language, got, want)
			}
		}
	}
	r := &reader{kit: Kit{Library: trade.Library()}, text: fault.NewText("guide.md", "a-an-earth"), faults: &fault.List{}}
	if got, ok := r.regionalWord(r.text.All()); ok {
		t.Errorf("two articles make %q", got)
	}
}
