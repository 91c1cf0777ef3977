package render

import (
	"html/template"
	"path"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"bindpost/site/guide"
)

// markdown is goldmark's own renderer with ours before it: we set what carries a
// code, leads to another page or comes from a block, and goldmark sets the rest.
// It takes longer to make than to use, so that it goes from setter to setter of a
// language.
type markdown struct {
	renderer.Renderer
	language string
	setter   *setter // whose node is being set
}

func newMarkdown(w words, language string) *markdown {
	const ours, extensions, plain = 100, 500, 1000 // the lowest wins
	m := &markdown{language: language}
	footnotes := extension.NewFootnoteHTMLRenderer(
		extension.WithFootnoteIDPrefixFunction(func(ast.Node) []byte { return []byte(m.setter.leaf.Guide.Docket.Code + "-") }),
		extension.WithFootnoteBacklinkHTML(escaped(w.Say("footnote-back"))),
	)
	m.Renderer = renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(m, ours),
		util.Prioritized(footnotes, extensions),
		util.Prioritized(extension.NewDefinitionListHTMLRenderer(), extensions),
		util.Prioritized(html.NewRenderer(), plain),
	))
	return m
}

// markdown writes what stands at and below a node of a guide's tree.
func (s *setter) markdown(f *forme, n ast.Node) error {
	m, ok := s.markdowns.Get().(*markdown)
	if !ok || m.language != s.leaf.Edition.Language {
		m = newMarkdown(s.words, s.leaf.Edition.Language)
	}
	m.setter = s
	err := m.Render(f, s.leaf.Guide.Source, n)
	m.setter = nil
	s.markdowns.Put(m)
	return err
}

// RegisterFuncs implements renderer.NodeRenderer.
func (m *markdown) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	for kind, set := range map[ast.NodeKind]func(*setter, util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error){
		ast.KindHeading:         (*setter).heading,
		ast.KindLink:            (*setter).link,
		ast.KindAutoLink:        (*setter).address,
		ast.KindImage:           (*setter).image,
		ast.KindRawHTML:         (*setter).nothing,
		ast.KindHTMLBlock:       (*setter).nothing,
		extast.KindFootnoteList: (*setter).footnotes,
		extast.KindTable:        (*setter).typedTable,
		extast.KindTableHeader:  (*setter).typedHeader,
		extast.KindTableRow:     (*setter).typedRow,
		extast.KindTableCell:    (*setter).typedCell,
		guide.KindTable:         (*setter).tableNode,
		guide.KindFigure:        (*setter).figureNode,
		guide.KindTerm:          (*setter).termNode,
	} {
		reg.Register(kind, func(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
			return set(m.setter, w, source, n, entering)
		})
	}
}

// nothing passes raw HTML over: the guide stage has told its author.
func (s *setter) nothing(util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error) {
	return ast.WalkSkipChildren, nil
}

func (s *setter) heading(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	h := s.heads[n]
	level := strconv.Itoa(h.Level)
	if !entering {
		_, err := w.WriteString("</h" + level + ">\n")
		return ast.WalkContinue, err
	}
	hang := ""
	if s.opensPart(n) && n.Parent() == s.leaf.Guide.Tree {
		hang = ` class="hang"`
	}
	_, err := w.WriteString("<h" + level + hang + ` id="` + h.Code + `"><span class="paragraph">` + h.Code + "</span> ")
	return ast.WalkContinue, err
}

// link sets a link to a guide. An address outside the manual is told in
// words: the manual leads nowhere that it does not hold.
func (s *setter) link(w util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.Link)
	to, inside := s.leaf.Link(string(n.Destination))
	var err error
	switch {
	case inside && entering:
		_, err = w.WriteString(`<a href="` + href(to.Page) + `">`)
	case inside:
		_, err = w.WriteString("</a>" + s.onPaper(n, to.Named, source))
	case !entering:
		_, err = w.WriteString(" " + string(s.fill("link-outside", "address", string(n.Destination))))
	}
	return ast.WalkContinue, err
}

// onPaper returns what stands behind a link on paper, where nothing can be
// followed: the code of what it leads to, unless its words have it.
func (s *setter) onPaper(n *ast.Link, code string, source []byte) string {
	if code == "" || strings.Contains(s.plainText(n, source), code) {
		return ""
	}
	return `<span class="on-paper" data-to="` + code + `"> ` + string(s.fill("link-on-paper", "code", code)) + `</span>`
}

// address sets an address that an author wrote out.
func (s *setter) address(w util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = w.Write(util.EscapeHTML(n.(*ast.AutoLink).Label(source)))
	}
	return ast.WalkContinue, nil
}

// image sets a drawing of the copy; of any other, the words that stand for it.
func (s *setter) image(w util.BufWriter, source []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*ast.Image)
	alt := escaped(s.plainText(n, source))
	file, known := s.leaf.Pictures[string(n.Destination)]
	if !known {
		_, err := w.WriteString(alt)
		return ast.WalkSkipChildren, err
	}
	class := "drawing"
	if path.Ext(file) != ".svg" {
		class = "photo"
	}
	_, err := w.WriteString(`<img class="` + class + `" src="` + string(util.EscapeHTML(util.URLEscape([]byte(file), false))) + `" alt="` + alt + `">`)
	return ast.WalkSkipChildren, err
}

// plainText returns the words inside a node.
func (s *setter) plainText(n ast.Node, source []byte) string {
	text := ""
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *ast.Text:
			text += string(c.Segment.Value(source))
			if c.SoftLineBreak() || c.HardLineBreak() {
				text += " "
			}
		case *ast.String:
			text += string(c.Value)
		case *guide.FigureNode:
			text += s.figureText(s.figureOf(c))
		default:
			text += s.plainText(c, source)
		}
	}
	return text
}

// footnotes sets the notes as the last part of a guide.
func (s *setter) footnotes(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, err := w.WriteString("</ol>\n")
		return ast.WalkContinue, err
	}
	_, err := w.WriteString(`<h2 class="hang">` + escaped(s.Say("footnotes")) + `</h2>` + "\n" + `<ol class="footnotes">` + "\n")
	return ast.WalkContinue, err
}

// figureNode sets a figure in a sentence. Its value is its address, by which
// it can be traced.
func (s *setter) figureNode(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	_, err := w.WriteString(string(s.figureHTML(s.figureOf(node.(*guide.FigureNode)))))
	return ast.WalkContinue, err
}

// figureHTML sets a figure in a sentence.
func (s *setter) figureHTML(f *guide.Figure) template.HTML {
	text := s.quantity(f.Number, f.Unit)
	if f.Number == "" {
		text = s.fill("figure-none", "word", s.stateWord(f.State), "why", f.Why)
	}
	return template.HTML(`<data value="`+escaped(f.Address)+`">`) + text + `</data>`
}

// figureOf returns the figure of a node: the guide's own, or the one of
// another guide that the book has found for it.
func (s *setter) figureOf(n *guide.FigureNode) *guide.Figure {
	if n.Figure != nil {
		return n.Figure
	}
	return s.leaf.Quoted[n.Address]
}

// figureText is a figure as plain text.
func (s *setter) figureText(f *guide.Figure) string {
	switch {
	case f.Number == "":
		return s.stateWord(f.State)
	case f.Unit.Symbol() == "":
		return f.Number
	}
	return f.Number + noBreak + f.Unit.Symbol()
}
