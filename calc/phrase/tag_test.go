package phrase_test

import (
	"testing"

	"bindpost/calc/phrase"
)

func TestTag(t *testing.T) {
	for typed, want := range map[string]string{
		"en-us": "en-US", "EN-US": "en-US", "en": "en", "En-gB": "en-GB", "SR-latn-rs": "sr-Latn-RS", "en-oxendict": "en-oxendict", "": "",
	} {
		if got := phrase.Tag(typed); got != want {
			t.Errorf("Tag(%q) is %q, wanted %q", typed, got, want)
		}
	}
}
