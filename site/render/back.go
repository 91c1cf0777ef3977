package render

import (
	"html/template"
	"slices"

	"bindpost/site/bind"
)

// listView is what the template of a list at the back is filled with.
type listView struct {
	words
	ID       string
	Strip    strip
	Parts    []listPart
	Contents template.HTML
}

// listPart is one stretch of a list under a head.
type listPart struct {
	Head    template.HTML
	Entries []listEntry
}

// listEntry is an entry of a list, which is made when it is set.
type listEntry struct{ made func() entry }

// Made makes the entry.
func (e listEntry) Made() entry { return e.made() }

type entry struct {
	Code  string
	Title pieces
	Lines []pieces
}

// add puts an entry under the last head.
func add(parts []listPart, made func() entry) {
	part := &parts[len(parts)-1]
	part.Entries = append(part.Entries, listEntry{made})
}

// Back drafts the pages at the back of the book: the list of tables, the
// references, the cautions, the glossary and the index. One that would be empty
// is left out.
func (r *Renderer) Back(b *bind.Book, sets Sets) ([]Draft, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return nil, err
	}
	var pages []Draft
	for _, list := range backLists {
		if list.has(b) {
			pages = append(pages, r.list(w, b, list, sets))
		}
	}
	return append(pages, r.atoz(w, b, sets)), nil
}

// backList is one of the lists at the back, with the keys of its phrases.
type backList struct {
	name, code string
	path       string
	has        func(*bind.Book) bool
	parts      func(*Renderer, words, *bind.Book, *asked) []listPart
}

// cautionsID is the id of the list of cautions, and the key of its name.
const cautionsID = "cautions"

var backLists = []backList{
	{"tables", "tables-code", bind.TablesPath, (*bind.Book).HasTables, (*Renderer).tableParts},
	{"references", "references-code", bind.ReferencesPath, func(b *bind.Book) bool { return len(b.References) > 0 }, withoutSets((*Renderer).referenceParts)},
	{cautionsID, "cautions-code", bind.CautionsPath, func(b *bind.Book) bool { return len(b.Cautions) > 0 }, withoutSets((*Renderer).cautionParts)},
	{"glossary", "glossary-code", bind.GlossaryPath, func(b *bind.Book) bool { return len(b.Glossary) > 0 }, withoutSets((*Renderer).glossaryParts)},
	{"workings", "workings-code", bind.WorkingsPath, (*bind.Book).HasWorkings, withoutSets((*Renderer).workingsParts)},
}

// withoutSets makes parts of a list of what the book alone holds.
func withoutSets(parts func(*Renderer, words, *bind.Book) []listPart) func(*Renderer, words, *bind.Book, *asked) []listPart {
	return func(r *Renderer, w words, b *bind.Book, _ *asked) []listPart { return parts(r, w, b) }
}

func (r *Renderer) list(w words, b *bind.Book, list backList, sets Sets) Draft {
	title, code := w.Say(list.name), w.Say(list.code)
	h := pageHead{words: w, Edition: b.Edition, Path: list.path, ID: list.name, Code: code, Question: title}
	return r.draft("list", h, sets, func(sets *asked) (any, error) {
		return listView{
			words: w, ID: list.name, Parts: list.parts(r, w, b, sets),
			Strip: strip{
				words: w, CodeLabel: w.Say("strip-code"), Code: code,
				QuestionLabel: w.Say("strip-list"), Question: title, Cells: stripCells(w, b.Edition),
			},
			Contents: w.fill("moving-contents", "page", link(bind.ContentsPath, asHTML(w.Say("contents-link")))),
		}, nil
	})
}

// tableParts lists the tables by topic, those of a guide under its question.
func (r *Renderer) tableParts(w words, b *bind.Book, sets *asked) []listPart {
	var parts []listPart
	for _, topic := range b.Topics {
		parts = append(parts, listPart{Head: asHTML(w.topic(topic))})
		for _, l := range topic.Leaves {
			if len(l.Guide.Tables) == 0 {
				continue
			}
			add(parts, func() entry {
				return entry{Code: l.Guide.Docket.Code, Title: inOne(asHTML(l.Guide.Docket.Question)), Lines: eachInOne(sets.of(l).Tables)}
			})
		}
	}
	return slices.DeleteFunc(parts, listPart.empty)
}

func (p listPart) empty() bool { return p.Entries == nil }

// tableLines lists the tables of a guide.
func (s *setter) tableLines() []template.HTML {
	var lines []template.HTML
	for _, t := range s.leaf.Guide.Tables {
		lines = append(lines, `<span class="paragraph">`+asHTML(t.Number)+`</span> `+link(s.leaf.Path+"#"+t.Number, s.tableTitle(t)))
	}
	return lines
}

// referenceParts lists the references by how they are known.
func (r *Renderer) referenceParts(w words, b *bind.Book) []listPart {
	var parts []listPart
	last, where := "", b.WhereCited()
	for _, c := range b.References {
		if c.Mark != last {
			parts, last = append(parts, listPart{Head: asHTML(w.sayOr("mark-", c.Mark))}), c.Mark
		}
		add(parts, func() entry {
			return entry{
				Title: inOne(asHTML(sourceText(c.Source))),
				Lines: []pieces{w.filling("references-where", "where", w.spots(where[c.ID]))},
			}
		})
	}
	return parts
}

// cautionParts lists the cautions by their signal words.
func (r *Renderer) cautionParts(w words, b *bind.Book) []listPart {
	var parts []listPart
	last, where := "", b.WhereHeeded()
	for _, h := range b.Cautions {
		if h.Signal != last {
			head := asHTML(w.sayOr("signal-", h.Signal)) + ` <span class="harm">` + asHTML(w.sayOr("harm-", h.Signal)) + `</span>`
			parts, last = append(parts, listPart{Head: head}), h.Signal
		}
		add(parts, func() entry {
			e := entry{Title: inOne("<b>" + asHTML(sentence(h.Happens)) + "</b>")}
			for _, l := range w.cautionLines(h.Caution)[1:] {
				e.Lines = append(e.Lines, inOne(w.fill("cautions-line", "label", "<b>"+asHTML(l.Label)+"</b>", "value", l.Value)))
			}
			e.Lines = append(e.Lines, w.filling("cautions-where", "where", w.spots(where[h.ID])))
			return e
		})
	}
	return parts
}

// back returns the way to each list from the contents.
func (w words) back(b *bind.Book) []template.HTML {
	var ways []template.HTML
	for _, list := range backLists {
		if list.has(b) {
			ways = append(ways, link(list.path, asHTML(w.Say(list.name))))
		}
	}
	return append(ways, link(bind.IndexPath, asHTML(w.Say("a-to-z"))))
}
