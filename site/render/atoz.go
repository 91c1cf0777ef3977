package render

import (
	"html"
	"html/template"
	"slices"
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

// indexHead is one entry.
type indexHead struct {
	words
	*bind.IndexHead
}

// atoz drafts the index by the alphabet, with the leaf for finding at its head.
func (r *Renderer) atoz(w words, b *bind.Book, sets Sets) Draft {
	title, code := w.Say("a-to-z"), w.Say("a-to-z-code")
	return r.draft("a-to-z", pageHead{
		words: w, Edition: b.Edition, Path: bind.IndexPath, ID: "a-to-z", Code: code, Question: title,
		Scripts: []string{findScript}, Later: []string{FindIndex},
	}, sets, func(sets *asked) (any, error) {
		v := atozView{words: w, IndexFile: FindIndex, Strip: strip{
			words: w, CodeLabel: w.Say("strip-code"), Code: code,
			QuestionLabel: w.Say("strip-list"), Question: title, Cells: stripCells(w, b.Edition),
		}}
		v.Contents = w.fill("moving-contents", "page", link(bind.ContentsPath, asHTML(w.Say("contents-link"))))
		v.Letters = w.letters(b, sets)
		return v, nil
	})
}

// letters parts the index by the letters under which its entries stand.
func (w words) letters(b *bind.Book, sets *asked) []indexLetter {
	items := func(yield func(*bind.Item) bool) {
		for _, l := range b.Leaves {
			led := sets.of(l).Items
			for i := range led {
				if !yield(&led[i]) {
					return
				}
			}
		}
	}
	var letters []indexLetter
	last := ""
	for _, h := range b.Index(items, strings.Fields(w.Say("a-to-z-passed-over"))) {
		if letter := w.letter(h.Word); letter != last {
			letters, last = append(letters, indexLetter{ID: "letter-" + strconv.Itoa(len(letters)+1), Letter: letter}), letter
		}
		in := &letters[len(letters)-1]
		in.Heads = append(in.Heads, indexHead{w, h})
	}
	return letters
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

// Places says where else to look, or where the word is explained, and the other
// places; nil where there is nothing to say.
func (h indexHead) Places() pieces {
	var places []pieces
	if h.See != nil {
		places = append(places, inOne(h.fill("a-to-z-see", "words", strings.Join(h.See, ", "))))
	}
	also := commaed(len(h.Also), func(i int) bind.Spot { return *h.Also[i] })
	switch {
	case h.Explained != nil && h.Also != nil:
		places = append(places, h.filling("a-to-z-explained-also", "where", h.spots(h.Explained), "also", also))
	case h.Explained != nil:
		places = append(places, h.filling("a-to-z-explained", "where", h.spots(h.Explained)))
	case h.Also != nil:
		places = append(places, also)
	}
	if len(places) == 2 { // a space stands between them
		places = slices.Insert(places, 1, inOne(" "))
	}
	if places == nil {
		return nil
	}
	return inTurn(places...)
}

// Lines are the questions that have the word.
func (h indexHead) Lines() pieces {
	return func(yield func(template.HTML) bool) {
		for _, q := range h.Questions {
			if !yield(asHTML(q.Text) + " " + link(q.Path, asHTML(q.Code))) {
				return
			}
		}
	}
}
