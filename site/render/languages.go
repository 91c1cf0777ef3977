package render

import (
	"maps"
	"slices"
)

// Languages returns the languages for which there are phrases, sorted.
func (r *Renderer) Languages() []string { return slices.Sorted(maps.Keys(r.languages)) }

// Speaks reports whether there are phrases for a language, or for the one
// that it is a kind of: those of "en" serve "en-GB".
func (r *Renderer) Speaks(language string) bool {
	_, err := r.words(language)
	return err == nil
}
