package render

import (
	"html/template"
	"path"
	"slices"
	"strconv"
	"strings"

	"bindpost/site/bind"
)

// contentsView is what the template of the contents is filled with.
type contentsView struct {
	words
	Strip  strip
	Holds  template.HTML // how many questions and tables
	Topics []contentsTopic
	Heeded []template.HTML // what each signal word in the contents says
	Beside []template.HTML // the pages beside the questions
}

type contentsTopic struct {
	ID      string
	Name    string
	Count   template.HTML
	Entries []contentsEntry
	Also    []template.HTML
}

// contentsEntry is a question with its answer.
type contentsEntry struct {
	words
	leaf *bind.Leaf
	sets *asked
}

func (e contentsEntry) Path() template.URL    { return template.URL(href(e.leaf.Path)) }
func (e contentsEntry) Code() string          { return e.leaf.Guide.Docket.Code }
func (e contentsEntry) Question() string      { return e.leaf.Guide.Docket.Question }
func (e contentsEntry) Answer() template.HTML { return e.sets.of(e.leaf).Answer }
func (e contentsEntry) Heed() heed            { return e.contentsHeed(e.leaf) }

// heed is the gravest caution of a page.
type heed struct {
	Signal string        // its signal word; "" where no caution stands there
	Words  template.HTML // what else is heard of it
}

// Contents drafts the page to open first: what the book answers, by topic, and
// then the questions, each with its short answer.
func (r *Renderer) Contents(b *bind.Book, sets Sets) (Draft, error) {
	w, err := r.words(b.Edition.Language)
	if err != nil {
		return Draft{}, err
	}
	return r.draft("contents", pageHead{
		words: w, Edition: b.Edition, Path: bind.ContentsPath, ID: "contents",
		Code: w.Say("contents-code"), Question: w.Say("contents"),
	}, sets, func(sets *asked) (any, error) { return w.contents(b, sets), nil }), nil
}

func (w words) contents(b *bind.Book, sets *asked) contentsView {
	v := contentsView{words: w}
	untitled := b.Edition // the strip has the title as its question
	untitled.Title = ""
	v.Strip = strip{
		words: w, CodeLabel: w.Say("strip-code"), Code: w.Say("contents-code"),
		QuestionLabel: w.Say("strip-manual"), Question: b.Edition.Title,
		Cells: stripCells(w, untitled),
	}
	for i, t := range b.Topics {
		topic := contentsTopicOf(w, t, sets)
		topic.ID = "contents-" + strconv.Itoa(i+1)
		v.Topics = append(v.Topics, topic)
	}
	v.Holds = w.holds(b)
	v.Heeded = w.heeded(b)
	v.Beside = append([]template.HTML{link(bind.ReadingPath, asHTML(w.Say("reading")))}, w.back(b)...)
	return v
}

// topic returns the name of a topic as it heads its part.
func (w words) topic(t bind.Topic) string {
	if t.Name == "" {
		return w.Say("contents-other")
	}
	return capital(t.Name)
}

func contentsTopicOf(w words, t bind.Topic, sets *asked) contentsTopic {
	topic := contentsTopic{Name: w.topic(t), Count: w.count(t.Size(), "cover-count-one", "cover-count")}
	for _, l := range t.Leaves {
		topic.Entries = append(topic.Entries, contentsEntry{w, l, sets})
	}
	for _, also := range t.Also {
		topic.Also = append(topic.Also, w.fill("contents-also", "page", link(also.Path, asHTML(also.Code+" "+also.Question))))
	}
	return topic
}

// contentsHeed says that cautions stand on a page: a short answer must not be
// followed without them.
func (w words) contentsHeed(l *bind.Leaf) heed {
	if len(l.Cautions) == 0 {
		return heed{}
	}
	signal := l.Cautions[0].Signal // they stand gravest first
	return heed{w.sayOr("signal-", signal), w.fill("contents-heed", "harm", w.sayOr("harm-", signal))}
}

// heeded says once what the signal words mean that stand beside the questions.
func (w words) heeded(b *bind.Book) []template.HTML {
	var lines []template.HTML
	last := ""
	for _, h := range b.Cautions { // they stand gravest first
		if h.Signal != last {
			last = h.Signal
			lines = append(lines, w.fill("cautions-line", "label", w.sayOr("signal-", h.Signal), "value", w.sayOr("harm-", h.Signal)))
		}
	}
	return lines
}

// holds says how much the book holds.
func (w words) holds(b *bind.Book) template.HTML {
	tables := 0
	for _, l := range b.Leaves {
		tables += len(l.Guide.Tables)
	}
	held := []template.HTML{w.count(len(b.Leaves), "cover-count-one", "cover-count")}
	if tables > 0 {
		held = append(held, w.count(tables, "cover-tables-one", "cover-tables"))
	}
	return w.joined(held)
}

// count returns the phrase for so many things: that for one, or for more.
func (w words) count(n int, one, more string) template.HTML {
	if n == 1 {
		more = one
	}
	return w.fill(more, "count", strconv.Itoa(n))
}

// asSeenFromContents returns a leaf whose links hold on the page of the
// contents, which may lie in another folder than the leaf's own.
func asSeenFromContents(l *bind.Leaf) *bind.Leaf {
	seen := *l
	seen.Links = slices.Clone(l.Links)
	for i := range seen.Links {
		page := &seen.Links[i].Page
		if strings.HasPrefix(*page, "#") {
			*page = path.Base(l.Path) + *page
		}
		*page = path.Join(path.Dir(l.Path), *page)
	}
	return &seen
}
