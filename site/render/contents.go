package render

import (
	"fmt"
	"html/template"
	"path"
	"strings"

	"bindpost/site/bind"
)

// contentsView is what the template of the contents is filled with.
type contentsView struct {
	words
	Strip  strip
	Topics []contentsTopic
	Back   []template.HTML // the lists at the back
}

type contentsTopic struct {
	Name    string
	Entries []contentsEntry
	Also    []template.HTML
}

type contentsEntry struct {
	Path     template.URL
	Code     string
	Question string
	Answer   template.HTML
	Heed     template.HTML // the gravest caution of the page, by its signal word
}

// Contents makes the page to open first: the questions by topic, each with
// its short answer.
func (r *Renderer) Contents(b *bind.Book) (Page, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Page{}, err
	}
	v := contentsView{words: w}
	untitled := b.Edition // the strip has the title as its question
	untitled.Title = ""
	v.Strip = strip{
		words: w, CodeLabel: w.Say("strip-code"), Code: w.Say("contents-code"),
		QuestionLabel: w.Say("strip-manual"), Question: b.Edition.Title,
		Cells: stripCells(w, untitled),
	}
	for _, t := range b.Topics {
		topic, err := r.contentsTopic(w, t)
		if err != nil {
			return Page{}, err
		}
		v.Topics = append(v.Topics, topic)
	}
	v.Back = w.back(b)
	return r.page("contents", v, pageHead{
		words: w, Edition: b.Edition, Path: bind.ContentsPath, ID: "contents",
		Code: w.Say("contents-code"), Question: w.Say("contents"),
	})
}

// topic returns the name of a topic as it heads its part.
func (w words) topic(t bind.Topic) string {
	if t.Name == "" {
		return w.Say("contents-other")
	}
	return capital(t.Name)
}

func (r *Renderer) contentsTopic(w words, t bind.Topic) (contentsTopic, error) {
	topic := contentsTopic{Name: w.topic(t)}
	for _, l := range t.Leaves {
		d := l.Guide.Docket
		answer, err := newSetter(r, w, asSeenFromContents(l)).answer(d.Answer)
		if err != nil {
			return topic, fmt.Errorf("setting the short answer of %s: %w", l.Guide.File, err)
		}
		topic.Entries = append(topic.Entries, contentsEntry{
			Path: template.URL(href(l.Path)), Code: d.Code, Question: d.Question, Answer: answer, Heed: w.contentsHeed(l),
		})
	}
	for _, also := range t.Also {
		topic.Also = append(topic.Also, w.fill("contents-also", "page", link(also.Path, asHTML(also.Code+" "+also.Question))))
	}
	return topic, nil
}

// contentsHeed says that cautions stand on a page: a short answer must not be
// followed without them.
func (w words) contentsHeed(l *bind.Leaf) template.HTML {
	if len(l.Cautions) == 0 {
		return ""
	}
	signal := l.Cautions[0].Signal // they stand gravest first
	return w.fill("contents-heed", "signal", w.sayOr("signal-", signal), "harm", w.sayOr("harm-", signal))
}

// asSeenFromContents returns a leaf whose links hold on the page of the
// contents, which may lie in another folder than the leaf's own.
func asSeenFromContents(l *bind.Leaf) *bind.Leaf {
	seen := *l
	seen.Links = map[string]string{}
	for typed, page := range l.Links {
		if strings.HasPrefix(page, "#") {
			page = path.Base(l.Path) + page
		}
		seen.Links[typed] = path.Join(path.Dir(l.Path), page)
	}
	return &seen
}
