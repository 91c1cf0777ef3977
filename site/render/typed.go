package render

import (
	"strconv"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"
)

// A typed table is a pipe table of an author's own, without a block. It has
// heads, and its first column heads its rows; alignment goes by class.

func (s *setter) typedTable(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, err := w.WriteString("</tbody>\n</table>\n</div>\n")
		return ast.WalkContinue, err
	}
	s.typed++
	label := s.fill("typed-table-scrolls", "number", strconv.Itoa(s.typed))
	_, err := w.WriteString(`<div class="grid typed" role="region" tabindex="0" aria-label="` + string(label) + `">` + "\n<table>\n")
	return ast.WalkContinue, err
}

func (s *setter) typedHeader(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	text := "</tr>\n</thead>\n<tbody>\n"
	if entering {
		text = "<thead>\n<tr>"
	}
	_, err := w.WriteString(text)
	return ast.WalkContinue, err
}

func (s *setter) typedRow(w util.BufWriter, _ []byte, _ ast.Node, entering bool) (ast.WalkStatus, error) {
	text := "</tr>\n"
	if entering {
		text = "<tr>"
	}
	_, err := w.WriteString(text)
	return ast.WalkContinue, err
}

// typedCell sets a cell. A cell without words heads nothing, whatever its
// place.
func (s *setter) typedCell(w util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*extast.TableCell)
	tag, scope := "td", ""
	switch {
	case !n.HasChildren():
	case n.Parent().Kind() == extast.KindTableHeader:
		tag, scope = "th", ` scope="col"`
	case n.PreviousSibling() == nil:
		tag, scope = "th", ` scope="row"`
	}
	if !entering {
		_, err := w.WriteString("</" + tag + ">")
		return ast.WalkContinue, err
	}
	_, err := w.WriteString("<" + tag + scope + typedClass(n.Alignment) + ">")
	return ast.WalkContinue, err
}

func typedClass(a extast.Alignment) string {
	switch a {
	case extast.AlignRight:
		return ` class="number"`
	case extast.AlignCenter:
		return ` class="middle"`
	}
	return ""
}
