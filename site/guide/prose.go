package guide

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
)

// scheme is the scheme word of figures in prose: <figure:block.name>.
const scheme = "figure:"

const mentionShape = "<figure:kitchen-run.at-nine>: the block's name, a dot, the figure's name"

// readProse sets a figure in the place of every <figure:…> below a node, and
// finds what a guide may not hold: HTML, and a figure that is not whole.
func (r *reader) readProse(root ast.Node) {
	var mentions, terms []*ast.AutoLink
	opened := map[string]bool{} // HTML elements told at their opening tag
	_ = ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.AutoLink:
			if isMention(string(n.Label(r.source))) {
				mentions = append(mentions, n)
			} else if isTerm(string(n.Label(r.source))) {
				terms = append(terms, n)
			}
		case *ast.RawHTML:
			s := n.Segments.At(0)
			r.html(r.text.Place(s.Start, s.Stop), opened)
		case *ast.HTMLBlock:
			if n.Lines().Len() > 0 {
				s := n.Lines().At(0)
				r.html(r.text.Place(s.Start, s.Stop).Trim(), opened)
			}
		case *ast.CodeSpan:
			return ast.WalkSkipChildren, nil
		case *ast.Text:
			r.brokenMentions(n)
		}
		return ast.WalkContinue, nil
	})
	for _, m := range terms {
		r.setTerm(m)
	}
	for _, m := range mentions {
		label := string(m.Label(r.source))
		at := r.text.Place(m.Pos()+1+len(scheme), m.Pos()+1+len(label))
		f, quoted := r.figure(at)
		if f != nil || quoted {
			node := &FigureNode{Address: at.String(), Figure: f}
			node.SetPos(m.Pos())
			m.Parent().ReplaceChild(m.Parent(), m, node)
		}
	}
}

func isMention(s string) bool {
	return len(s) >= len(scheme) && strings.EqualFold(s[:len(scheme)], scheme)
}

// html tells a piece of HTML. The closing tag of an element that was told is
// not told again.
func (r *reader) html(p fault.Place, opened map[string]bool) {
	s := p.String()
	name := strings.ToLower(strings.TrimLeft(s, "</"))
	if i := strings.IndexAny(name, " \t\n/>"); i >= 0 {
		name = name[:i]
	}
	if strings.HasPrefix(s, "</") && opened[name] {
		return
	}
	opened[name] = true
	if name == strings.TrimSuffix(termScheme, ":") {
		r.faults.Add(fault.At(p.FirstLine(), "this word is not whole").Want(termShape))
		return
	}
	if name == strings.TrimSuffix(scheme, ":") {
		r.faults.Add(fault.At(p.FirstLine(), "this figure is not whole").Want(mentionShape))
		return
	}
	f := fault.At(p.FirstLine(), "HTML stands here, and a guide holds none").Want("Markdown: words, *emphasis*, lists, tables, links")
	if !strings.HasPrefix(s, "<!") && !strings.HasPrefix(s, "<?") {
		f.Fix("where the sign itself is meant, write \\%s", p.FirstLine())
	}
	r.faults.Add(f)
}

// brokenMentions tells the first <figure, or <term:, in a piece of text: one
// that is whole is no text.
func (r *reader) brokenMentions(n *ast.Text) {
	p := r.text.Place(n.Segment.Start, n.Segment.Stop)
	s := p.String()
	for at := range len(s) {
		if s[at] != '<' {
			continue
		}
		what, shape := brokenAt(s[at:])
		escaped := p.Start+at > 0 && r.source[p.Start+at-1] == '\\' // the author means the sign
		if what == "" || escaped {
			continue
		}
		end := len(s)
		if i := strings.IndexByte(s[at:], '>'); i >= 0 {
			end = at + i + 1
		}
		r.faults.Add(fault.At(p.Sub(at, end), "this %s is not whole", what).Want("%s", shape))
		return
	}
}

// brokenAt says what a text begins as and is not, and how it would be whole; ""
// where it begins as neither a figure nor a word of the region.
func brokenAt(s string) (what, shape string) {
	for _, b := range [][3]string{{"<figure", "figure", mentionShape}, {"<" + termScheme, "word", termShape}} {
		if len(s) >= len(b[0]) && strings.EqualFold(s[:len(b[0])], b[0]) {
			return b[1], b[2]
		}
	}
	return "", ""
}

// figure returns the figure at an address: of a block of this guide, or a
// standing one. Any other is a quote, which only the whole book can tell. An
// address of a block in which a fault stands is passed over: the fault is told
// already.
func (r *reader) figure(at fault.Place) (f *Figure, quoted bool) {
	address := at.String()
	if f := r.guide.Figures[address]; f != nil {
		return f, false
	}
	blockName, name, found := strings.Cut(address, ".")
	if !found {
		r.faults.Add(fault.At(at, "%q is no address of a figure", address).Want(mentionShape))
		return nil, false
	}
	if blockName == standingBlock {
		if s := r.standing(name, at); s != nil {
			return s.figure(), false
		}
		return nil, false
	}
	b := r.blocks[blockName]
	if b == nil {
		r.guide.Quotes = append(r.guide.Quotes, Quote{Address: address, Place: at})
		return nil, true
	}
	if !b.broken && !b.doubled {
		r.faults.Add(b.noFigure(name, at))
	}
	return nil, false
}

// noFigure is the fault of a figure that its block does not name.
func (b *block) noFigure(name string, at fault.Place) *fault.Fault {
	var all []string
	for _, f := range b.figures {
		all = append(all, f.name)
	}
	f := fault.At(at, "the block %q names no figure %q", b.name, name)
	switch near := fault.Near(name, all); {
	case near != "":
		return f.Want("one of: %s", strings.Join(all, ", ")).Fix("<figure:%s.%s>", b.name, near)
	case len(all) > 0:
		f.Want("one of: %s; or a figure line in the block", strings.Join(all, ", "))
	default:
		f.Want("a figure line in the block")
	}
	if len(b.results) > 0 {
		f.Fix("figure: %s = %s", name, b.results[0].Name)
	}
	return f
}
