package render

import (
	"html/template"
	"strings"
	"sync"

	"bindpost/site/guide"
)

// ownNotes keeps what stands on many pages with forms: the notes of fields, which
// stand in the form of a method on all its pages, and what the script of forms
// speaks with. There are as many as the methods have fields, and the languages.
type ownNotes struct {
	lock sync.RWMutex
	set  map[ownNoteKey]template.HTML
	said map[string]template.HTML // by language
}

func newOwnNotes() *ownNotes {
	return &ownNotes{set: map[ownNoteKey]template.HTML{}, said: map[string]template.HTML{}}
}

// says returns what the script of forms speaks with, made once.
func (o *ownNotes) says(s *setter) (template.HTML, error) {
	language := s.leaf.Edition.Language
	o.lock.RLock()
	said, known := o.said[language]
	o.lock.RUnlock()
	if known {
		return said, nil
	}
	said, err := s.ownSaid()
	if err != nil {
		return "", err
	}
	o.lock.Lock()
	defer o.lock.Unlock()
	o.said[language] = said
	return said, nil
}

// ownNoteKey is all that a note is made of.
type ownNoteKey struct {
	language, says, label, from, to, only, among, choice string
	list                                                 bool
}

// note returns the note of a field, made once.
func (o *ownNotes) note(s *setter, f guide.OwnField) template.HTML {
	key := ownNoteKey{s.leaf.Edition.Language, f.Says, f.Label, f.From, f.To, f.Only, strings.Join(f.Among, "\n"), "", f.List}
	if f.List {
		key.choice = ownTexts(f.Choice)
	}
	o.lock.RLock()
	note, known := o.set[key]
	o.lock.RUnlock()
	if known {
		return note
	}
	note = s.ownNote(f)
	o.lock.Lock()
	defer o.lock.Unlock()
	o.set[key] = note
	return note
}

// ownNote says what a value is, between what it may lie, and when it is asked
// for.
func (s *setter) ownNote(f guide.OwnField) template.HTML {
	var parts []template.HTML
	if f.Says != f.Label {
		parts = append(parts, asHTML(f.Says))
	}
	from, to := s.computed(f.From), s.computed(f.To)
	switch {
	case len(f.Among) > 0:
		parts = append(parts, s.fill("own-among", "values", s.computed(strings.Join(f.Among, ", "))))
	case f.List && f.Choice != nil:
		parts = append(parts, s.fill("own-among", "values", ownTexts(f.Choice)))
	case from != "" && to != "":
		parts = append(parts, s.fill("own-between", "from", from, "to", to))
	case from != "":
		parts = append(parts, s.fill("own-least", "from", from))
	case to != "":
		parts = append(parts, s.fill("own-most", "to", to))
	}
	if f.List {
		parts = append(parts, s.fill("own-list", "and", s.Say("own-and")))
	}
	if f.Only != "" {
		parts = append(parts, s.fill("own-only", "when", s.computed(strings.ReplaceAll(f.Only, "_", " "))))
	}
	note := template.HTML("")
	for i, p := range parts {
		if i == 0 {
			note = capitalHTML(p)
			continue
		}
		note = s.fill("own-note-join", "first", note, "second", p)
	}
	return note
}

func ownTexts(words []guide.OwnWord) string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.Text
	}
	return strings.Join(texts, ", ")
}
