package render

import (
	"html/template"
	"strings"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// readingView is what the template of how to read the book is filled with.
type readingView struct {
	words
	Strip    strip
	Parts    []keyPart
	Contents template.HTML
}

// keyPart is a stretch of the page that says what things of one kind mean.
type keyPart struct {
	Head    string
	Opens   template.HTML
	Entries []keyEntry
}

// keyEntry says what one thing means, and how it stands in this book.
type keyEntry struct{ Term, Here, Words template.HTML }

// Reading drafts the page that says how the book is read: its codes, the parts
// of a table of its own, and the words that stand everywhere.
//
// The leaf is that of [Example], with its guide whole; nil in a book that has no
// table.
func (r *Renderer) Reading(b *bind.Book, l *bind.Leaf) (Draft, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Draft{}, err
	}
	code, title := w.Say("reading-code"), w.Say("reading")
	v := readingView{
		words: w,
		Strip: strip{
			words: w, CodeLabel: w.Say("strip-code"), Code: code,
			QuestionLabel: w.Say("strip-leaf"), Question: title, Cells: stripCells(w, b.Edition),
		},
		Parts:    append(r.keyToBook(w, l), w.keyToWords()...),
		Contents: w.fill("moving-contents", "page", link(bind.ContentsPath, asHTML(w.Say("contents-link")))),
	}
	return r.draft("reading", pageHead{
		words: w, Edition: b.Edition, Path: bind.ReadingPath, ID: "reading", Code: code, Question: title,
	}, nil, func(*asked) (any, error) { return v, nil }), nil
}

// keyToBook tells what the book's own codes and tables say.
func (r *Renderer) keyToBook(w words, l *bind.Leaf) []keyPart {
	if l == nil {
		return nil
	}
	t := mostParts(l)
	s := newSetter(r, w, l)
	parts := []keyPart{{Head: w.Say("reading-codes"), Entries: s.codes(t)}}
	parts = append(parts, keyPart{
		Head:    w.Say("reading-table"),
		Opens:   w.fill("reading-table-opens", "table", link(l.Path+"#"+t.Number, asHTML(t.Number)+" "+s.tableTitle(t))),
		Entries: s.tableKey(t),
	})
	if t.Decision == nil {
		parts = append(parts, keyPart{Head: w.Say("reading-quote"), Opens: w.fill("reading-quote-opens", "figure", s.quoted(t))})
	}
	return parts
}

// Example returns the leaf with the table by which the book shows how one is
// read: the first that has the most parts to show. It is nil in a book that has
// no table.
func Example(b *bind.Book) *bind.Leaf {
	var leaf *bind.Leaf
	most := -1
	for _, l := range b.Leaves {
		if t := mostParts(l); t != nil && t.Parts() > most {
			leaf, most = l, t.Parts()
		}
	}
	return leaf
}

// mostParts returns the first table of a guide that has the most parts to show.
func mostParts(l *bind.Leaf) *guide.Table {
	var found *guide.Table
	for _, t := range l.Guide.Tables {
		if found == nil || t.Parts() > found.Parts() {
			found = t
		}
	}
	return found
}

// codes tells what the codes of a table's guide stand for.
func (s *setter) codes(t *guide.Table) []keyEntry {
	code := s.leaf.Guide.Docket.Code
	entries := []keyEntry{{
		Term:  link(s.leaf.Path, asHTML(code)),
		Words: s.fill("reading-page", "question", s.leaf.Guide.Docket.Question),
	}}
	if len(s.leaf.Heads) > 0 {
		h := s.leaf.Heads[0].Code
		entries = append(entries, keyEntry{Term: link(s.leaf.Path+"#"+h, asHTML(h)), Words: asHTML(s.Say("reading-section"))})
	}
	entries = append(entries, keyEntry{Term: link(s.leaf.Path+"#"+t.Number, asHTML(t.Number)), Words: s.fill("reading-number", "code", code)})
	if len(s.leaf.Cautions) > 0 {
		c := code + "-C1"
		entries = append(entries, keyEntry{Term: link(s.leaf.Path+"#"+c, asHTML(c)), Words: s.fill("reading-caution", "code", code)})
	}
	return entries
}

// tableKey tells what each part of a table means, and how it stands there.
func (s *setter) tableKey(t *guide.Table) []keyEntry {
	v := s.table(t)
	var key []keyEntry
	add := func(term template.HTML, here template.HTML, words string) {
		if here != "" {
			key = append(key, keyEntry{Term: term, Here: here, Words: asHTML(s.Say(words))})
		}
	}
	add(asHTML(s.Say("taken")), joinedBy(v.Taken, "; "), "reading-taken")
	add(asHTML(s.Say("reading-limit")), joinedBy(v.Limits, " "), "reading-limit-words")
	if t.Decision == nil {
		add(asHTML(s.Say("reading-cell")), s.quoted(t), "reading-cell-words")
	}
	add(asHTML(s.Say("reading-rounded")), joinedBy(v.Rounded, " "), "reading-rounded-words")
	if len(v.Work) > 0 {
		add(asHTML(s.Say("reading-work")), v.Work[0].Title, "reading-work-words")
	}
	if len(v.Sources) > 0 {
		first := v.Sources[0]
		add(asHTML(s.Say("sources")), s.fill("cautions-line", "label", first.Mark, "value", first.Text), "reading-sources-words")
	}
	add(asHTML(s.Say("reading-covers-not")), v.CoversNot, "reading-covers-not-words")
	return key
}

// quoted names the first figure of a table as one would quote it.
func (s *setter) quoted(t *guide.Table) template.HTML {
	g := &grid{setter: s, table: t, decimals: decimalsOf(t)}
	heads, rows := g.heads(), g.rows()
	if len(rows) == 0 || len(heads) < 2 {
		return ""
	}
	first := t.Cells[0][0]
	figure := asHTML(s.stateWord(first.Value.State))
	if first.Number != "" {
		figure = s.quantity(first.Number, g.unit(0))
	}
	return s.fill("reading-figure", "table", t.Number, "row", rows[0][0].Text, "column", heads[1].Text, "figure", figure)
}

func joinedBy(pieces []template.HTML, between string) template.HTML {
	texts := make([]string, len(pieces))
	for i, p := range pieces {
		texts[i] = string(p)
	}
	return template.HTML(strings.Join(texts, between))
}

// keyToWords tells what the words mean that stand in every book.
func (w words) keyToWords() []keyPart {
	none := keyPart{Head: w.Say("reading-no-figure"), Entries: []keyEntry{
		{Term: asHTML(w.Say("cell-none")), Words: asHTML(w.Say("reading-none"))},
		{Term: asHTML(w.Say("cell-unknown")), Words: asHTML(w.Say("reading-unknown"))},
	}}
	cautions := keyPart{Head: w.Say("reading-cautions"), Opens: asHTML(w.Say("reading-cautions-opens"))}
	for _, signal := range []string{"WARNING", "CAUTION", "NOTE"} {
		cautions.Entries = append(cautions.Entries, w.key("signal-", "reading-signal-", signal))
	}
	marks := keyPart{Head: w.Say("reading-marks"), Opens: asHTML(w.Say("reading-marks-opens"))}
	for _, mark := range []string{"read", "computed", "practice", "memory"} {
		marks.Entries = append(marks.Entries, w.key("mark-", "reading-mark-", mark))
	}
	verdicts := keyPart{Head: w.Say("reading-verdicts"), Opens: asHTML(w.Say("reading-verdicts-opens"))}
	for _, grade := range []string{"fits", "doubtful", "do not connect", "ask first", "cannot tell"} {
		verdicts.Entries = append(verdicts.Entries, w.key("grade-", "reading-grade-", grade))
	}
	return []keyPart{cautions, none, verdicts, marks}
}

// key is a word of the phrases with what it means.
func (w words) key(kind, means, word string) keyEntry {
	return keyEntry{Term: asHTML(w.Say(kind + word)), Words: asHTML(w.Say(means + word))}
}
