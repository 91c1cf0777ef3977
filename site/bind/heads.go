package bind

import (
	"strconv"

	"github.com/yuin/goldmark/ast"

	"bindpost/site/guide"
)

// Head is one heading of a guide with its paragraph code, which is its id
// too: no two guides share a code, so the id is unique in the manual.
type Head struct {
	Node  *ast.Heading // nil of a guide that is light
	Code  string       // "K3-2"; "K3-2.1" for a heading under it
	Level int          // 2 for a section, 3 for a heading in one, and so on up to 6

	at  int  // where it stands in the guide's text
	top bool // it stands in no list and no quotation
}

// The question is a page's only heading of level 1, and HTML has six levels.
const (
	topLevel    = 2
	lowestLevel = 6
)

// heads numbers the headings of a guide. Levels follow each other without a
// gap whatever the author's marks: the outermost is a section, and one that
// lies deeper than its forerunner lies one level deeper.
func heads(g *guide.Guide) []Head {
	var found []Head
	var open []int   // the author's levels of the headings that enclose this place
	var counts []int // how many headings stand at each depth, below those open
	visit(g.Tree, func(n ast.Node) {
		h, ok := n.(*ast.Heading)
		if !ok {
			return
		}
		for len(open) > 0 && open[len(open)-1] >= h.Level {
			open = open[:len(open)-1]
		}
		open = append(open, h.Level)
		if len(counts) < len(open) {
			counts = append(counts, 0)
		}
		counts = counts[:len(open)]
		counts[len(counts)-1]++
		level := min(topLevel+len(open)-1, lowestLevel)
		found = append(found, Head{
			Node: h, Code: paragraphCode(g.Docket.Code, counts), Level: level,
			at: h.Pos(), top: h.Parent() != nil && h.Parent().Parent() == nil,
		})
	})
	return found
}

// paragraphCode writes "K3-2.1" for the first heading under the second
// section of K3.
func paragraphCode(code string, counts []int) string {
	for i, n := range counts {
		mark := "."
		if i == 0 {
			mark = "-"
		}
		code += mark + strconv.Itoa(n)
	}
	return code
}

// visit calls f for each node of a tree in the order of the text.
func visit(tree ast.Node, f func(ast.Node)) {
	if tree == nil {
		return
	}
	f(tree)
	for n := tree.FirstChild(); n != nil; n = n.NextSibling() {
		visit(n, f)
	}
}
