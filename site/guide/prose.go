package guide

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"

	"bindpost/calc/fault"
)

// scheme is the scheme word of figures in prose: <figure:block.name>.
const scheme = "figure:"

func number(n int) string { return strconv.Itoa(n) }

// setFigures sets a figure in the place of every <figure:…> below a node.
func (r *reader) setFigures(root ast.Node) {
	var links []*ast.AutoLink
	ast.Walk(root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if l, ok := n.(*ast.AutoLink); ok && entering && strings.HasPrefix(string(l.Label(r.source)), scheme) {
			links = append(links, l)
		}
		return ast.WalkContinue, nil
	})
	for _, l := range links {
		label := string(l.Label(r.source))
		at := r.text.Place(l.Pos()+1+len(scheme), l.Pos()+1+len(label))
		if f := r.figure(at); f != nil {
			l.Parent().ReplaceChild(l.Parent(), l, &FigureNode{Figure: f})
		}
	}
}

// figure returns the figure at an address. An address of a block in which a
// fault stands is passed over: the fault is told already.
func (r *reader) figure(at fault.Place) *Figure {
	address := at.String()
	if f := r.guide.Figures[address]; f != nil {
		return f
	}
	blockName, name, found := strings.Cut(address, ".")
	if !found {
		r.faults.Add(fault.At(at, "%q is no address of a figure", address).Want("a block's name, a dot and a figure's name").
			Fix("<figure:kitchen-run.loss>"))
		return nil
	}
	b := r.blocks[blockName]
	switch {
	case b == nil && r.lost:
	case b == nil:
		f := fault.At(at, "there is no block %q in this guide", blockName).Want("the name of a block")
		if near := fault.Near(blockName, r.blockNames()); near != "" {
			f.Fix("<figure:%s.%s>", near, name)
		}
		r.faults.Add(f)
	case !b.broken:
		r.faults.Add(b.noFigure(name, at))
	}
	return nil
}

func (r *reader) blockNames() []string {
	var names []string
	for _, t := range r.guide.Tables {
		names = append(names, t.Name)
	}
	return names
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
		f.Want("one of: %s", strings.Join(all, ", ")).Fix("<figure:%s.%s>", b.name, near)
	default:
		f.Want("a figure line in the block").Fix("figure: %s = %s", name, b.sheet.Gives[0].Name)
	}
	return f
}
