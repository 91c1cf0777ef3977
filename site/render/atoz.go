package render

import (
	"html"
	"html/template"
	"strconv"
	"strings"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// atozView is what the template of the index by the alphabet is filled with.
type atozView struct {
	words
	Strip     strip
	IndexFile string
	Letters   []indexLetter
	Contents  template.HTML
}

// indexLetter is the stretch of the index under one letter.
type indexLetter struct {
	ID     string
	Letter string
	Heads  []indexHead
}

type indexHead struct {
	Word   string
	Places template.HTML   // codes, or where to look
	Lines  []template.HTML // questions
}

// atoz makes the index by the alphabet, with the leaf for finding at its head.
func (r *Renderer) atoz(w words, b *bind.Book, sets Sets) (Page, error) {
	title, code := w.Say("a-to-z"), w.Say("a-to-z-code")
	v := atozView{words: w, IndexFile: FindIndex, Strip: strip{
		words: w, CodeLabel: w.Say("strip-code"), Code: code,
		QuestionLabel: w.Say("strip-list"), Question: title, Cells: stripCells(w, b.Edition),
	}}
	v.Contents = w.fill("moving-contents", "page", link(bind.ContentsPath, asHTML(w.Say("contents-link"))))
	last := ""
	var items []bind.Item
	for _, l := range b.Leaves {
		set, err := sets(l)
		if err != nil {
			return Page{}, err
		}
		items = append(items, set.Items...)
	}
	for _, h := range b.Index(items, strings.Fields(w.Say("a-to-z-passed-over"))) {
		if letter := w.letter(h.Word); letter != last {
			v.Letters, last = append(v.Letters, indexLetter{ID: "letter-" + strconv.Itoa(len(v.Letters)+1), Letter: letter}), letter
		}
		in := &v.Letters[len(v.Letters)-1]
		in.Heads = append(in.Heads, w.indexHead(h))
	}
	page, err := r.page("a-to-z", v, pageHead{
		words: w, Edition: b.Edition, Path: bind.IndexPath, ID: "a-to-z", Code: code, Question: title, Scripts: []string{findScript},
	})
	page.Later = []string{FindIndex}
	return page, err
}

// items are what leads to a guide in the index: its question, its headings and
// its tables.
func items(l *bind.Leaf, said []bind.Passage) []bind.Item {
	items := []bind.Item{{Spot: bind.Spot{Code: l.Guide.Docket.Code, Path: l.Path}, Text: l.Guide.Docket.Question, Question: true}}
	for _, p := range said {
		if p.Kind == bind.HeadPassage || p.Kind == bind.TablePassage {
			items = append(items, bind.Item{Spot: bind.Spot{Code: p.Code, Path: l.Path + "#" + p.Code}, Text: p.Text})
		}
	}
	return items
}

// tableWords is the caption of a table as plain text.
func (s *setter) tableWords(t *guide.Table) string {
	return html.UnescapeString(string(s.tableTitle(t)))
}

// indexHead sets one entry: where else to look, or where the word is
// explained, the questions that have it, and the other places.
func (w words) indexHead(h bind.IndexHead) indexHead {
	set := indexHead{Word: h.Word}
	var places []template.HTML
	if h.See != nil {
		places = append(places, w.fill("a-to-z-see", "words", strings.Join(h.See, ", ")))
	}
	switch {
	case h.Explained != nil && h.Also != nil:
		places = append(places, w.fill("a-to-z-explained-also", "where", w.spots(h.Explained), "also", w.commaed(h.Also)))
	case h.Explained != nil:
		places = append(places, w.fill("a-to-z-explained", "where", w.spots(h.Explained)))
	case h.Also != nil:
		places = append(places, w.commaed(h.Also))
	}
	set.Places = joinHTML(spaced(places))
	for _, q := range h.Questions {
		set.Lines = append(set.Lines, asHTML(q.Text)+" "+link(q.Path, asHTML(q.Code)))
	}
	return set
}

// commaed names places one after another, as an index does.
func (w words) commaed(all []bind.Spot) template.HTML {
	links := make([]template.HTML, 0, 2*len(all))
	for i, s := range all {
		if i > 0 {
			links = append(links, ", ")
		}
		links = append(links, link(s.Path, asHTML(s.Code)))
	}
	return joinHTML(links)
}

// spaced puts a space between things.
func spaced(things []template.HTML) []template.HTML {
	var all []template.HTML
	for i, t := range things {
		if i > 0 {
			all = append(all, " ")
		}
		all = append(all, t)
	}
	return all
}
