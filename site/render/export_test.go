package render

import "slices"

// WithoutCasts returns a renderer that has html/template set everything.
func (r *Renderer) WithoutCasts() *Renderer {
	plain := *r
	plain.templates = &foundry{set: r.templates.set, plain: true}
	return &plain
}

// Uncast returns the templates that were used and have no cast.
func (r *Renderer) Uncast() []string {
	var names []string
	r.templates.casts.Range(func(made, c any) bool {
		if c.(cast) == nil {
			names = append(names, made.(mould).template)
		}
		return true
	})
	slices.Sort(names)
	return names
}
