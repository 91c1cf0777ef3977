package render

import (
	"bytes"
	"html/template"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"bindpost/site/bind"
	"bindpost/site/guide"
)

// setter sets one page. It is made anew for each, so that pages can be set at
// the same time.
type setter struct {
	words
	templates *template.Template
	leaf      *bind.Leaf
	heads     map[ast.Node]bind.Head
	cautions  map[string]caution // by the caution's name
	markdown  renderer.Renderer
	typed     int // pipe tables met so far
	owns      *ownPage
}

func newSetter(r *Renderer, w words, l *bind.Leaf) *setter {
	s := &setter{words: w, templates: r.templates, leaf: l, heads: map[ast.Node]bind.Head{}, owns: &ownPage{words: w}}
	for _, h := range l.Heads {
		s.heads[h.Node] = h
	}
	s.markdown = newMarkdown(s)
	return s
}

// guideView is what the template of a guide is filled with.
type guideView struct {
	words
	Code     string
	Strip    strip
	Answer   template.HTML
	Cautions []caution
	Parts    []template.HTML
	Previous template.HTML
	Next     template.HTML
	Workings template.HTML
	Contents template.HTML
	Own      *ownPage
	Find     template.HTML
}

func (s *setter) guide() (guideView, error) {
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
	if v.Parts, err = s.parts(); err != nil {
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
	return s.set(n)
}

// set writes one piece of a guide's tree.
func (s *setter) set(n ast.Node) (template.HTML, error) {
	var b bytes.Buffer
	err := s.markdown.Render(&b, s.leaf.Guide.Source, n)
	return template.HTML(b.String()), err
}

// part is a stretch of a guide: its text before the first section, one
// section with its head, or the footnotes.
type part struct {
	headed bool
	pieces []template.HTML
}

// parts sets the guide's text in parts.
func (s *setter) parts() ([]template.HTML, error) {
	if s.leaf.Guide.Tree == nil {
		return nil, nil
	}
	var all []template.HTML
	var p part
	section := 0
	for n := s.leaf.Guide.Tree.FirstChild(); n != nil; n = n.NextSibling() {
		pieces, err := s.pieces(n)
		if err != nil {
			return nil, err
		}
		if s.opensPart(n) {
			if len(p.pieces) > 0 {
				all = append(all, p.html())
			}
			p = part{headed: true}
			if s.heads[n].Node != nil {
				section++
				guards, err := s.guards(section)
				if err != nil {
					return nil, err
				}
				all = append(all, guards...)
			}
		}
		p.pieces = append(p.pieces, pieces...)
	}
	if len(p.pieces) > 0 {
		all = append(all, p.html())
	}
	return all, nil
}

// guards sets the cautions that stand before a section, each as a part of the
// page.
func (s *setter) guards(section int) ([]template.HTML, error) {
	var all []template.HTML
	for _, c := range s.guardsOf(section) {
		var b bytes.Buffer
		if err := s.templates.ExecuteTemplate(&b, "caution", c); err != nil {
			return nil, err
		}
		all = append(all, template.HTML(b.String()))
	}
	return all, nil
}

// pieces sets one node of the tree in pieces between which a printed side may
// end: a table's grid is one, and what stands below it is another.
func (s *setter) pieces(n ast.Node) ([]template.HTML, error) {
	t, ok := n.(*guide.TableNode)
	if !ok {
		piece, err := s.set(n)
		return []template.HTML{piece}, err
	}
	grid, below, err := s.gridAndBelow(t.Table)
	return []template.HTML{grid, below}, err
}

// html puts the pieces together. A head is bound to what follows it, so that
// no printed side ends in a head alone.
func (p part) html() template.HTML {
	const bound = 2
	if !p.headed {
		return `<div class="part">` + "\n" + joinHTML(p.pieces) + "</div>\n"
	}
	opening := min(bound, len(p.pieces))
	return `<section class="part">` + "\n" + `<div class="opening">` + "\n" + joinHTML(p.pieces[:opening]) + "</div>\n" +
		joinHTML(p.pieces[opening:]) + "</section>\n"
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
	return template.HTML(`<a href="`+href(to)+`">`) + text + `</a>`
}

// href writes the way to a page as an attribute holds it: a space in a name
// is not one in an address.
func href(to string) string {
	return template.HTMLEscapeString(string(util.URLEscape([]byte(to), false)))
}

// caution is a caution as its template takes it.
type caution struct {
	ID     string
	Signal string
	Harm   string
	Grave  bool // people may come to harm
	Lines  []labelled
}

// setCautions sets the cautions of the guide, so that a table can name them.
func (s *setter) setCautions() {
	s.cautions = map[string]caution{}
	for _, c := range s.leaf.Guards {
		s.cautions[c.ID] = caution{
			ID: c.Code, Signal: s.sayOr("signal-", c.Signal), Harm: s.sayOr("harm-", c.Signal), Grave: c.Signal == "WARNING", Lines: s.cautionLines(c.Caution),
		}
	}
}

// guardsOf returns the cautions that stand before a section, from 1, or at the
// head of the guide.
func (s *setter) guardsOf(section int) []caution {
	var all []caution
	for _, c := range s.leaf.Guards {
		if c.Part == section {
			all = append(all, s.cautions[c.ID])
		}
	}
	return all
}

func (w words) cautionLines(c *guide.Caution) []labelled {
	var lines []labelled
	for _, l := range []labelled{
		{w.Say("caution-happens"), c.Happens},
		{w.Say("caution-how"), c.How},
		{w.Say("caution-instead"), c.Instead},
		{w.Say("caution-ask"), c.Ask},
	} {
		if l.Value != "" {
			l.Value = sentence(l.Value)
			lines = append(lines, l)
		}
	}
	return lines
}
