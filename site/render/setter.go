package render

import (
	"html/template"
	"strings"
	"sync"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// setter sets one page. It is made anew for each, so that pages can be set at
// the same time.
type setter struct {
	words
	templates *foundry
	notes     *ownNotes
	leaf      *bind.Leaf
	heads     map[ast.Node]bind.Head
	cautions  map[string]caution             // by the caution's name
	markdowns *sync.Pool                     // of *markdown
	titles    map[*guide.Table]template.HTML // those that were set
	typed     int                            // pipe tables met so far
	owns      *ownPage
}

func newSetter(r *Renderer, w words, l *bind.Leaf) *setter {
	s := &setter{words: w, templates: r.templates, notes: r.notes, markdowns: r.markdowns, leaf: l, heads: make(map[ast.Node]bind.Head, len(l.Heads)), titles: map[*guide.Table]template.HTML{}, owns: &ownPage{words: w}}
	for _, h := range l.Heads {
		s.heads[h.Node] = h
	}
	return s
}

// guideView is what the templates of a guide are filled with.
type guideView struct {
	words
	Code     string
	Strip    strip
	Answer   template.HTML
	Cautions []caution
	Previous template.HTML
	Next     template.HTML
	Workings template.HTML
	Contents template.HTML
	Own      *ownPage
	Find     template.HTML
}

// guide sets a guide. Its text is written where it stands, for it is long.
func (s *setter) guide(f *forme) error {
	v, err := s.guideView()
	if err != nil {
		return err
	}
	if err := s.templates.execute(f, "guide", &v); err != nil {
		return err
	}
	if err := s.parts(f); err != nil {
		return err
	}
	if len(s.owns.Forms) > 0 {
		if s.owns.Says, err = s.notes.says(s); err != nil {
			return err
		}
	}
	return s.templates.execute(f, "guide-end", &v)
}

func (s *setter) guideView() (guideView, error) {
	d := s.leaf.Guide.Docket
	v := guideView{words: s.words, Code: d.Code, Own: s.owns}
	s.setCautions()
	v.Cautions = s.guardsOf(0)
	v.Strip = strip{
		words: s.words, CodeLabel: s.Say("strip-code"), Code: d.Code,
		QuestionLabel: s.Say("strip-question"), Question: d.Question,
		Cells: stripCells(s.words, s.leaf.Edition),
	}
	var err error
	if v.Answer, err = s.answer(d.Answer); err != nil {
		return v, err
	}
	v.Previous, v.Next = s.moving("moving-previous", s.leaf.Previous), s.moving("moving-next", s.leaf.Next)
	if s.leaf.HasWorkings() {
		v.Workings = s.fill("workings-way", "page", link(bind.Relative(s.leaf.Path, s.leaf.WorkingsPath()), asHTML(s.Say("workings"))))
	}
	v.Contents = s.fill("moving-contents", "page", link(bind.Relative(s.leaf.Path, bind.ContentsPath), asHTML(s.Say("contents-link"))))
	v.Find = s.fill("moving-find", "page", link(bind.Relative(s.leaf.Path, bind.IndexPath), asHTML(s.Say("a-to-z-link"))))
	return v, nil
}

// answer sets the short answer; a guide that has none has an empty one.
func (s *setter) answer(n ast.Node) (template.HTML, error) {
	if n == nil {
		return "", nil
	}
	text, err := setText(func(f *forme) error { return s.markdown(f, n) })
	return template.HTML(text), err
}

// parts sets the guide's text in parts.
func (s *setter) parts(f *forme) error {
	if s.leaf.Guide.Tree == nil {
		return nil
	}
	p := &part{forme: f}
	section := 0
	for n := s.leaf.Guide.Tree.FirstChild(); n != nil; n = n.NextSibling() {
		if s.opensPart(n) {
			p.end()
			p = &part{forme: f, headed: true}
			if s.heads[n].Node != nil {
				section++
				if err := s.guards(f, section); err != nil {
					return err
				}
			}
		}
		if err := s.pieces(p, n); err != nil {
			return err
		}
	}
	p.end()
	return nil
}

// guards sets the cautions that stand before a section, each as a part of the
// page.
func (s *setter) guards(f *forme, section int) error {
	for _, c := range s.guardsOf(section) {
		if err := s.templates.execute(f, "caution", c); err != nil {
			return err
		}
	}
	return nil
}

// pieces sets one node of the tree: a table's grid is one piece, and what
// stands below it is another.
func (s *setter) pieces(p *part, n ast.Node) error {
	t, ok := n.(*guide.TableNode)
	if !ok {
		p.piece()
		return s.markdown(p.forme, n)
	}
	names, view, err := s.gridAndBelow(t.Table)
	for i := 0; i < len(names) && err == nil; i++ {
		p.piece()
		err = s.templates.execute(p.forme, names[i], view)
	}
	return err
}

func joinHTML(pieces []template.HTML) template.HTML {
	var b strings.Builder
	for _, p := range pieces {
		b.WriteString(string(p))
	}
	return template.HTML(b.String())
}

// opensPart reports whether a new part of the page begins at a node.
func (s *setter) opensPart(n ast.Node) bool {
	head, isHead := s.heads[n]
	return isHead && head.Section() || n.Kind() == extast.KindFootnoteList
}

// moving returns the words that lead to another page, and nothing where there
// is no such page.
func (s *setter) moving(key string, t *bind.Turn) template.HTML {
	if t == nil {
		return ""
	}
	return s.fill(key, "page", link(bind.Relative(s.leaf.Path, t.Path), asHTML(t.Code+" "+t.Question)))
}

// link returns a link to a page or to a place on one.
func link(to string, text template.HTML) template.HTML {
	return `<a href="` + template.HTML(href(to)) + `">` + text + `</a>`
}

// href writes the way to a page as an attribute holds it: a space in a name
// is not one in an address.
func href(to string) string {
	if isPlainAddress(to, plainInPath+"#") {
		return to
	}
	return escaped(string(util.URLEscape([]byte(to), false)))
}
